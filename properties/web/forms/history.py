"""Which two drawings of a property are compared."""

import re
from datetime import date, datetime, time
from typing import Any
from zoneinfo import ZoneInfo

from django import forms
from django.core.exceptions import ValidationError

from properties.models import Property
from properties.selectors.history import number_held_at

YEARS = range(1990, 2200)


class DrawingField(forms.CharField):
    """A drawing by its number, or the one that held at the end of a day at the property."""

    def __init__(self, *, place: Property, otherwise: int, label: str) -> None:
        super().__init__(label=label, required=False)
        self.place = place
        self.otherwise = otherwise

    def clean(self, value: Any) -> int:
        """Turn what was asked for into the number of a drawing."""
        typed = super().clean(value)
        if not typed:
            return self.otherwise
        if re.fullmatch(r"[0-9]{1,9}", typed):
            return self._numbered(int(typed))
        return number_held_at(self.place, end_of_day(_day(typed), self.place.time_zone))

    def _numbered(self, number: int) -> int:
        newest = self.place.drawing_number
        if number > newest:
            raise ValidationError(f"There is no drawing {number}: the newest is {newest}.")
        return number


class HistoryForm(forms.Form):
    """Two drawings, the earlier one first; without a wish the newest and the one before."""

    def __init__(self, typed: Any, *, place: Property) -> None:
        super().__init__(typed)
        newest = place.drawing_number
        self.usual = (max(newest - 1, 0), newest)
        for name, label, otherwise in zip(("from", "to"), ("From", "To"), self.usual, strict=True):
            self.fields[name] = DrawingField(place=place, otherwise=otherwise, label=label)

    def numbers(self) -> tuple[int, int]:
        """Give the two drawings as they were drawn, or the usual two if they cannot be read."""
        if not self.is_valid():
            return self.usual
        earlier, later = sorted((self.cleaned_data["from"], self.cleaned_data["to"]))
        return earlier, later

    def days(self) -> dict[str, str]:
        """Give back the days that were asked for, to show them again."""
        typed = {name: self.data.get(name, "") for name in ("from", "to")}
        return {name: text for name, text in typed.items() if "-" in text}


def end_of_day(day: date, zone: str) -> datetime:
    """Find the last moment of a day at a place, the later one where clocks are set back."""
    return datetime.combine(day, time.max, tzinfo=ZoneInfo(zone)).replace(fold=1)


def _day(typed: str) -> date:
    try:
        day = date.fromisoformat(typed)
    except ValueError:
        day = None
    if day is None or day.year not in YEARS:
        raise ValidationError(
            f"“{typed[:20]}” is neither the number of a drawing nor a day like 2026-04-01."
        )
    return day
