"""A day that is typed, chosen from a calendar where the browser has one."""

from datetime import date

from django import forms
from django.core.validators import MaxValueValidator, MinValueValidator

FIRST_DAY, LAST_DAY = date(1950, 1, 1), date(2199, 12, 31)


def day_field(label: str, *, required: bool = True, help_text: str = "") -> forms.DateField:
    """Ask for a day on which somebody could work."""
    return forms.DateField(
        label=label,
        required=required,
        help_text=help_text,
        widget=forms.DateInput({"type": "date"}, format="%Y-%m-%d"),
        validators=[
            MinValueValidator(FIRST_DAY, "This year cannot be right."),
            MaxValueValidator(LAST_DAY, "This year cannot be right."),
        ],
        error_messages={"invalid": "There is no such day. Write it as year, month and day."},
    )
