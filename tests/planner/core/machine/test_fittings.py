"""What is fitted to a machine: read, counted, and held against what was caught."""

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.core.label.methods import Method
from planner.core.machine.fittings import Fittings, Hose, Pump, hose_volume_l
from planner.core.plan import plan_from_json
from planner.core.request import read_request
from properties.core.errors import Refused
from properties.core.units import Quantity, quantity_of_si
from tests.planner.core.asking import Json, area, codes, corners_of, place, with_machine
from tests.planner.core.request.test_calibration import CATCH
from tests.planner.core.request.test_whole import faults_of

HOSE: Json = {"length": "200 ft", "bore": "0.375 in"}


# 231 cubic inches are a US gallon: π / 4 × bore² × 1,200 in / 231, by hand.
@pytest.mark.parametrize(
    ("bore_in", "gallons"), [(0.25, 0.255), (0.375, 0.574), (0.5, 1.020), (0.625, 1.594)]
)
def test_a_hundred_feet_of_hose_hold_what_their_cylinder_holds(
    bore_in: float, gallons: float
) -> None:
    volume_l = hose_volume_l(length_m=30.48, bore_m=bore_in * 0.0254)

    assert quantity_of_si(volume_l, "gal").value == pytest.approx(gallons, abs=0.0005)


@pytest.mark.parametrize("measure", ["length_m", "bore_m"])
def test_a_hose_without_length_or_bore_is_refused(measure: str) -> None:
    with pytest.raises(Refused) as refused:
        hose_volume_l(**{"length_m": 30.0, "bore_m": 0.01} | {measure: 0.0})

    assert refused.value.field == measure


@given(length=st.floats(1, 500), bore=st.floats(0.001, 0.1), times=st.floats(1, 5))
def test_a_wider_hose_holds_more_by_the_square(length: float, bore: float, times: float) -> None:
    narrow = hose_volume_l(length_m=length, bore_m=bore)

    assert hose_volume_l(length_m=length, bore_m=bore * times) == pytest.approx(narrow * times**2)


def test_what_is_fitted_is_read_and_the_hose_cannot_be_sprayed_either() -> None:
    machine = read_request(
        with_machine(
            nozzles=6,
            nozzle_spacing="20 in",
            sides=3,
            pump="speed_tied",
            hose=HOSE,
            unsprayable="0.5 gal",
        )
    ).machine

    hose = Hose(Quantity(200, "ft"), Quantity(0.375, "in"))
    assert machine.fittings == Fittings(6, Quantity(20, "in"), 3, Pump.SPEED_TIED, hose)
    # 1.15 gal in the hose and 0.5 in the sump.
    assert quantity_of_si(machine.unsprayable_l[0], "gal").value == pytest.approx(1.6475, abs=5e-4)


@pytest.mark.parametrize(
    ("member", "value", "where", "words"),
    [
        ("nozzles", 0, "nozzles", "whole number from 1 to 200"),
        ("nozzles", True, "nozzles", "whole number"),
        ("nozzles", "6", "nozzles", "whole number"),
        ("sides", 25, "sides", "whole number from 1 to 24"),
        ("pump", "electric", "pump", "fixed, speed_tied"),
        ("nozzle_spacing", "0 in", "nozzle_spacing", "not above zero"),
        ("hose", {"length": "200 ft"}, "hose.bore", "is missing"),
        ("hose", {"bore": "1 ft", "length": "9 ft"}, "hose.bore", "cannot be right"),
        ("hose", {"bore": "1 in"}, "hose.length", "is missing"),
    ],
)
def test_a_slip_is_told_at_its_member(member: str, value: Any, where: str, words: str) -> None:
    faults = faults_of(with_machine(**{member: value}))

    assert words in faults[f"machine.{where}"]


def warned(calibration: Json, **changes: Any) -> list[str]:
    plan = plan_from_json(with_machine(calibration=calibration, **changes))
    return [
        code
        for code in codes(plan.warnings)
        if code in {"nozzles_not_all_caught", "swath_unlike_nozzles", "speed_unlike_calibration"}
    ]


SIX = CATCH | {"catches": ["36 fl oz"] * 6}


def test_a_nozzle_that_was_not_caught_is_told() -> None:
    assert warned(SIX, nozzles=6) == []
    assert warned(SIX, nozzles=7) == ["nozzles_not_all_caught"]


def test_a_swath_that_the_nozzles_do_not_wet_is_told() -> None:
    assert warned(SIX, swath="10.5 ft") == []
    assert warned(SIX, swath="10.6 ft") == ["swath_unlike_nozzles"]
    assert warned(SIX | {"catches": ["36 fl oz"]}, swath="10.6 ft") == []


def test_another_speed_than_the_calibrated_one_is_told_unless_the_pump_follows_it() -> None:
    # 200 ft in a mean of 34.03 s is 4.007 mph.
    assert warned(SIX, speed="4 mph") == []
    assert warned(SIX, speed="3.4 mph") == ["speed_unlike_calibration"]
    assert warned(SIX, speed="3.4 mph", pump="speed_tied") == []
    read_off = {
        name: value for name, value in SIX.items() if name not in ("course_length", "times")
    }
    assert warned(read_off | {"speed": "6 km/h"}, speed="3.4 mph", pump="fixed") == [
        "speed_unlike_calibration"
    ]


def test_a_boomless_sprayer_is_driven_in_passes_and_keeps_a_booms_distances() -> None:
    plan = plan_from_json(with_machine(kind="boomless_sprayer"))

    assert plan.parts[0].drive is not None
    assert plan.parts[0].sprayer.method is Method.BOOM


@pytest.mark.parametrize(
    ("sides", "words"),
    [({}, "Shut the part"), ({"sides": 1}, "only as a whole"), ({"sides": 3}, "of its 3 sides")],
)
def test_ground_sprayed_twice_is_told_with_what_can_be_shut(sides: Json, words: str) -> None:
    request = with_machine(**sides)
    request["property"] = place(area("strip", "turf", corners_of(0, 0, 14, 100)))

    (found,) = (each for each in plan_from_json(request).warnings if each.code == "passes_overlap")
    assert words in found.message


def test_a_hose_that_holds_a_whole_tank_is_a_fault() -> None:
    # 1,000 ft of 1 in: 40.8 gal beside a tank of 25.
    faults = faults_of(with_machine(hose={"length": "1000 ft", "bore": "1 in"}))

    assert "nothing is left to spray" in faults["machine.hose"]
