"""Reading how fast a machine went in its calibration, on level ground and on slopes."""

from typing import Any

import pytest

from planner.core.request import read_request
from planner.core.request.slope_speeds import slope_speeds_of
from properties.core.errors import FaultsFound
from properties.core.units import Quantity
from tests.planner.core.asking import MACHINE, asking
from tests.planner.core.request.test_calibration import CATCH

PAIR = {"slope": "20 %", "speed": "3.4 mph"}


def read(told: Any, **more: Any) -> Any:
    calibration = MACHINE["calibration"] | told
    machine = MACHINE | {"calibration": calibration} | more
    return read_request(asking(machine=machine)).machine.slope_speeds


def faults_of(told: Any, **more: Any) -> list[tuple[str, str]]:
    with pytest.raises(FaultsFound) as caught:
        read(told, **more)
    return [(fault.field, fault.problem) for fault in caught.value.faults]


def test_the_working_speed_stands_for_that_of_the_calibration() -> None:
    assert read({"slope_speeds": [PAIR]}, speed="4 mph").level == Quantity(4, "mph")
    told = read({"slope_speeds": [PAIR], "level_speed": "3.9 mph"}, speed="4 mph")
    assert told.level == Quantity(3.9, "mph")
    assert read({}).level is None


def test_a_stated_output_is_for_the_working_speed() -> None:
    machine = {name: told for name, told in MACHINE.items() if name != "calibration"}
    stated = machine | {"output": "1 gal/1000 sq ft", "speed": "4 mph"}

    assert read_request(asking(machine=stated)).machine.slope_speeds.level == Quantity(4, "mph")


def test_a_catch_whose_speed_was_read_off_keeps_it_as_it_was_written() -> None:
    without = {name: told for name, told in CATCH.items() if name not in ("course_length", "times")}
    calibration = without | {"speed": "6 km/h", "slope_speeds": [PAIR]}

    machine = read_request(asking(machine=MACHINE | {"calibration": calibration})).machine

    assert machine.slope_speeds.level == Quantity(6, "km/h")


@pytest.mark.parametrize(
    ("told", "field", "problem"),
    [
        (
            {"slope_speeds": [PAIR]},
            "machine.calibration.level_speed",
            "Nobody says how fast it went on level ground when it was calibrated.",
        ),
        (
            {"level_speed": "4 mph", "slope_speeds": [PAIR, PAIR]},
            "machine.calibration.slope_speeds",
            "Two speeds are told for one slope.",
        ),
        (
            {"level_speed": "4 mph", "slope_speeds": [PAIR | {"slope": "0 %"}]},
            "machine.calibration.slope_speeds[0].slope",
            "0 % is not a slope that a machine drives on.",
        ),
        (
            {"level_speed": "4 mph", "slope_speeds": [PAIR | {"slope": "90 deg"}]},
            "machine.calibration.slope_speeds[0].slope",
            "90 deg is not a slope that a machine drives on.",
        ),
        (
            {"level_speed": "4 mph", "slope_speeds": [{"slope": "5 %"}]},
            "machine.calibration.slope_speeds[0].speed",
            "This is missing.",
        ),
        (
            {"level_speed": "4 mph", "slope_speeds": ["20 %"]},
            "machine.calibration.slope_speeds[0]",
            "This is not an object.",
        ),
    ],
)
def test_what_cannot_be_read_is_told_at_its_place(told: Any, field: str, problem: str) -> None:
    assert faults_of(told) == [(field, problem)]


def test_a_catch_tells_its_speed_itself() -> None:
    calibration = CATCH | {"level_speed": "4 mph"}

    with pytest.raises(FaultsFound) as caught:
        read_request(asking(machine=MACHINE | {"calibration": calibration}))

    (fault,) = caught.value.faults
    assert fault.field == "machine.calibration.level_speed"
    assert "already" in fault.problem


def test_a_tool_that_is_carried_has_no_speeds_on_slopes() -> None:
    problems = faults_of({"level_speed": "3 mph", "slope_speeds": [PAIR]}, kind="hand_gun")

    assert problems == [
        (f"machine.calibration.{name}", "This tool is not driven in passes.")
        for name in ("level_speed", "slope_speeds")
    ]


def test_speeds_are_read_outside_of_a_request_too() -> None:
    told = slope_speeds_of({"level_speed": "4 mph", "slope_speeds": [PAIR]})

    assert told.measured[0].speed == Quantity(3.4, "mph")
    with pytest.raises(FaultsFound):
        slope_speeds_of({"slope_speeds": [PAIR | {"speed": "fast"}]})
