"""Machines of a person's firm, and what their calibrations come to."""

from django.db.models import QuerySet

from planner.core.calibration import MeasuredCourse, Output, output_of
from planner.models import Calibration, Machine
from properties.core.units import quantity_of_si
from properties.core.working import Figure, Input
from properties.models import Person


def machines_of(person: Person) -> QuerySet[Machine]:
    """List the machines of a person's firm."""
    return Machine.objects.filter(firm=person.firm_id).prefetch_related("tanks")


def newest_calibration(machine: Machine) -> Calibration | None:
    """Find the calibration that a plan uses: the newest at the machine's present swath."""
    made = Calibration.objects.filter(machine=machine, swath=machine.swath)
    return made.prefetch_related("runs").select_related("done_by").first()


def course_of(calibration: Calibration) -> MeasuredCourse:
    """Read the rows of a calibration as what the core calculates with."""
    return MeasuredCourse(
        course_length=calibration.course_length,
        volumes_used=tuple(run.volume_used for run in calibration.runs.all()),
    )


def calibration_figures(calibration: Calibration, *, units: str) -> Figure:
    """Work out the output of a calibration, with its working."""
    output: Output = output_of(course_of(calibration), swath_m=calibration.swath.si)
    unit = "gal/1000 sq ft" if units == "us" else "L/100 m2"
    return Figure(
        "output",
        "Output",
        "mean of the runs / (course length × swath)",
        (
            *(
                Input(f"run {run.number}", quantity_of_si(run.volume_l, "gal"))
                for run in output.kept
            ),
            Input("course length", calibration.course_length),
            Input("swath", calibration.swath),
        ),
        quantity_of_si(output.l_per_m2, unit),
    )
