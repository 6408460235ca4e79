"""What is typed about a machine and its calibration."""

from typing import Any

from django import forms

from planner.models import Machine
from properties.core.errors import Refused
from properties.core.units import Quantity, parse_quantity
from properties.web.forms.quantities import (
    LENGTHS,
    SPEEDS,
    VOLUMES,
    PositiveQuantityField,
)

MOST_TANKS = 4
MOST_RUNS = 6
FEWEST_RUNS = 3
#: What a machine may do without: a width for gates, driving, further tanks.
RARE = ("width", "speed", "headlands", "tank_2", "tank_3", "tank_4")


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
        help_texts = {"set_up_note": "Tips, pressure, speed: what a calibration belongs to."}

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        tanks = list(self.instance.tanks.all()) if self.instance.pk else []
        for position in range(1, MOST_TANKS + 1):
            self.fields[f"tank_{position}"] = PositiveQuantityField(
                units=("gal", "L"),
                label=f"Tank {position}",
                required=position == 1,
                help_text="What can be filled and sprayed." if position == 1 else "",
                initial=tanks[position - 1].capacity if position <= len(tanks) else None,
            )
        self.order_fields(
            [
                "name",
                "kind",
                "swath",
                *(f"tank_{n + 1}" for n in range(MOST_TANKS)),
                "set_up_note",
                "width",
                "speed",
                "headlands",
            ]
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

    def capacities(self) -> list[Quantity]:
        """List the tanks that were filled in."""
        typed = (self.cleaned_data[f"tank_{n + 1}"] for n in range(MOST_TANKS))
        return [capacity for capacity in typed if capacity is not None]


class CourseForm(forms.Form):
    """Water used in runs over a measured course."""

    course_length = PositiveQuantityField(
        units=LENGTHS, label="Length of the course", help_text="100 ft or more, measured by tape."
    )
    volume_unit = forms.ChoiceField(
        label="Water is read in", choices=[(unit, unit) for unit in VOLUMES]
    )
    note = forms.CharField(
        label="Note",
        required=False,
        max_length=300,
        help_text="Tips, pressure, speed or pace, who drove.",
    )

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        for position in range(1, MOST_RUNS + 1):
            self.fields[f"run_{position}"] = forms.CharField(
                label=f"Run {position}",
                required=position <= FEWEST_RUNS,
                max_length=20,
                widget=forms.TextInput({"inputmode": "decimal", "autocomplete": "off"}),
                error_messages={"required": "Three runs or more are needed. Make this run too."},
            )
        runs = (f"run_{n + 1}" for n in range(MOST_RUNS))
        self.order_fields(["course_length", "volume_unit", *runs, "note"])

    def course_fields(self) -> list[forms.BoundField]:
        """List what is told about the course."""
        return [self["course_length"], self["volume_unit"]]

    def run_fields(self) -> list[forms.BoundField]:
        """List the runs, which stand side by side."""
        return [self[f"run_{n + 1}"] for n in range(MOST_RUNS)]

    def clean(self) -> dict[str, Any]:
        """Read every run with the unit, and say beside each what is wrong with it."""
        typed = super().clean() or {}
        self.volumes: list[Quantity] = []
        for position in range(1, MOST_RUNS + 1):
            name = f"run_{position}"
            if not typed.get(name):
                continue
            try:
                self.volumes.append(_volume(typed[name], typed.get("volume_unit", "gal")))
            except Refused as refused:
                self.add_error(name, str(refused))
        return typed


def _volume(number: str, unit: str) -> Quantity:
    quantity = parse_quantity(f"{number} {unit}", field="run")
    if quantity.value <= 0:
        raise Refused(
            "run",
            "A run that used no water measures nothing.",
            "Read the gauge again, or make the run again.",
        )
    return quantity
