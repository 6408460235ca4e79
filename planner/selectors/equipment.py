"""Machines of a person's firm, and what their calibrations come to."""

from dataclasses import dataclass

from django.db.models import QuerySet

from planner.core.calibration import MeasuredCourse, output_of
from planner.core.calibration_checks import calibration_findings
from planner.core.shown import SHOWN, Units
from planner.core.workings.calibration import calibration_figures
from planner.models import Calibration, Machine
from properties.core.working import Figure
from properties.models import Person


def machines_of(person: Person) -> QuerySet[Machine]:
    """List the machines of a person's firm."""
    return Machine.objects.filter(firm=person.firm_id).prefetch_related("tanks")


def sprayers_of(person: Person) -> QuerySet[Machine]:
    """List the machines that spray."""
    return machines_of(person).exclude(kind__in=Machine.SPREADERS)


def spreaders_of(person: Person) -> QuerySet[Machine]:
    """List the machines that put granules down."""
    return machines_of(person).filter(kind__in=Machine.SPREADERS)


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


@dataclass(frozen=True)
class CalibrationSheet:
    """What the runs of a calibration come to, and what is found about them."""

    output: Figure
    others: tuple[Figure, ...]
    warnings: tuple[str, ...]
    refusals: tuple[str, ...]


def calibration_sheet(calibration: Calibration, *, units: str) -> CalibrationSheet:
    """Work out the output of a calibration, with its working."""
    shown = SHOWN[Units(units)]
    course = course_of(calibration)
    output = output_of(course, swath_m=calibration.swath.si)
    first, *others = calibration_figures(course, output, swath=calibration.swath, shown=shown)
    found = calibration_findings(output, shown=shown)
    return CalibrationSheet(
        output=first,
        others=tuple(others),
        warnings=tuple(finding.message for finding in found.warnings),
        refusals=tuple(finding.message for finding in found.refusals),
    )
