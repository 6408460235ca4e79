"""What is typed about the set-up of a machine, the firm's rule, and the measures on its trucks."""

from typing import Any

from django import forms
from django.db.models import QuerySet

from planner.models import CalibrationRule, Fittings
from properties.core.units import Quantity
from properties.models import Person
from properties.web.forms.quantities import LENGTHS, PositiveQuantityField

PRESSURES = ("psi", "bar", "kPa")
AREAS = ("acre", "ha", "sq ft", "m2")
LIQUID_MARKS = ("fl oz", "mL", "pt", "qt", "L", "gal")
DRY_MARKS = ("oz wt", "lb", "g", "kg")
MOST_LIQUID, MOST_DRY = 4, 2


#: What a spreader does not have.
SPRAYED = (
    *("tips", "pressure", "nozzles", "nozzle_spacing", "sides", "pump"),
    *("hose_length", "hose_bore"),
)


class FittingsForm(forms.ModelForm):  # type: ignore[type-arg]
    """The set-up that a calibration belongs to, and what is fitted."""

    pressure = PositiveQuantityField(
        units=PRESSURES, label="Pressure", required=False, help_text="At the boom or the gun."
    )
    nozzle_spacing = PositiveQuantityField(
        units=("in", "cm", "m", "ft"), label="Nozzles are apart", required=False
    )
    fan_angle = PositiveQuantityField(
        units=("deg",), label="Angle of the fan", required=False, help_text="Such as 110."
    )
    boom_height = PositiveQuantityField(
        units=("in", "cm", "ft", "m"), label="Tips over the turf", required=False
    )
    hose_length = PositiveQuantityField(units=LENGTHS, label="Length of the hose", required=False)
    hose_bore = PositiveQuantityField(
        units=("in", "mm", "cm"),
        label="Bore of the hose",
        required=False,
        help_text="Its inner width. What it holds cannot be sprayed.",
    )
    good_for_area = PositiveQuantityField(
        units=AREAS, label="A calibration is good for so much ground", required=False
    )

    class Meta:
        model = Fittings
        fields = [
            *("tips", "pressure", "pace", "worked_by"),
            *("nozzles", "nozzle_spacing", "sides", "pump", "hose_length", "hose_bore"),
            *("tip_size", "droplets", "fan_angle", "boom_height"),
            *("good_for_days", "good_for_area"),
        ]
        labels = {
            "tips": "Tips",
            "pace": "Speed or pace",
            "worked_by": "Who works with it",
            "nozzles": "Number of nozzles",
            "tip_size": "Size of the tips",
            "droplets": "Drops that they make",
            "sides": "Sides that shut off on their own",
            "pump": "The pump",
            "good_for_days": "A calibration is good for so many days",
        }
        help_texts = {
            "tips": "Kind, colour, size.",
            "tip_size": "The last digits of their number: 110-04 is size 04.",
            "droplets": "At your pressure, from the table of the tips.",
            "pace": "In your words, such as 4 mph or a slow walk.",
            "worked_by": "For what is carried by hand: everybody walks at their own pace.",
            "good_for_days": "Empty: the rule of the firm.",
        }

    def __init__(self, *args: Any, people: QuerySet[Person], **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        worked_by, pump = self.fields["worked_by"], self.fields["pump"]
        worked_by.queryset = people  # type: ignore[attr-defined]
        worked_by.empty_label = "anybody"  # type: ignore[attr-defined]
        pump.choices = [("", "not told"), *Fittings.PUMPS]  # type: ignore[attr-defined]
        if self.instance.machine.is_spreader:
            for name in SPRAYED:
                del self.fields[name]

    def set_up_fields(self) -> list[forms.BoundField]:
        """List what voids a calibration when it changes."""
        names = ("tips", "pressure", "pace", "worked_by")
        return [self[name] for name in names if name in self.fields]

    def fitted_fields(self) -> list[forms.BoundField]:
        """List what is fitted."""
        names = ("nozzles", "nozzle_spacing", "sides", "pump", "hose_length", "hose_bore")
        return [self[name] for name in names if name in self.fields]

    def tip_fields(self) -> list[forms.BoundField]:
        """List what is known of the tips; a label may ask for their drops."""
        return [self[name] for name in ("tip_size", "droplets", "fan_angle", "boom_height")]

    def lasting_fields(self) -> list[forms.BoundField]:
        """List for how long a calibration holds."""
        return [self[name] for name in ("good_for_days", "good_for_area")]


class CalibrationRuleForm(forms.ModelForm):  # type: ignore[type-arg]
    """For how long a firm goes by a calibration."""

    good_for_area = PositiveQuantityField(
        units=AREAS, label="Or for so much ground", required=False
    )

    class Meta:
        model = CalibrationRule
        fields = ["good_for_days", "good_for_area"]
        labels = {"good_for_days": "Good for so many days"}
        help_texts = {"good_for_days": "Empty: no limit. A machine may have a limit of its own."}


class MeasuresForm(forms.Form):
    """The distance between two marks of each jug, cup, syringe and scale."""

    def __init__(self, *args: Any, present: list[Quantity], **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        for name, units, most in (
            ("liquid", LIQUID_MARKS, MOST_LIQUID),
            ("dry", DRY_MARKS, MOST_DRY),
        ):
            marks = [mark for mark in present if mark.unit in units]
            for number in range(1, most + 1):
                what = "Jug, cup or syringe" if name == "liquid" else "Scale"
                self.fields[f"{name}_{number}"] = PositiveQuantityField(
                    units=units,
                    label=f"{what} {number}",
                    required=False,
                    initial=marks[number - 1] if number <= len(marks) else None,
                )

    def marks(self) -> dict[str, Quantity]:
        """List the marks that were typed, by their boxes."""
        return {name: mark for name, mark in self.cleaned_data.items() if mark is not None}
