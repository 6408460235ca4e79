"""What is typed about how fast a machine drives on slopes."""

from typing import Any

from django import forms

from planner.models import Calibration
from properties.core.units import Quantity, parse_quantity
from properties.web.forms.quantities import SPEEDS, PositiveQuantityField

#: As many slopes as a page has boxes for.
BOXES = 3
SLOPES = ("%", "deg")


class SlopeSpeedsForm(forms.Form):
    """The speed on level ground, and on up to three slopes, at the same throttle."""

    level_speed = PositiveQuantityField(
        units=SPEEDS,
        label="Speed on level ground",
        required=False,
        help_text="As it was calibrated.",
    )

    def __init__(self, *args: Any, calibration: Calibration, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        told = calibration.told
        if told["method"] == "timed_catch":
            del self.fields["level_speed"]
        else:
            known = told.get("level_speed")
            level = parse_quantity(known) if known else calibration.machine.speed
            if level is not None:
                self.fields["level_speed"].initial = level
        pairs = [*told.get("slope_speeds", ()), *([{}] * BOXES)]
        for number, pair in enumerate(pairs[:BOXES], start=1):
            self._add(number, pair)

    def _add(self, number: int, pair: dict[str, str]) -> None:
        for name, units, label in (
            ("slope", SLOPES, f"Slope {number}"),
            ("speed", SPEEDS, f"Speed on slope {number}"),
        ):
            field = PositiveQuantityField(units=units, label=label, required=False)
            if name in pair:
                field.initial = parse_quantity(pair[name])
            self.fields[f"{name}_{number}"] = field

    def pair_fields(self) -> list[forms.BoundField]:
        """List the boxes of the slopes, each slope beside its speed."""
        return [field for field in self if field.name != "level_speed"]

    def clean(self) -> dict[str, Any]:
        """Ask for both of a pair, and for the speed on level ground beside any."""
        typed: dict[str, Any] = super().clean() or {}
        for number in range(1, BOXES + 1):
            slope, speed = (typed.get(f"{name}_{number}") for name in ("slope", "speed"))
            if (slope is None) is not (speed is None):
                missing = f"speed_{number}" if speed is None else f"slope_{number}"
                if missing not in self.errors:
                    self.add_error(missing, "Write the slope and the speed on it, or neither.")
        if "level_speed" in self.fields and self.pairs() and not typed.get("level_speed"):
            self.add_error("level_speed", "Write how fast it drove on level ground.")
        return typed

    def pairs(self) -> list[dict[str, str]]:
        """Write the slopes as a plan request has them."""
        typed = self.cleaned_data
        return [
            {
                "slope": typed[f"slope_{number}"].to_the_last_digit,
                "speed": typed[f"speed_{number}"].to_the_last_digit,
            }
            for number in range(1, BOXES + 1)
            if typed.get(f"slope_{number}") and typed.get(f"speed_{number}")
        ]

    def told(self) -> dict[str, Any]:
        """Write what was typed as a plan request has it; nothing where no slope is told."""
        pairs = self.pairs()
        level: Quantity | None = self.cleaned_data.get("level_speed")
        if not pairs:
            return {}
        told: dict[str, Any] = {"slope_speeds": pairs}
        return told if level is None else {"level_speed": level.to_the_last_digit} | told
