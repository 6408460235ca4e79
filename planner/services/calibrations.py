"""Recording what was measured of a machine, and for how long a firm goes by it."""

import re
from collections.abc import Iterable, Mapping, Sequence
from datetime import datetime
from typing import Any

from django.core.exceptions import ValidationError
from django.db import transaction

from planner.core.request.calibration import MOST_NOZZLES, SPACINGS, calibration_of
from planner.core.request.fittings import ANGLES, BORES, HEIGHTS, HOSES, MOST_SIDES
from planner.core.request.set_up import AREAS, AREAS_ALLOWED, PRESSURES, made_of
from planner.core.request.slope_speeds import KNOWN as KNOWN_OF_SPEEDS
from planner.core.request.slope_speeds import slope_speeds_of
from planner.core.request.whole import DRY_MARKS, LIQUID_MARKS
from planner.models import Calibration, CalibrationRule, Fittings, Machine, Measure
from planner.selectors.calibrations import fittings_row, set_up_members
from properties.core.errors import FaultsFound, Refused
from properties.core.units import Dimension, Quantity
from properties.models import Firm, Person

#: What a plan request may say of what is fitted; another row could not be planned.
MEASURES = {
    "pressure": PRESSURES,
    "nozzle_spacing": SPACINGS,
    "hose_length": HOSES,
    "hose_bore": BORES,
    "fan_angle": ANGLES,
    "boom_height": HEIGHTS,
    "good_for_area": AREAS_ALLOWED,
}
COUNTS = {"nozzles": MOST_NOZZLES, "sides": MOST_SIDES, "good_for_days": 3660}
#: The boxes of a form that a list of a request comes from.
BOXES = {"volumes_used": "run", "times": "run", "catches": "catch"}


@transaction.atomic
def record_calibration(
    machine: Machine, *, person: Person, at: datetime, told: Mapping[str, Any], note: str = ""
) -> Calibration:
    """Record a measurement at the machine's present swath and set-up.

    Refused where a measure cannot be right, with every fault at its box: every page of the
    machine shows what it comes to.
    """
    try:
        calibration_of(told)
        made_of(told)
        slope_speeds_of(told)
    except FaultsFound as found:
        raise ValidationError(_at_boxes(found.faults)) from found
    calibration = Calibration(
        machine=machine,
        done_by=person,
        done_at=at,
        told=dict(told),
        swath=machine.swath,
        set_up=set_up_members(fittings_row(machine)),
        note=note,
    )
    calibration.full_clean()
    calibration.save()
    return calibration


def record_course_calibration(
    machine: Machine,
    *,
    person: Person,
    at: datetime,
    course_length: Quantity,
    volumes_used: Sequence[Quantity],
    note: str = "",
) -> Calibration:
    """Record runs over a measured course."""
    told = {
        "method": "measured_course",
        "course_length": course_length.to_the_last_digit,
        "volumes_used": [volume.to_the_last_digit for volume in volumes_used],
    }
    return record_calibration(machine, person=person, at=at, told=told, note=note)


def _at_boxes(faults: Iterable[Refused]) -> dict[str, list[str]]:
    """Put every fault at the box of the form that its member was typed into."""
    told: dict[str, list[str]] = {}
    for fault in faults:
        member, number = re.fullmatch(r"([a-z_]*)(?:\[(\d+)\])?.*", fault.field).groups("")  # type: ignore[union-attr]
        box = BOXES.get(member, member)
        name = f"{box}_{int(number or 0) + 1}" if member in BOXES else box
        told.setdefault(name, []).append(str(fault))
    return told


@transaction.atomic
def keep_fittings(fittings: Fittings) -> Fittings:
    """Keep what is fitted to a machine. Refused where a measure cannot be right."""
    for name, believable in MEASURES.items():
        measure = getattr(fittings, name)
        if measure is not None:
            believable.check(measure, field=name)
    for name, most in COUNTS.items():
        _check_count(getattr(fittings, name), name, most)
    if (fittings.hose_length is None) is not (fittings.hose_bore is None):
        missing = "hose_length" if fittings.hose_length is None else "hose_bore"
        raise Refused(missing, "Half of the hose is told.", "Write its length and its bore.")
    fittings.full_clean()
    fittings.save()
    return fittings


def _check_count(value: int | None, name: str, most: int) -> None:
    if value is not None and not 1 <= value <= most:
        raise Refused(name, f"There cannot be {value}.", f"Write a whole number from 1 to {most}.")


@transaction.atomic
def keep_rule(rule: CalibrationRule) -> CalibrationRule:
    """Keep for how long a firm goes by a calibration."""
    if rule.good_for_area is not None:
        AREAS_ALLOWED.check(rule.good_for_area, field="good_for_area")
    _check_count(rule.good_for_days, "good_for_days", COUNTS["good_for_days"])
    rule.full_clean()
    rule.save()
    return rule


@transaction.atomic
def note_ground_done(calibration: Calibration, *, area: Quantity) -> Calibration:
    """Note how much ground was done since a calibration."""
    AREAS.check(area, field="area_since")
    calibration.area_since = area
    calibration.full_clean()
    calibration.save()
    return calibration


@transaction.atomic
def note_slope_speeds(calibration: Calibration, *, told: Mapping[str, Any]) -> Calibration:
    """Note how fast the machine drove on slopes, with the members of a calibration.

    Refused where a speed cannot be right, or two are told for one slope.
    """
    try:
        slope_speeds_of(told)
    except FaultsFound as found:
        raise ValidationError(_at_slopes(found.faults)) from found
    kept = {name: value for name, value in calibration.told.items() if name not in KNOWN_OF_SPEEDS}
    calibration.told = kept | dict(told)
    calibration.full_clean()
    calibration.save()
    return calibration


def _at_slopes(faults: Iterable[Refused]) -> dict[str, list[str]]:
    """Put every fault at the box of the slope, or of the speed, that it is about."""
    told: dict[str, list[str]] = {}
    for fault in faults:
        inside = re.fullmatch(r"slope_speeds\[(\d+)\]\.(slope|speed)", fault.field)
        field = f"{inside[2]}_{int(inside[1]) + 1}" if inside else fault.field
        told.setdefault("slope_1" if field == "slope_speeds" else field, []).append(str(fault))
    return told


@transaction.atomic
def keep_measures(firm: Firm, *, marks: Mapping[str, Quantity]) -> tuple[Measure, ...]:
    """Keep the marks of the measures on the trucks, by the box each was typed into."""
    believable = {Dimension.VOLUME: LIQUID_MARKS, Dimension.MASS: DRY_MARKS}
    for box, mark in marks.items():
        believable[mark.dimension].check(mark, field=box)
    Measure.objects.filter(firm=firm).delete()
    kept = tuple(Measure(firm=firm, mark=mark) for mark in dict.fromkeys(marks.values()))
    for measure in kept:
        measure.full_clean()
        measure.save()
    return kept
