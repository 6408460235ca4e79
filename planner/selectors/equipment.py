"""Machines of a person's firm."""

from django.db.models import QuerySet

from planner.models import Calibration, Machine
from properties.models import Person


def machines_of(person: Person) -> QuerySet[Machine]:
    """List the machines of a person's firm."""
    return Machine.objects.filter(firm=person.firm_id).prefetch_related("tanks")


def newest_calibration(machine: Machine) -> Calibration | None:
    """Find the calibration that a plan uses: the newest at the machine's present swath."""
    for calibration in machine.calibrations.prefetch_related("runs").select_related("done_by"):
        if calibration.swath == machine.swath:
            return calibration
    return None
