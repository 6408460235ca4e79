"""The day of Pennywhistle as stored rows: seven lawns, a hand gun, a product, all invented."""

import math
from dataclasses import dataclass, replace
from typing import Any

import pytest

from planner.models import Machine, Mix, Product
from planner.services.calibrations import record_course_calibration
from planner.services.equipment import keep_machine
from planner.services.labels import keep_label
from planner.services.mixes import keep_mix
from properties.core.units import Quantity, parse_quantity
from properties.models import Person, Property
from properties.services.outlines import save_drawing
from properties.services.places import add_property
from tests.places import SAVED_AT, facts
from tests.planner.core.asking import area, corners_of, place
from tests.planner.core.scenarios import PENNYWHISTLE
from tests.work import DONE_AT

SQUARE_FEET = [11_200, 8_400, 15_600, 22_300, 9_750, 31_400, 12_650]


@dataclass(frozen=True)
class Day:
    """Who asks, and with what."""

    person: Person
    machine: Machine
    mix: Mix
    places: tuple[Property, ...]

    def question(self, **changes: Any) -> dict[str, Any]:
        """Four lawns, the yard, a lawn with a bare tap, two lawns."""
        lawns = [str(place.pk) for place in self.places]
        legs = [*lawns[:4], "yard", lawns[4], "bare_tap", *lawns[5:]]
        rows = {f"leg_{row}": leg for row, leg in enumerate(legs, start=1)}
        return {"machine": self.machine.pk, "mix": self.mix.pk} | rows | changes


@pytest.fixture
def pennywhistle(owner: Person) -> Day:
    """Lawns as squares of the right size, and 2.0 gal/1,000 sq ft measured over a course."""
    machine = keep_machine(
        Machine(firm=owner.firm, name="Truck gun", kind="hand_gun", swath=Quantity(5.0, "ft")),
        capacities=[Quantity(200.0, "gal")],
        fill_limits=[Quantity(190.0, "gal")],
        unsprayable=[Quantity(3.0, "gal")],
    )
    record_course_calibration(
        machine,
        person=owner,
        at=DONE_AT,
        course_length=Quantity(200.0, "ft"),
        volumes_used=[Quantity(2.0, "gal")] * 3,
    )
    (told,) = PENNYWHISTLE["mix"]
    limits = {name: parse_quantity(text) for name, text in told["label"].items()}
    product = keep_label(
        Product(
            firm=owner.firm,
            name=told["name"],
            formulation=told["formulation"],
            is_invented=True,
            entered_by=owner,
            entered_at=DONE_AT,
            **limits,
        ),
        setbacks={},
    )
    mix = keep_mix(
        Mix(firm=owner.firm, name="W-2 alone"), parts=[(product, parse_quantity(told["rate"]))]
    )
    places = tuple(_lawn(owner, number, size) for number, size in enumerate(SQUARE_FEET, start=1))
    return Day(owner, machine, mix, places)


BACKPACK = "Backpack of Bram Oakes"


def hand_tool_of(day: Day, **facts: Any) -> Machine:
    """A backpack with half the output of the truck gun, and 0.1 gal that stay in it."""
    told = {"unsprayable": [Quantity(0.1, "gal")]} | facts
    tool = keep_machine(
        Machine(
            firm=day.person.firm, name=BACKPACK, kind="backpack_sprayer", swath=Quantity(3.0, "ft")
        ),
        capacities=[Quantity(4.0, "gal")],
        **told,
    )
    record_course_calibration(
        tool,
        person=day.person,
        at=DONE_AT,
        course_length=Quantity(100.0, "ft"),
        volumes_used=[Quantity(0.3, "gal")] * 3,
    )
    return tool


def ride_on_of(day: Day) -> Machine:
    """A ride-on 8 ft wide, with the output of the truck gun."""
    machine = keep_machine(
        Machine(firm=day.person.firm, name="Ride-on", kind="boom_sprayer", swath=Quantity(8, "ft")),
        capacities=[Quantity(200.0, "gal")],
        unsprayable=[Quantity(3.0, "gal")],
    )
    record_course_calibration(
        machine,
        person=day.person,
        at=DONE_AT,
        course_length=Quantity(125.0, "ft"),
        volumes_used=[Quantity(2.0, "gal")] * 3,
    )
    return machine


@pytest.fixture
def with_strip(pennywhistle: Day) -> Day:
    """The last lawn has a strip 4 ft wide and 80 ft long besides."""
    lawn, strip = (
        area(ref, "turf", corners_of(*corners), name=ref)
        for ref, corners in {"Lawn": (0, 0, 100, 100), "Strip": (300, 0, 304, 80)}.items()
    )
    save_drawing(
        pennywhistle.places[6],
        person=pennywhistle.person,
        at=SAVED_AT,
        base=1,
        why="A strip",
        collection=place(lawn, strip),
    )
    return replace(pennywhistle, machine=ride_on_of(pennywhistle))


def _lawn(owner: Person, number: int, square_feet: int) -> Property:
    side = math.sqrt(square_feet)
    turf = area("lawn", "turf", corners_of(0, 0, side, side), name="Lawn")
    added = add_property(firm=owner.firm, facts=facts(name=f"Stop {number}"))
    save_drawing(added, person=owner, at=SAVED_AT, base=0, why="", collection=place(turf))
    return added
