"""What is asked when a property is planned."""

from typing import Any

from django import forms

from planner.models import Machine, Mix
from properties.web.forms.quantities import QuantityField

COMPASS = [
    "N", "NNE", "NE", "ENE", "E", "ESE", "SE", "SSE",
    "S", "SSW", "SW", "WSW", "W", "WNW", "NW", "NNW",
]  # fmt: skip


class PlanForm(forms.Form):
    """A machine, a mix, and the wind as it is now."""

    machine = forms.ModelChoiceField(Machine.objects.none(), empty_label=None)
    mix = forms.ModelChoiceField(Mix.objects.none(), empty_label=None)
    wind_speed = QuantityField(units=("mph", "km/h", "m/s"), label="Wind now", required=False)
    wind_from = forms.ChoiceField(
        label="Wind comes from",
        choices=[("", "not read yet"), *((point, point) for point in COMPASS)],
        required=False,
    )

    def __init__(self, *args: Any, machines: Any, mixes: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["machine"].queryset = machines  # type: ignore[attr-defined]
        self.fields["mix"].queryset = mixes  # type: ignore[attr-defined]
