"""What a tank held before: after what kills turf it stays shut until somebody stands for it."""

from typing import Any

import pytest

from planner.core.answers import answer
from planner.core.request import read_request
from properties.core.errors import FaultsFound
from tests.planner.core.asking import HERBICIDE, asking, with_output
from tests.planner.core.scenarios import PENNYWHISTLE

KILLER = "Invented total herbicide"
HELD: dict[str, Any] = {"tank": 1, "held": [KILLER], "kills_turf": True}


def codes(plan: Any, kind: str = "refusals") -> list[str]:
    return [each["code"] for each in plan[kind]]


def test_nothing_goes_on_turf_from_a_tank_that_held_what_kills_it() -> None:
    plan = answer(asking(tanks_before=[HELD]))

    (refusal,) = (each for each in plan["refusals"] if each["code"] == "tank_not_rinsed")
    assert f"last held {KILLER}, which kills turf" in refusal["message"]
    assert "confirm it" in refusal["message"]
    assert plan["tanks_before"][0]["locked"] is True


def test_a_confirmed_rinse_opens_it_again() -> None:
    rinsed = {"confirmed_by": "Teo (invented)", "on": "2026-05-20"}

    plan = answer(asking(tanks_before=[HELD | {"rinsed": rinsed}]))

    assert codes(plan) == []
    assert plan["tanks_before"][0] == {
        "tool": "machine",
        "tank": 1,
        "held": [KILLER],
        "kills_turf": True,
        "rinsed": rinsed,
        "locked": False,
    }


def test_what_does_not_kill_turf_shuts_no_tank() -> None:
    held = {"tank": 1, "held": ["Invented fungicide"], "kills_turf": False}
    plan = answer(asking(tanks_before=[held]))

    assert codes(plan) == []


def test_a_tank_that_the_plan_does_not_fill_is_left_alone() -> None:
    machine = with_output("1 gal/1000 sq ft", tanks=["25 gal", "12 gal"])
    held = HELD | {"tank": 2}

    # 5 gal fit into the first tank; with a first tank of 1 gal the second is filled too.
    assert codes(answer(asking(machine=machine, tanks_before=[held]))) == []
    small = machine | {"tanks": ["1 gal", "12 gal"]}
    assert "tank_not_rinsed" in codes(answer(asking(machine=small, tanks_before=[held])))


def test_the_tank_of_the_hand_tool_is_its_own() -> None:
    gun = with_output("2 gal/1000 sq ft", kind="hand_gun", swath="3 ft", tanks=["5 gal"])
    of_the_gun = HELD | {"tool": "hand_tool"}

    plan = answer(asking(hand_tool=gun, tanks_before=[of_the_gun]))

    # The machine fits everywhere, so the hand tool is not filled.
    assert codes(plan) == []


def test_the_same_again_needs_no_rinse_and_says_that_it_kills() -> None:
    killer = HERBICIDE | {"name": KILLER, "label": HERBICIDE["label"] | {"kills_turf": True}}

    plan = answer(asking(mix=[killer], tanks_before=[HELD]))

    assert codes(plan) == []
    assert "kills_turf" in codes(plan, "warnings")
    assert plan["label_facts"][0]["kills_turf"] is True


@pytest.mark.parametrize(("tank", "refused"), [(1, True), (2, False)])
def test_a_route_is_refused_for_the_tank_it_is_driven_with(tank: int, refused: bool) -> None:
    machine = PENNYWHISTLE["machine"] | {"tanks": ["200 gal", "200 gal"]}

    plan = answer(PENNYWHISTLE | {"machine": machine, "tanks_before": [HELD | {"tank": tank}]})

    assert ("tank_not_rinsed" in codes(plan)) == refused


def test_a_route_beside_a_property_tells_a_shut_tank_once() -> None:
    plan = answer(PENNYWHISTLE | {"property": asking()["property"], "tanks_before": [HELD]})

    assert codes(plan).count("tank_not_rinsed") == 1


@pytest.mark.parametrize(
    ("before", "where", "words"),
    [
        ({}, "tanks_before[0].held", "missing"),
        ({"held": []}, "tanks_before[0].held", "0 items"),
        ({"held": [7]}, "tanks_before[0].held[0]", "not a name"),
        ({"held": ["A"], "tank": 3}, "tanks_before[0].tank", "not a number that is expected"),
        ({"held": ["A"], "kills_turf": "yes"}, "tanks_before[0].kills_turf", "not a yes or a no"),
        ({"held": ["A"], "rinsed": {}}, "tanks_before[0].rinsed.confirmed_by", "missing"),
        (
            {"held": ["A"], "rinsed": {"confirmed_by": "Teo", "on": "May"}},
            "tanks_before[0].rinsed.on",
            "not a day",
        ),
        ({"held": ["A"]}, "tanks_before[0].kills_turf", "missing"),
        (
            {
                "held": ["A"],
                "kills_turf": True,
                "rinsed": {"confirmed_by": "T", "on": "2026-05-21"},
            },
            "tanks_before[0].rinsed.on",
            "after 2026-05-20, the day of the work",
        ),
        ({"held": ["A"], "depth": 1}, "tanks_before[0].depth", "not part of"),
    ],
)
def test_a_fault_of_the_history_is_told_in_its_place(
    before: dict[str, Any], where: str, words: str
) -> None:
    with pytest.raises(FaultsFound) as found:
        read_request(asking(on="2026-05-20", tanks_before=[before]))

    assert words in {fault.field: str(fault) for fault in found.value.faults}[where]


def test_a_tank_told_twice_and_one_that_is_no_object_are_faults() -> None:
    with pytest.raises(FaultsFound) as found:
        read_request(asking(tanks_before=[HELD, HELD, 5]))

    faults = {fault.field: str(fault) for fault in found.value.faults}
    assert "told twice" in faults["tanks_before[1]"]
    assert "not an object" in faults["tanks_before[2]"]
