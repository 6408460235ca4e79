"""What is typed about a machine and its tanks."""

from typing import Any, TypedDict

from django import forms

from planner.models import Machine, Tank
from properties.core.units import Quantity
from properties.web.forms.quantities import (
    LENGTHS,
    SPEEDS,
    PositiveQuantityField,
    QuantityField,
)

MOST_TANKS = 4
TANK_UNITS = ("gal", "L")
SPRAYERS = [choice for choice in Machine.KINDS if choice[0] not in Machine.SPREADERS]
#: What a machine may do without: a width for gates, driving, further tanks, how they are filled.
RARE = (
    *(f"tank_{n}" for n in range(2, MOST_TANKS + 1)),
    *(f"{name}_{n}" for n in range(1, MOST_TANKS + 1) for name in ("fill_limit", "unsprayable")),
    *("width", "speed", "headlands"),
)


class TanksTyped(TypedDict):
    """The tanks in their order, as the service takes them."""

    capacities: list[Quantity]
    fill_limits: list[Quantity | None]
    unsprayable: list[Quantity | None]


class MachineForm(forms.ModelForm):  # type: ignore[type-arg]
    """A machine and its tanks."""

    swath = PositiveQuantityField(
        units=LENGTHS,
        label="Swath",
        help_text="The width that one pass counts for, as you drive it.",
    )

    width = PositiveQuantityField(
        units=LENGTHS,
        label="Width it needs to pass",
        required=False,
        help_text="With the boom folded. A narrower gate keeps it out.",
    )

    speed = PositiveQuantityField(
        units=SPEEDS,
        label="Working speed",
        required=False,
        help_text="Gives the time it takes to drive a lawn.",
    )

    class Meta:
        model = Machine
        fields = ["name", "kind", "swath", "width", "speed", "headlands", "set_up_note"]
        labels = {"headlands": "Rounds along the edge first", "set_up_note": "Set-up"}
        help_texts = {"set_up_note": "In your words. Tips and pressure have a page of their own."}

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["kind"] = forms.ChoiceField(choices=SPRAYERS, label="Kind")
        tanks = list(self.instance.tanks.all()) if self.instance.pk else []
        for position in range(1, MOST_TANKS + 1):
            self._add_tank(position, tanks[position - 1] if position <= len(tanks) else None)
        self.order_fields(
            [
                "name",
                "kind",
                "swath",
                *(f"tank_{n + 1}" for n in range(MOST_TANKS)),
                "set_up_note",
                *RARE,
            ]
        )

    def _add_tank(self, position: int, tank: Tank | None) -> None:
        """Ask for a tank, how far it is filled, and what stays in it."""
        first = position == 1
        self.fields[f"tank_{position}"] = PositiveQuantityField(
            units=TANK_UNITS,
            label=f"Tank {position}",
            required=first,
            help_text="What it holds." if first else "",
            initial=tank and tank.capacity,
        )
        self.fields[f"fill_limit_{position}"] = PositiveQuantityField(
            units=TANK_UNITS,
            label=f"Tank {position} is filled to",
            required=False,
            help_text="Less than it holds: for foam, or for what the axle carries."
            if first
            else "",
            initial=tank and tank.fill_limit,
        )
        self.fields[f"unsprayable_{position}"] = QuantityField(
            units=TANK_UNITS,
            label=f"Cannot be sprayed from tank {position}",
            required=False,
            help_text="In sump, pump and hose when it sucks air." if first else "",
            initial=tank and tank.unsprayable,
        )

    def main_fields(self) -> list[forms.BoundField]:
        """List what every machine has."""
        return [field for field in self if field.name not in RARE]

    def rare_fields(self) -> list[forms.BoundField]:
        """List what only some machines need, for a part of the page that unfolds."""
        return [field for field in self if field.name in RARE]

    def rare_is_used(self) -> bool:
        """Say whether something that only some machines need is filled in, or wrong."""
        return bool(self.instance.pk) or any(name in self.errors for name in RARE)

    def clean(self) -> dict[str, Any]:
        """Say beside it where something is told of a tank that is not there."""
        typed = super().clean() or {}
        for position in range(2, MOST_TANKS + 1):
            if typed.get(f"tank_{position}") is not None:
                continue
            for name in (f"fill_limit_{position}", f"unsprayable_{position}"):
                if typed.get(name) is not None:
                    self.add_error(name, f"Write what tank {position} holds too, or leave it out.")
        return typed

    def tanks(self) -> TanksTyped:
        """List the tanks that were filled in, with what is told of each."""
        told = [
            (self.cleaned_data[f"tank_{n}"], n)
            for n in range(1, MOST_TANKS + 1)
            if self.cleaned_data[f"tank_{n}"] is not None
        ]
        return {
            "capacities": [capacity for capacity, _ in told],
            "fill_limits": [self.cleaned_data[f"fill_limit_{n}"] for _, n in told],
            "unsprayable": [self.cleaned_data[f"unsprayable_{n}"] for _, n in told],
        }
