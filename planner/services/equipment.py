"""Keeping machines and recording what was measured of them."""

from collections.abc import Sequence
from datetime import datetime

from django.db import transaction

from planner.core.request.driving import SPEEDS
from planner.core.request.machine import COURSES, SWATHS, TANKS, VOLUMES
from planner.models import Calibration, CalibrationRun, Machine, Tank
from properties.core.units import Quantity
from properties.models import Person

#: What a plan request may say of a machine; a row that says anything else could not be planned.
MEASURES = {"swath": SWATHS, "width": SWATHS, "speed": SPEEDS}


@transaction.atomic
def keep_machine(machine: Machine, *, capacities: Sequence[Quantity]) -> Machine:
    """Keep a machine with its tanks in the order given. Refused where a measure cannot be right."""
    for name, believable in MEASURES.items():
        measure = getattr(machine, name)
        if measure is not None:
            believable.check(measure, field=name)
    for position, capacity in enumerate(capacities, start=1):
        TANKS.check(capacity, field=f"tank_{position}")
    machine.full_clean()
    machine.save()
    machine.tanks.all().delete()
    for position, capacity in enumerate(capacities, start=1):
        tank = Tank(machine=machine, position=position, capacity=capacity)
        tank.full_clean()
        tank.save()
    return machine


@transaction.atomic
def record_course_calibration(
    machine: Machine,
    *,
    person: Person,
    at: datetime,
    course_length: Quantity,
    volumes_used: Sequence[Quantity],
    note: str = "",
) -> Calibration:
    """Record runs over a measured course at the machine's present swath.

    Refused where a measure cannot be right: every page of the machine shows what they come to.
    """
    COURSES.check(course_length, field="course_length")
    for position, volume_used in enumerate(volumes_used, start=1):
        VOLUMES.check(volume_used, field=f"run_{position}")
    calibration = Calibration(
        machine=machine,
        done_by=person,
        done_at=at,
        course_length=course_length,
        swath=machine.swath,
        note=note,
    )
    calibration.full_clean()
    calibration.save()
    for position, volume_used in enumerate(volumes_used, start=1):
        run = CalibrationRun(calibration=calibration, position=position, volume_used=volume_used)
        run.full_clean()
        run.save()
    return calibration
