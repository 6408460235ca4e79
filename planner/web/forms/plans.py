"""What is asked when a property is planned."""

from typing import Any

from django import forms
from django.db.models import QuerySet

from planner.models import Machine, Mix, MixPart
from planner.selectors.plans import TankNow
from planner.web.forms.days import day_field
from properties.core.errors import Refused
from properties.core.units import Dimension, Quantity, parse_quantity
from properties.web.forms.quantities import (
    SPEEDS,
    PositiveQuantityField,
    QuantityField,
    TemperatureField,
)

COMPASS = [
    "N", "NNE", "NE", "ENE", "E", "ESE", "SE", "SSE",
    "S", "SSW", "SW", "WSW", "W", "WNW", "NW", "NNW",
]  # fmt: skip
FULL_CIRCLE = 360
HAND_KINDS = ("hand_gun", "backpack_sprayer")
NUTRIENT_RATES = ("lb/1000 sq ft", "g/m2", "kg/ha")
#: What each box about this year's nutrients is called in a request.
HAD = {"had_n": "N", "had_p2o5": "P2O5", "had_k2o": "K2O"}
FEEDING = (*HAD, "first_pass")
SPOTS = ("spots_area", "spots_drawn")
AMOUNTS = ("fl oz", "mL", "oz wt", "g", "lb", "kg")


class PlanForm(forms.Form):
    """One or two tools, a mix, the wind as it is now, and what is in the tank already."""

    machine = forms.ModelChoiceField(Machine.objects.none(), empty_label=None)
    hand_tool = forms.ModelChoiceField(
        Machine.objects.none(),
        required=False,
        empty_label="none: leave strips and edges to the machine",
        help_text="For narrow strips, and nearer to beds than the machine may go.",
    )
    mix = forms.ModelChoiceField(Mix.objects.none(), empty_label=None)
    on = day_field("Day of the work", required=False, help_text="Empty: today.")
    wind_speed = QuantityField(units=SPEEDS, label="Wind now", required=False)
    wind_from = forms.CharField(
        label="Wind comes from",
        required=False,
        max_length=20,
        widget=forms.TextInput({"list": "compass", "autocomplete": "off", "size": 8}),
        help_text="A point such as NW, or degrees such as 315.",
    )
    temperature = TemperatureField(label="Temperature now", required=False)
    temperature_high = TemperatureField(
        label="Hottest before you are done", required=False, help_text="From the forecast."
    )
    rain_in = QuantityField(units=("h", "min", "day"), label="Rain expected in", required=False)
    passes = forms.BooleanField(
        label="Work out the passes, however long it takes",
        required=False,
        help_text="On ground with many corners that is a second or more.",
    )
    spots_area = PositiveQuantityField(
        units=("sq ft", "m2"),
        label="All spots together",
        required=False,
        help_text="About how much is treated: spray and product are for that alone.",
    )
    spots_drawn = forms.BooleanField(label="The turf that is drawn is the spots", required=False)
    tank_tool = forms.ChoiceField(
        label="Mixed for",
        choices=[("machine", "the machine"), ("hand_tool", "the hand tool")],
        required=False,
    )
    tank_spray = QuantityField(
        units=("gal", "L"), label="Finished spray in the tank now", required=False
    )

    had_n = QuantityField(
        units=NUTRIENT_RATES,
        label="Nitrogen (N) so far this year",
        required=False,
        help_text="The most that any part of this ground has had; 0 if none.",
    )
    had_p2o5 = QuantityField(
        units=NUTRIENT_RATES, label="Phosphate (P2O5) so far this year", required=False
    )
    had_k2o = QuantityField(
        units=NUTRIENT_RATES, label="Potash (K2O) so far this year", required=False
    )
    first_pass = PositiveQuantityField(
        units=("lb", "kg"),
        label="A spreader’s first pass used",
        required=False,
        help_text="Weighed after the first of two passes.",
    )

    def __init__(
        self, *args: Any, machines: QuerySet[Machine], mixes: QuerySet[Mix], **kwargs: Any
    ) -> None:
        super().__init__(*args, **kwargs)
        self.fields["machine"].queryset = machines  # type: ignore[attr-defined]
        self.fields["hand_tool"].queryset = machines.filter(kind__in=HAND_KINDS)  # type: ignore[attr-defined]
        self.fields["mix"].queryset = mixes  # type: ignore[attr-defined]
        self.mixed = self._parts(mixes)
        for part in self.mixed:
            self.fields[f"tank_product_{part.product_id}"] = QuantityField(
                units=AMOUNTS, label=f"{part.product} in the tank now", required=False
            )

    def _parts(self, mixes: QuerySet[Mix]) -> list[MixPart]:
        """List the products of the mix that is asked about, none before one is."""
        asked = str(self.data.get("mix", ""))
        mix = mixes.filter(pk=asked).first() if asked.isdecimal() and len(asked) < 19 else None
        return list(mix.parts.all()) if mix else []

    def main_fields(self) -> list[forms.BoundField]:
        """List what every plan is asked with."""
        apart = ("tank_", "temperature", "rain_", "spots_")
        return [
            field
            for field in self
            if not field.name.startswith(apart) and field.name not in FEEDING
        ]

    def air_fields(self) -> list[forms.BoundField]:
        """List what is asked about heat and rain, which some labels limit."""
        return [self[name] for name in ("temperature", "temperature_high", "rain_in")]

    def air_is_told(self) -> bool:
        """Say whether any of it is filled in, or wrong."""
        return any(self.data.get(f"{field.name}_0") for field in self.air_fields())

    def spots_fields(self) -> list[forms.BoundField]:
        """List what is asked where spots are treated and not all of the turf."""
        return [self[name] for name in SPOTS]

    def spots_are_told(self) -> bool:
        """Say whether any of that is filled in, or wrong."""
        return any(self.data.get(name) for name in ("spots_area_0", "spots_drawn"))

    def feeding_fields(self) -> list[forms.BoundField]:
        """List what is asked where fertilizer is put down."""
        return [self[name] for name in FEEDING]

    def feeding_is_used(self) -> bool:
        """Say whether any of that is filled in, or wrong."""
        return any(self.data.get(f"{name}_0") or name in self.errors for name in FEEDING)

    def tank_fields(self) -> list[forms.BoundField]:
        """List what is asked about a tank that is mixed already."""
        return [field for field in self if field.name.startswith("tank_")]

    def clean_wind_from(self) -> str:
        """Read a point of the compass or a bearing in degrees."""
        typed = str(self.cleaned_data["wind_from"]).strip().upper()
        if not typed or typed in COMPASS:
            return typed
        try:
            bearing = parse_quantity(f"{typed.removesuffix('°').removesuffix('DEG')} deg")
        except Refused:
            bearing = Quantity(-1.0, "deg")
        if not 0 <= bearing.value <= FULL_CIRCLE:
            raise forms.ValidationError(
                f"{typed} is no direction. Write a point such as NW, or 0 to 360 degrees."
            )
        # Weather reports call a wind from due north 360 degrees.
        north = bearing.value == FULL_CIRCLE
        return "N" if north else bearing.to_the_last_digit

    def clean(self) -> dict[str, Any]:
        """Join what is in the tank, and say beside each amount what is missing or wrong."""
        typed: dict[str, Any] = super().clean() or {}
        typed["tank_now"] = self._tank_now(typed)
        if typed.get("spots_area") and typed.get("spots_drawn"):
            self.add_error("spots_area", "Told twice: leave this empty where the spots are drawn.")
        if typed.get("spots_area") and typed.get("hand_tool"):
            self.add_error("spots_area", "Spots are sprayed with one tool: choose no hand tool.")
        return typed

    def _tank_now(self, typed: dict[str, Any]) -> TankNow | None:
        spray = typed.get("tank_spray")
        products: dict[str, Quantity] = {}
        for part in self.mixed:
            name = f"tank_product_{part.product_id}"
            amount = typed.get(name)
            if problem := _wrong_amount(part, amount, spray):
                self.add_error(name, problem)
            elif amount is not None:
                products[part.product.name] = amount
        if spray is None:
            return None
        return TankNow(typed.get("tank_tool") or "machine", spray, products)

    def question(self) -> dict[str, Any]:
        """Hand what was asked to the selector."""
        asked = (
            "machine",
            "hand_tool",
            "mix",
            "on",
            "wind_speed",
            "wind_from",
            "passes",
            "tank_now",
            "temperature",
            "temperature_high",
            "rain_in",
            *SPOTS,
        )
        had = {nutrient: self.cleaned_data.get(name) for name, nutrient in HAD.items()}
        return {name: self.cleaned_data.get(name) for name in asked} | {
            "so_far": {nutrient: rate for nutrient, rate in had.items() if rate is not None},
            "first_pass_used": self.cleaned_data.get("first_pass"),
        }


def _wrong_amount(part: MixPart, amount: Quantity | None, spray: Quantity | None) -> str:
    if amount is None:
        return f"Enter how much {part.product} is in it; 0 if none." if spray is not None else ""
    if spray is None:
        return "Enter how much finished spray is in the tank too."
    weighed = part.rate.dimension in {Dimension.MASS_PER_AREA, Dimension.MASS_PER_VOLUME}
    wanted = Dimension.MASS if weighed else Dimension.VOLUME
    if amount.dimension is not wanted:
        return f"{part.product} is measured as a {wanted}, not as a {amount.dimension}."
    return ""
