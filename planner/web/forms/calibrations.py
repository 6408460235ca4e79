"""What is typed about a measurement with water, one form for each way of measuring."""

from collections.abc import Mapping
from typing import Any

from django import forms

from planner.models import Fittings, Machine
from properties.core.errors import Refused
from properties.core.units import Quantity
from properties.web.forms.quantities import (
    LENGTHS,
    SPEEDS,
    VOLUMES,
    PositiveQuantityField,
    QuantityField,
    typed_quantity,
)

MOST_RUNS = 6
FEWEST_RUNS = 3
MOST_CATCHES = 3
#: As many boxes where nobody says how many nozzles there are.
USUAL_NOZZLES = 12
OUTPUTS = ("gal/1000 sq ft", "gal/acre", "L/100 m2", "L/ha")
SMALL_VOLUMES = ("fl oz", "mL", "L", "qt", "gal")
TIMES = ("s", "min")

RUN_MISSING = "Three runs or more are needed. Make this run too."
IN_ORDER = "Fill the boxes in order: this one is empty, and a later one is not."


class WaterForm(forms.Form):
    """What every way of measuring asks: numbered boxes, a unit for all of them, a note."""

    run_words = "Run"
    target_output = PositiveQuantityField(
        units=OUTPUTS,
        label="Output you want",
        required=False,
        help_text="It passes within 5 % of it.",
    )
    note = forms.CharField(
        label="Note",
        required=False,
        max_length=300,
        help_text="Tips, pressure, speed or pace, who drove.",
    )

    def __init__(self, *args: Any, machine: Machine, fittings: Fittings, **kwargs: Any) -> None:
        self.machine, self.fittings = machine, fittings
        super().__init__(*args, **kwargs)
        self.add_boxes()
        last = ("target_output", "note")
        self.order_fields([name for name in self.fields if name not in last])

    def add_boxes(self) -> None:
        """Add what the way of measuring asks."""

    def add_box(self, name: str, label: str, *, missing: str = "") -> None:
        """Add a box for a number; what it says where it is empty and must not be."""
        self.fields[name] = forms.CharField(
            label=label,
            required=bool(missing),
            max_length=20,
            widget=forms.TextInput({"inputmode": "decimal", "autocomplete": "off"}),
            error_messages={"required": missing},
        )

    def add_runs(self) -> None:
        """Add a box for each run."""
        for number in range(1, MOST_RUNS + 1):
            missing = RUN_MISSING if number <= FEWEST_RUNS else ""
            self.add_box(f"run_{number}", f"{self.run_words} {number}", missing=missing)

    def add_catches(self, count: int, label: str, missing: Mapping[int, str]) -> None:
        """Add the unit of the catches and a box for each."""
        self.fields["catch_unit"] = forms.ChoiceField(
            label="Water is read in", choices=[(unit, unit) for unit in SMALL_VOLUMES]
        )
        for number in range(1, count + 1):
            self.add_box(f"catch_{number}", f"{label} {number}", missing=missing.get(number, ""))

    def numbered(self, name: str) -> list[forms.BoundField]:
        """List the boxes of one kind, which stand side by side."""
        return [self[field] for field in self.fields if field.startswith(f"{name}_")]

    def run_fields(self) -> list[forms.BoundField]:
        """List the boxes of the runs."""
        return self.numbered("run")

    def catch_fields(self) -> list[forms.BoundField]:
        """List the boxes of the catches."""
        return [field for field in self.numbered("catch") if field.name[-1].isdigit()]

    def other_fields(self) -> list[forms.BoundField]:
        """List what is asked beside runs and catches."""
        boxed = {field.name for field in (*self.run_fields(), *self.catch_fields())}
        return [field for field in self if field.name not in {"note", *boxed}]

    def typed(self, name: str, unit: str) -> list[str]:
        """List what was typed into the boxes of one kind, with the unit."""
        boxes = [field for field in self.fields if field.startswith(f"{name}_")]
        numbers = [self.cleaned_data.get(box) for box in boxes if box[-1].isdigit()]
        return [f"{number} {unit}" for number in numbers if number]

    def clean(self) -> dict[str, Any]:
        """Refuse a box that was left out between two others."""
        typed = super().clean() or {}
        for fields in (self.run_fields(), self.catch_fields()):
            empty = ""
            for field in fields:
                if typed.get(field.name) and empty and not self.errors.get(empty):
                    self.add_error(empty, IN_ORDER)
                empty = empty or ("" if typed.get(field.name) else field.name)
        return typed

    def told(self) -> dict[str, Any]:
        """Write what was typed as a plan request has it."""
        raise NotImplementedError

    def measured(self) -> dict[str, Any]:
        """Write what was typed, and the output that is wanted where it was told."""
        wanted = self.cleaned_data["target_output"]
        return self.told() | ({"target_output": self.of("target_output")} if wanted else {})

    def of(self, name: str) -> str:
        """Write a quantity that was typed."""
        quantity: Quantity = self.cleaned_data[name]
        return quantity.to_the_last_digit


class CourseForm(WaterForm):
    """Water used in runs over a measured course."""

    course_length = PositiveQuantityField(
        units=LENGTHS, label="Length of the course", help_text="100 ft or more, measured by tape."
    )
    volume_unit = forms.ChoiceField(
        label="Water is read in", choices=[(unit, unit) for unit in VOLUMES]
    )

    def add_boxes(self) -> None:
        """Ask for the water of each run."""
        self.add_runs()

    def clean(self) -> dict[str, Any]:
        """Read every run with the unit, and say beside each what is wrong with it."""
        typed = super().clean()
        for field in self.run_fields():
            if not typed.get(field.name):
                continue
            try:
                _check_volume(typed[field.name], typed.get("volume_unit", "gal"))
            except Refused as refused:
                self.add_error(field.name, str(refused))
        return typed

    def told(self) -> dict[str, Any]:
        """Write what was typed as a plan request has it."""
        return {
            "method": "measured_course",
            "course_length": self.of("course_length"),
            "volumes_used": self.typed("run", self.cleaned_data["volume_unit"]),
        }


class PassesForm(WaterForm):
    """The time that the same ground takes, and what the tip gives meanwhile."""

    run_words = "Time"

    def add_boxes(self) -> None:
        """Ask for each time, and for one catch or more."""
        self.add_runs()
        first = {1: "Catch the tip at least once, in the mean time of the runs."}
        self.add_catches(MOST_CATCHES, "Catch", first)

    def passes(self) -> dict[str, Any]:
        """Write times and catches as a plan request has them."""
        return {
            "times": self.typed("run", "s"),
            "catches": self.typed("catch", self.cleaned_data["catch_unit"]),
        }


class HandGunForm(PassesForm):
    """A course that somebody walks."""

    course_length = PositiveQuantityField(
        units=LENGTHS,
        label="Length of the course",
        help_text="1,000 sq ft (or 100 m²) over your swath is filled in.",
    )

    def add_boxes(self) -> None:
        """Fill in the course that covers 1,000 sq ft, or 100 m², at the swath."""
        super().add_boxes()
        swath = self.machine.swath
        area, unit = (100, "m") if swath.unit in {"m", "cm", "mm"} else (1000, "ft")
        length = Quantity(round(area / swath.to(unit).value, 2), unit)
        self.fields["course_length"].initial = length

    def told(self) -> dict[str, Any]:
        """Write what was typed as a plan request has it."""
        course = {"method": "hand_gun_course", "course_length": self.of("course_length")}
        return course | self.passes()


class PlotForm(PassesForm):
    """A small plot that somebody sprays evenly."""

    plot_length = PositiveQuantityField(
        units=LENGTHS, label="One side of the plot", initial=Quantity(18.5, "ft")
    )
    plot_width = PositiveQuantityField(
        units=LENGTHS,
        label="The other side",
        initial=Quantity(18.5, "ft"),
        help_text="18.5 ft by 18.5 ft is about 1/128 acre; the output is that of your own plot.",
    )

    def told(self) -> dict[str, Any]:
        """Write what was typed as a plan request has it."""
        sides = {name: self.of(name) for name in ("plot_length", "plot_width")}
        return {"method": "small_plot"} | sides | self.passes()


class CatchForm(WaterForm):
    """What each nozzle of a boom gives in a time, and how fast the machine goes."""

    run_words = "Time"

    nozzle_spacing = PositiveQuantityField(units=LENGTHS, label="Nozzles are apart")
    catch_time = PositiveQuantityField(
        units=TIMES,
        label="Each catch lasts",
        initial=Quantity(30, "s"),
        help_text="Long enough for 20 fl oz (600 mL) or more in each jar.",
    )
    course_length = PositiveQuantityField(
        units=LENGTHS,
        label="Length of the course",
        required=False,
        help_text="100 ft or more on turf, tank half full.",
    )
    speed = PositiveQuantityField(
        units=SPEEDS,
        label="Or the speed, read off",
        required=False,
        help_text="Only where nothing can be timed.",
    )

    def add_boxes(self) -> None:
        """Ask for a box for each nozzle, and for the times over the course."""
        self.fields["nozzle_spacing"].initial = self.fittings.nozzle_spacing or [None, "in"]
        count = self.fittings.nozzles or USUAL_NOZZLES
        known = range(1, (self.fittings.nozzles or 1) + 1)
        missing = dict.fromkeys(known, "Catch this nozzle too: one bad nozzle leaves a stripe.")
        self.add_catches(count, "Nozzle", missing)
        for number in range(1, MOST_RUNS + 1):
            self.add_box(f"run_{number}", f"{self.run_words} {number}")

    def clean(self) -> dict[str, Any]:
        """Ask for a timed course, or a speed."""
        typed = super().clean()
        if typed.get("speed") is not None:
            if any(typed.get(field.name) for field in self.run_fields()):
                both = "Both a speed and timed runs are given. Keep the runs, or empty their boxes."
                self.add_error("speed", both)
            return typed
        if typed.get("course_length") is None and "course_length" not in self.errors:
            self.add_error("course_length", "Measure a course, or write the speed you read off.")
        for number in range(1, FEWEST_RUNS + 1):
            if not typed.get(f"run_{number}"):
                self.add_error(f"run_{number}", RUN_MISSING)
        return typed

    def told(self) -> dict[str, Any]:
        """Write what was typed as a plan request has it."""
        told: dict[str, Any] = {
            "method": "timed_catch",
            "nozzle_spacing": self.of("nozzle_spacing"),
            "catch_time": self.of("catch_time"),
            "catches": self.typed("catch", self.cleaned_data["catch_unit"]),
        }
        if self.cleaned_data["speed"] is not None:
            return told | {"speed": self.of("speed")}
        times = self.typed("run", "s")
        return told | {"course_length": self.of("course_length"), "times": times}


#: Every way of measuring, with its form.
FORMS: dict[str, type[WaterForm]] = {
    "measured_course": CourseForm,
    "timed_catch": CatchForm,
    "hand_gun_course": HandGunForm,
    "small_plot": PlotForm,
}


class GroundDoneForm(forms.Form):
    """How much ground was done since a calibration that nobody recorded here."""

    area_since = QuantityField(
        units=("acre", "sq ft", "ha", "m2"),
        label="Done besides what is recorded",
        help_text="Ground done since then that is in no record here; 0 if none.",
    )


def _check_volume(number: str, unit: str) -> None:
    quantity = typed_quantity(number, unit, field="run")
    if quantity.value <= 0:
        raise Refused(
            "run",
            "A run that used no water measures nothing.",
            "Read the gauge again, or make the run again.",
        )
