"""Keeping machines and their tanks."""

from collections.abc import Sequence
from itertools import zip_longest

from django.db import transaction

from planner.core.request.driving import SPEEDS
from planner.core.request.machine import SWATHS
from planner.core.request.tanks import REMAINDERS, TANKS, check_tank
from planner.models import Machine, Tank
from properties.core.errors import Refused
from properties.core.units import Quantity

#: What a plan request may say of a machine; a row that says anything else could not be planned.
MEASURES = {"swath": SWATHS, "width": SWATHS, "speed": SPEEDS}


@transaction.atomic
def keep_machine(
    machine: Machine,
    *,
    capacities: Sequence[Quantity],
    fill_limits: Sequence[Quantity | None] = (),
    unsprayable: Sequence[Quantity | None] = (),
) -> Machine:
    """Keep a machine with its tanks in the order given. Refused where a measure cannot be right."""
    for name, believable in MEASURES.items():
        measure = getattr(machine, name)
        if measure is not None:
            believable.check(measure, field=name)
    tanks = [
        Tank(position=position, capacity=capacity, fill_limit=limit, unsprayable=left)
        for position, (capacity, limit, left) in enumerate(
            zip_longest(capacities, fill_limits, unsprayable), start=1
        )
    ]
    for tank in tanks:
        _check_tank(tank)
    _check_all_told(tanks)
    machine.full_clean()
    machine.save()
    machine.tanks.all().delete()
    for tank in tanks:
        tank.machine = machine
        tank.full_clean()
        tank.save()
    return machine


def _check_tank(tank: Tank) -> None:
    TANKS.check(tank.capacity, field=f"tank_{tank.position}")
    if tank.fill_limit is not None:
        TANKS.check(tank.fill_limit, field=f"fill_limit_{tank.position}")
    if tank.unsprayable is not None:
        REMAINDERS.check(tank.unsprayable, field=f"unsprayable_{tank.position}")
    try:
        check_tank(tank.capacity, fill_limit=tank.fill_limit, unsprayable=tank.unsprayable)
    except Refused as refused:
        raise refused.at(f"{refused.field}_{tank.position}") from refused


def _check_all_told(tanks: Sequence[Tank]) -> None:
    """Refuse what stays in one tank where nobody says it of another: unknown is not zero."""
    untold = [tank for tank in tanks if tank.unsprayable is None]
    if untold and len(untold) < len(tanks):
        raise Refused(
            f"unsprayable_{untold[0].position}",
            f"Nobody says what cannot be sprayed from tank {untold[0].position}.",
            "Write it for every tank (0 where it runs dry), or for none.",
        )
