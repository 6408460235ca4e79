"""The machines of the demo: what is fitted, what was measured of them, what pans caught."""

from collections.abc import Mapping
from datetime import datetime
from typing import Any

from planner.models import CalibrationRule, Fittings, Machine, Measure, PatternTest
from planner.selectors.equipment import machines_of
from planner.services.calibrations import (
    keep_fittings,
    keep_measures,
    keep_rule,
    note_ground_done,
    record_calibration,
)
from planner.services.equipment import keep_machine
from planner.services.patterns import record_pattern
from properties.core.units import parse_quantity
from properties.models import Person
from properties.selectors.people import people_of

#: What of the fittings is a quantity, and what a text or a number.
QUANTITIES = ("pressure", "nozzle_spacing", "hose_length", "hose_bore", "fan_angle", "boom_height")
AS_WRITTEN = ("tips", "pace", "nozzles", "sides", "pump", "droplets")


def write_machines(written: Mapping[str, Any], owner: Person) -> None:
    """Add the machines that are missing, the firm's rule and its measures."""
    present = set(machines_of(owner).values_list("name", flat=True))
    people = {person.email: person for person in people_of(owner)}
    for facts in written["machines"]:
        if facts["name"] not in present:
            _machine(facts, owner, people)
    if not CalibrationRule.objects.filter(firm=owner.firm).exists():
        area = parse_quantity(written["calibration_rule"]["good_for_area"])
        keep_rule(CalibrationRule(firm=owner.firm, good_for_area=area))
    if not Measure.objects.filter(firm=owner.firm).exists():
        marks = {f"mark_{n}": parse_quantity(mark) for n, mark in enumerate(written["measures"])}
        keep_measures(owner.firm, marks=marks)


def _machine(facts: Mapping[str, Any], owner: Person, people: Mapping[str, Person]) -> None:
    machine = keep_machine(
        Machine(
            firm=owner.firm,
            name=facts["name"],
            kind=facts["kind"],
            swath=parse_quantity(facts["swath"]),
            width=facts.get("width") and parse_quantity(facts["width"]),
            speed=facts.get("speed") and parse_quantity(facts["speed"]),
            set_up_note=facts["set_up_note"],
        ),
        capacities=[parse_quantity(tank) for tank in facts["tanks"]],
        fill_limits=[parse_quantity(limit) for limit in facts.get("fill_limits", [])],
        unsprayable=[parse_quantity(left) for left in facts.get("unsprayable", [])],
    )
    fitted = facts.get("fittings", {})
    keep_fittings(
        Fittings(
            machine=machine,
            worked_by=people.get(fitted.get("worked_by", "")),
            **{name: parse_quantity(fitted[name]) for name in QUANTITIES if name in fitted},
            **{name: fitted[name] for name in AS_WRITTEN if name in fitted},
        )
    )
    for made in facts["calibrations"]:
        row = record_calibration(
            machine,
            person=people[made["by"]],
            at=datetime.fromisoformat(made["at"]),
            told=made["told"],
            note=made["note"],
        )
        if "area_since" in made:
            note_ground_done(row, area=parse_quantity(made["area_since"]))
    for pans in facts.get("patterns", []):
        record_pattern(
            PatternTest(
                machine=machine,
                done_by=people[pans["by"]],
                done_at=datetime.fromisoformat(pans["at"]),
                pan_spacing=parse_quantity(pans["pan_spacing"]),
                unit=pans["unit"],
                catches=pans["catches"],
                note=pans["note"],
            )
        )
