"""How a machine is driven, as it is told, and every slip in its place."""

from typing import Any

import pytest

from planner.core.request import read_request
from properties.core.units import Quantity
from tests.planner.core.asking import asking, with_machine, with_output
from tests.planner.core.request.test_whole import faults_of


def test_what_was_told_is_read() -> None:
    driving = read_request(
        with_machine(headlands=2, speed="4 mph", turn_time="6 s")
    ).machine.driving

    assert driving.headlands == 2
    assert (driving.speed, driving.turn_time) == (Quantity(4, "mph"), Quantity(6, "s"))


def test_what_nobody_told_is_one_round_and_an_unknown_speed() -> None:
    request = read_request(asking())

    driving = request.machine.driving
    assert (driving.headlands, driving.speed, driving.turn_time) == (1, None, None)
    assert request.passes is None


@pytest.mark.parametrize(
    ("member", "value", "words"),
    [
        ("headlands", 3, "Write 0, 1 or 2"),
        ("headlands", -1, "Write 0, 1 or 2"),
        ("headlands", True, "Write 0, 1 or 2"),
        ("headlands", 1.0, "Write 0, 1 or 2"),
        ("headlands", "1", "Write 0, 1 or 2"),
        ("headlands", None, "Write 0, 1 or 2"),
        ("speed", 4, "has no unit"),
        ("speed", "0 mph", "is not above zero"),
        ("speed", "50 m/s", "cannot be right"),
        ("speed", "4 s", "not a speed"),
        ("turn_time", "-1 s", "is below zero"),
        ("turn_time", "1 h", "between 0 h and"),
        ("turn_time", "6 mph", "not a time"),
    ],
)
def test_a_slip_is_told_at_its_member(member: str, value: Any, words: str) -> None:
    faults = faults_of(with_machine(**{member: value}))

    assert set(faults) == {f"machine.{member}"}
    assert words in faults[f"machine.{member}"]


def test_a_hand_tool_is_not_driven_in_passes() -> None:
    gun = with_output("2 gal/1000 sq ft", kind="hand_gun", speed="2 mph", headlands=1)

    faults = faults_of(asking(hand_tool=gun))

    assert set(faults) == {"hand_tool.speed", "hand_tool.headlands"}
    assert "not driven in passes" in faults["hand_tool.speed"]
    assert "machine.speed" in faults_of(asking(machine=gun))


def test_whether_passes_are_wanted_is_a_yes_or_a_no() -> None:
    assert [read_request(asking(passes=wanted)).passes for wanted in (True, False)] == [True, False]
    assert "not a yes or a no" in faults_of(asking(passes="no"))["passes"]
