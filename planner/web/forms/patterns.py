"""What is typed about a spread pattern, and about another pressure, speed or tip."""

import re
from typing import Any, TypedDict

from django import forms
from django.db.models import QuerySet

from planner.models import Mix
from properties.core.units import Quantity
from properties.web.forms.quantities import SPEEDS, PositiveQuantityField

PRESSURES = ("psi", "bar", "kPa")
FLOWS = ("gal/min", "L/min", "fl oz/min")
#: What is caught can be weighed, poured or measured as a depth in vials.
CATCH_UNITS = ("g", "oz wt", "mL", "in", "cm")


class PatternForm(forms.Form):
    """A row of pans across the way."""

    pan_spacing = PositiveQuantityField(
        units=("ft", "m", "in", "cm"),
        label="Pans are apart",
        help_text="From middle to middle, all the same.",
    )
    unit = forms.ChoiceField(label="Read in", choices=[(unit, unit) for unit in CATCH_UNITS])
    catches = forms.CharField(
        label="Caught in each pan, from the left",
        widget=forms.Textarea({"rows": 4, "autocomplete": "off"}),
        help_text="An odd number of pans, the middle one on your path; 0 where nothing fell in. "
        "Spaces between the numbers.",
    )
    ceiling_percent = forms.TypedChoiceField(
        label="Even enough is a variation of",
        choices=[(15, "15 % (feed with nitrogen)"), (25, "25 % (low analysis)"), (10, "10 %")],
        coerce=int,
    )
    note = forms.CharField(
        label="Note", required=False, max_length=300, help_text="Product, setting, wind."
    )

    def clean_catches(self) -> list[float]:
        """Read the numbers, and say which is none."""
        numbers = []
        for place, text in enumerate(re.split(r"[\s;]+", self.cleaned_data["catches"].strip()), 1):
            try:
                numbers.append(float(text))
            except ValueError as wrong:
                problem = f"“{text[:20]}” (pan {place}) is not a number. Write 1.5, and no unit."
                raise forms.ValidationError(problem) from wrong
        return numbers


class Pairs(TypedDict):
    """What is now and what would be, by name; only the pairs that were filled in."""

    pairs: dict[str, tuple[Quantity, Quantity]]
    gravity: float | None


class WhatIfForm(forms.Form):
    """Another pressure, speed or tip, and the mix it is thought of for."""

    pressure_now = PositiveQuantityField(units=PRESSURES, label="Pressure now", required=False)
    pressure_then = PositiveQuantityField(
        units=PRESSURES,
        label="Pressure then",
        required=False,
        help_text="25 % more or less at most.",
    )
    speed_now = PositiveQuantityField(units=SPEEDS, label="Speed now", required=False)
    speed_then = PositiveQuantityField(units=SPEEDS, label="Speed then", required=False)
    tip_flow_now = PositiveQuantityField(
        units=FLOWS, label="Tip now", required=False, help_text="Its flow at your pressure."
    )
    tip_flow_then = PositiveQuantityField(units=FLOWS, label="Tip then", required=False)
    specific_gravity = forms.FloatField(
        label="The mix is so many times as heavy as water",
        required=False,
        min_value=0.5,
        max_value=3,
        help_text="For liquid feed, such as 1.28.",
        widget=forms.TextInput({"inputmode": "decimal", "autocomplete": "off"}),
    )
    mix = forms.ModelChoiceField(Mix.objects.none(), required=False, empty_label="none")

    def __init__(self, *args: Any, mixes: QuerySet[Mix], **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["mix"].queryset = mixes  # type: ignore[attr-defined]

    def clean(self) -> dict[str, Any]:
        """Ask for the other box of a pair."""
        typed = super().clean() or {}
        for name in ("pressure", "speed", "tip_flow"):
            now, then = typed.get(f"{name}_now"), typed.get(f"{name}_then")
            if (now is None) is not (then is None):
                empty = f"{name}_now" if now is None else f"{name}_then"
                if empty not in self.errors:
                    self.add_error(empty, "Fill in this box too, or empty the other one.")
        return typed

    def thought(self) -> Pairs:
        """List the pairs that were filled in."""
        typed = self.cleaned_data
        names = ("pressure", "speed", "tip_flow")
        pairs = {
            name: (typed[f"{name}_now"], typed[f"{name}_then"])
            for name in names
            if typed[f"{name}_now"] is not None
        }
        return {"pairs": pairs, "gravity": typed["specific_gravity"]}
