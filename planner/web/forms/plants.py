"""What is asked about plants that are treated one by one."""

from typing import Any

from django import forms
from django.db.models import QuerySet

from planner.models import Machine, Mix
from properties.models import Property
from properties.web.forms.quantities import SPEEDS, PositiveQuantityField, QuantityField


class PlantsForm(forms.Form):
    """Machine and mix, how many plants there are, and the spray that each gets."""

    machine = forms.ModelChoiceField(Machine.objects.none(), empty_label=None)
    mix = forms.ModelChoiceField(
        Mix.objects.none(),
        empty_label=None,
        help_text="One with an amount for each plant.",
    )
    count = forms.IntegerField(label="Number of plants", required=False, min_value=1)
    place = forms.ModelChoiceField(
        Property.objects.none(),
        label="Or count them at",
        required=False,
        empty_label="no property",
        help_text="Trees and shrubs that are drawn there as points.",
    )
    spray_each = PositiveQuantityField(
        units=("gal", "qt", "pt", "fl oz", "L", "mL"),
        label="Finished spray for each plant",
        help_text="What you give one plant, measured with water.",
    )
    wind_speed = QuantityField(units=SPEEDS, label="Wind now", required=False)

    def __init__(
        self,
        *args: Any,
        machines: QuerySet[Machine],
        mixes: QuerySet[Mix],
        places: QuerySet[Property],
        **kwargs: Any,
    ) -> None:
        super().__init__(*args, **kwargs)
        self.fields["machine"].queryset = machines  # type: ignore[attr-defined]
        self.fields["mix"].queryset = mixes  # type: ignore[attr-defined]
        self.fields["place"].queryset = places  # type: ignore[attr-defined]

    def clean(self) -> dict[str, Any]:
        """Say beside the number that nobody told how many plants there are."""
        typed: dict[str, Any] = super().clean() or {}
        told = typed.get("count") is not None or typed.get("place") is not None
        if not told and "count" not in self.errors:
            self.add_error(
                "count", "Count the plants, or choose a property where they are drawn as points."
            )
        return typed
