"""What is told of the tanks of a machine, and every slip in its place."""

from typing import Any

import pytest

from planner.core.request import read_request
from tests.planner.core.asking import with_machine
from tests.planner.core.request.test_whole import faults_of

TWO_TANKS = {"tanks": ["25 gal", "12 gal"]}
GALLON_L = 3.785411784


def in_gallons(volumes_l: tuple[float, ...]) -> list[float]:
    return [round(volume_l / GALLON_L, 9) for volume_l in volumes_l]


def test_one_volume_holds_for_every_tank() -> None:
    machine = read_request(
        with_machine(**TWO_TANKS, fill_limit="11 gal", unsprayable="0.5 gal")
    ).machine

    assert in_gallons(machine.fills_l) == [11, 11]
    assert in_gallons(machine.unsprayable_l) == [0.5, 0.5]


def test_a_list_tells_each_tank_on_its_own() -> None:
    machine = read_request(
        with_machine(**TWO_TANKS, fill_limit=["24 gal", "12 gal"], unsprayable=["1 gal", "0 gal"])
    ).machine

    assert in_gallons(machine.fills_l) == [24, 12]
    assert in_gallons(machine.unsprayable_l) == [1, 0]


def test_tanks_of_which_nothing_is_told_are_filled_to_the_brim() -> None:
    machine = read_request(with_machine(**TWO_TANKS)).machine

    assert in_gallons(machine.fills_l) == [25, 12]
    assert (machine.unsprayable, in_gallons(machine.unsprayable_l)) == ((), [0, 0])


@pytest.mark.parametrize(
    ("member", "value", "where", "words"),
    [
        ("fill_limit", ["24 gal"], "fill_limit", "not as long as the list of tanks"),
        ("fill_limit", ["24 gal", "13 gal"], "fill_limit", "cannot be filled to 13 gal"),
        ("fill_limit", "13 gal", "fill_limit", "A tank of 12 gal"),
        ("fill_limit", "0 gal", "fill_limit", "not above zero"),
        ("unsprayable", ["1 gal", "12 gal"], "unsprayable", "nothing of 12 gal is left"),
        ("unsprayable", ["1 gal", "3 ft"], "unsprayable[1]", "not a volume"),
        ("unsprayable", "-1 gal", "unsprayable", "below zero"),
        ("unsprayable", 1, "unsprayable", "has no unit"),
    ],
)
def test_a_slip_is_told_at_its_member(member: str, value: Any, where: str, words: str) -> None:
    faults = faults_of(with_machine(**TWO_TANKS, **{member: value}))

    assert f"machine.{where}" in faults
    assert words in faults[f"machine.{where}"]
