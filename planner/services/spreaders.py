"""Keeping spreaders and recording their catch tests."""

from dataclasses import dataclass
from datetime import datetime

from django.db import transaction

from planner.core.request.machine import SWATHS
from planner.core.request.spreader import HIGHEST_SETTING, HOPPERS, TEST_AREAS, WEIGHTS
from planner.models import CatchTest, Machine, Product
from planner.selectors.calibrations import fittings_row, set_up_members
from properties.core.errors import Refused
from properties.core.units import Quantity
from properties.models import Person

#: What a plan request may say of a spreader; a row that says anything else could not be planned.
MEASURES = {"swath": SWATHS, "width": SWATHS, "hopper": HOPPERS}


@transaction.atomic
def keep_spreader(machine: Machine) -> Machine:
    """Keep a spreader. Refused where a measure cannot be right."""
    for name, believable in MEASURES.items():
        measure = getattr(machine, name)
        if measure is not None:
            believable.check(measure, field=name)
    if machine.kind == "drop_spreader":
        machine.deflector = False
    machine.full_clean()
    machine.save()
    machine.tanks.all().delete()
    return machine


@dataclass(frozen=True)
class Runs:
    """Runs at one setting with one product: the ground of each, and what each used."""

    product: Product
    setting: float
    area: Quantity
    used: tuple[Quantity, ...]


@transaction.atomic
def record_catch_tests(
    machine: Machine, runs: Runs, *, person: Person, at: datetime, note: str = ""
) -> list[CatchTest]:
    """Record runs at one setting with one product, at the machine's present swath.

    Refused where a measure cannot be right.
    """
    TEST_AREAS.check(runs.area, field="area")
    if not 0 <= runs.setting <= HIGHEST_SETTING:
        raise Refused(
            "setting", f"{runs.setting:.10g} is not a setting.", "Write the number on the dial."
        )
    for position, weight in enumerate(runs.used, start=1):
        WEIGHTS.check(weight, field=f"used_{position}")
    tests = []
    for weight in runs.used:
        test = CatchTest(
            machine=machine,
            product=runs.product,
            done_at=at,
            done_by=person,
            swath=machine.swath,
            setting=runs.setting,
            area=runs.area,
            used=weight,
            set_up=set_up_members(fittings_row(machine)),
            note=note,
        )
        test.full_clean()
        test.save()
        tests.append(test)
    return tests
