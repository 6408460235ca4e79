"""What is asked when a day's route is planned."""

from typing import Any

from django import forms
from django.db.models import QuerySet

from planner.models import Machine, Mix, MixPart
from planner.selectors.routes import GaugeReading, Lawn
from planner.web.forms.plans import AMOUNTS, COMPASS, HAND_KINDS
from properties.core.units import Dimension, Quantity
from properties.models import Property
from properties.web.forms.quantities import SPEEDS, QuantityField

_SAME_VOLUME = 1 + 1e-9

RELOAD_CHOICES = [
    ("yard", "The yard"),
    ("nurse_tank", "Nurse tank"),
    ("safe_tap", "Customer’s tap, permitted, with air gap or backflow device"),
    ("bare_tap", "Customer’s tap without air gap and backflow device"),
]
SPRAYERS = ("boom_sprayer", "hand_gun", "backpack_sprayer")
FEWEST_ROWS, SPARE_ROWS, MOST_ROWS = 6, 2, 60
MOST_TANKS = 4
#: The form whose parts stand in several places of the page.
FORM_ID = "day-form"


class DayForm(forms.Form):
    """Machine, mix, the lawns and reload points in their order, and what the gauge showed."""

    machine = forms.ModelChoiceField(Machine.objects.none(), empty_label=None)
    hand_tool = forms.ModelChoiceField(
        Machine.objects.none(),
        required=False,
        empty_label="none: strips are in the machine’s amounts",
        help_text="For narrow strips, and nearer to beds than the machine may go.",
    )
    mix = forms.ModelChoiceField(Mix.objects.none(), empty_label=None)
    tank = forms.ChoiceField(
        choices=[(str(number), f"tank {number}") for number in range(1, MOST_TANKS + 1)],
        required=False,
    )
    weight_limit = QuantityField(
        units=("lb", "kg"),
        label="What its spray may weigh",
        required=False,
        help_text="Where axle or trailer allow less than the tank holds.",
    )
    next_lawn = forms.ModelChoiceField(
        Property.objects.none(),
        label="First lawn of the next day",
        required=False,
        empty_label="none",
        help_text="It could take what is left over.",
    )
    wind_speed = QuantityField(units=SPEEDS, label="Wind", required=False)
    wind_from = forms.ChoiceField(
        label="Wind comes from",
        choices=[("", "not given"), *((point, point) for point in COMPASS)],
        required=False,
    )
    rows = forms.IntegerField(required=False, widget=forms.HiddenInput)

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
        self.fields["hand_tool"].queryset = machines.filter(kind__in=HAND_KINDS)  # type: ignore[attr-defined]
        self.fields["mix"].queryset = mixes  # type: ignore[attr-defined]
        self.fields["next_lawn"].queryset = places  # type: ignore[attr-defined]
        self.places = {str(place.pk): place for place in places}
        self.row_count = self._rows()
        legs = [
            ("", "–"),
            ("Lawns", [(key, place.name) for key, place in self.places.items()]),
            ("Fill the tank", RELOAD_CHOICES),
        ]
        for row in range(1, self.row_count + 1):
            self.fields[f"leg_{row}"] = forms.ChoiceField(
                choices=legs, required=False, label=f"{row}."
            )
            self._gauge(f"gauge_{row}", f"Gauge after {row}.")
        self.fields["after_load"] = forms.IntegerField(
            required=False, min_value=1, max_value=MOST_ROWS, label="After load", initial=1
        )
        self.fields["after_load"].widget.attrs |= {
            "form": FORM_ID,
            "inputmode": "numeric",
            "placeholder": "1",
        }
        self._gauge("in_tank", "Gauge reading")
        self._gauge("started_with", "The load began with")
        self.mixed = self._parts(mixes)
        for part in self.mixed:
            field = QuantityField(units=AMOUNTS, label=f"{part.product} in it then", required=False)
            field.widget.attrs["form"] = FORM_ID
            self.fields[f"put_in_{part.product_id}"] = field

    def _gauge(self, name: str, label: str) -> None:
        field = QuantityField(units=("gal", "L"), label=label, required=False)
        field.widget.attrs["form"] = FORM_ID
        self.fields[name] = field

    def _rows(self) -> int:
        """Count the rows: those that were asked for, and some after the last that is used."""
        asked = str(self.data.get("rows", ""))
        count = int(asked) if asked.isdecimal() and len(asked) < 4 else FEWEST_ROWS
        used = [row for row in range(1, MOST_ROWS + 1) if self.data.get(f"leg_{row}")]
        last = max(used, default=0)
        return min(MOST_ROWS, max(FEWEST_ROWS, count, last + SPARE_ROWS))

    def _parts(self, mixes: QuerySet[Mix]) -> list[MixPart]:
        """List the products of the mix that is asked about, none before one is."""
        asked = str(self.data.get("mix", ""))
        mix = mixes.filter(pk=asked).first() if asked.isdecimal() and len(asked) < 19 else None
        return list(mix.parts.all()) if mix else []

    def main_fields(self) -> list[forms.BoundField]:
        """List what every day is asked with."""
        return [self["machine"], self["hand_tool"], self["mix"]]

    def rare_fields(self) -> list[forms.BoundField]:
        """List what only some days need."""
        return [self[name] for name in ("tank", "weight_limit", "next_lawn")] + [
            self[name] for name in ("wind_speed", "wind_from")
        ]

    def rare_is_used(self) -> bool:
        """Say whether something that only some days need is filled in, or wrong."""
        names = ("weight_limit_0", "next_lawn", "wind_speed_0", "wind_from")
        wrong = any(field.name in self.errors for field in self.rare_fields())
        return wrong or any(self.data.get(name) for name in names)

    def legs(self) -> list[forms.BoundField]:
        """List the rows for lawns and reload points."""
        return [self[f"leg_{row}"] for row in range(1, self.row_count + 1)]

    def refill_fields(self) -> list[forms.BoundField]:
        """List what is read at a refill."""
        return [self["after_load"], self["in_tank"]]

    def other_start_fields(self) -> list[forms.BoundField]:
        """List what is told where a load did not begin as planned."""
        put_in = [self[f"put_in_{part.product_id}"] for part in self.mixed]
        return [self["started_with"], *put_in]

    def refill_is_used(self) -> bool:
        """Say whether something was typed about a refill."""
        names = [name for name in self.fields if name.startswith(("gauge_", "put_in_"))]
        boxes = [f"{name}_0" for name in ("in_tank", "started_with", *names)]
        return any(self.data.get(box) for box in (*boxes, "after_load"))

    def gauge_fields(self) -> list[tuple[str, forms.BoundField]]:
        """Give each lawn on the route its box for the gauge."""
        chosen = ((row, str(self.data.get(f"leg_{row}", ""))) for row in self._numbers())
        return [
            (self.places[key].name, self[f"gauge_{row}"])
            for row, key in chosen
            if key in self.places
        ]

    def _numbers(self) -> range:
        return range(1, self.row_count + 1)

    def clean(self) -> dict[str, Any]:
        """Join the rows to a route, and the readings to a refill."""
        typed: dict[str, Any] = super().clean() or {}
        legs = [self._leg(row, typed) for row in self._numbers() if typed.get(f"leg_{row}")]
        wants_rows = typed.get("rows") is not None
        if not (wants_rows or self.errors or any(isinstance(leg, Lawn) for leg in legs)):
            self.add_error("leg_1", "Choose the first lawn of the day.")
        typed["legs"] = tuple(legs)
        typed["reading"] = self._reading(typed)
        return typed

    def _leg(self, row: int, typed: dict[str, Any]) -> Lawn | str:
        chosen = str(typed[f"leg_{row}"])
        place = self.places.get(chosen)
        return chosen if place is None else Lawn(place, typed.get(f"gauge_{row}"))

    def _reading(self, typed: dict[str, Any]) -> GaugeReading | None:
        in_tank, started_with = typed.get("in_tank"), typed.get("started_with")
        put_in = self._put_in(typed)
        if in_tank is None:
            if started_with is not None or put_in:
                self.add_error("in_tank", "Enter what the gauge shows too.")
            return None
        for name in ("in_tank", "started_with"):
            self._check_holds(name, typed)
        return GaugeReading(typed.get("after_load") or 1, in_tank, started_with, put_in)

    def _check_holds(self, name: str, typed: dict[str, Any]) -> None:
        """Say beside a reading that it is more than the tank holds."""
        volume, machine = typed.get(name), typed.get("machine")
        if volume is None or machine is None:
            return
        tank = machine.tanks.filter(position=int(typed.get("tank") or 1)).first()
        if tank is not None and volume.si > tank.capacity.si * _SAME_VOLUME:
            self.add_error(
                name,
                f"{volume} is more than the tank holds ({tank.capacity}). Read the gauge again "
                "on level ground, and check the unit.",
            )

    def _put_in(self, typed: dict[str, Any]) -> dict[str, Quantity]:
        amounts: dict[str, Quantity] = {}
        for part in self.mixed:
            name = f"put_in_{part.product_id}"
            amount = typed.get(name)
            if amount is None:
                continue
            weighed = part.rate.dimension in {Dimension.MASS_PER_AREA, Dimension.MASS_PER_VOLUME}
            wanted = Dimension.MASS if weighed else Dimension.VOLUME
            if amount.dimension is not wanted:
                self.add_error(name, f"{part.product} is measured as a {wanted}.")
            amounts[part.product.name] = amount
        return amounts

    def question(self) -> dict[str, Any]:
        """Hand what was asked to the selector."""
        names = (
            *("machine", "mix", "hand_tool", "legs", "weight_limit"),
            *("next_lawn", "wind_speed", "reading"),
        )
        asked = {name: self.cleaned_data.get(name) for name in names}
        return asked | {
            "tank": int(self.cleaned_data.get("tank") or 1),
            "wind_from": self.cleaned_data.get("wind_from") or "",
        }
