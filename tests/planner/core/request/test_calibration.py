"""How a calibration is told, way by way, and every slip in its place."""

from typing import Any

import pytest

from planner.core.calibration import HandGunCourse, SmallPlot, TimedCatch, TimedCourse
from planner.core.plan import plan_from_json
from planner.core.report import plan_as_json
from planner.core.request import read_request
from properties.core.units import Quantity
from tests.planner.core.asking import Json, codes, with_machine
from tests.planner.core.request.test_whole import faults_of

CATCH: Json = {
    "method": "timed_catch",
    "nozzle_spacing": "20 in",
    "catch_time": "30 s",
    "catches": ["36 fl oz", "37 fl oz", "36.5 fl oz"],
    "course_length": "200 ft",
    "times": ["34 s", "34.2 s", "33.9 s"],
}
GUN: Json = {
    "method": "hand_gun_course",
    "course_length": "200 ft",
    "times": ["77 s", "79 s", "78 s"],
    "catches": ["5.25 gal"],
}
PLOT: Json = {
    "method": "small_plot",
    "plot_length": "18.5 ft",
    "plot_width": "18.5 ft",
    "times": ["20 s", "21 s", "20 s"],
    "catches": ["31 fl oz", "30 fl oz"],
    "catch_time": "20 s",
}


def calibrated(told: Json, **changes: Any) -> Json:
    kept = {name: value for name, value in (told | changes).items() if value is not None}
    return with_machine(calibration=kept)


def test_a_timed_catch_is_read_with_its_course() -> None:
    catch = read_request(calibrated(CATCH)).machine.calibration

    assert isinstance(catch, TimedCatch)
    assert isinstance(catch.pace, TimedCourse)
    assert (catch.nozzle_spacing, len(catch.catches)) == (Quantity(20, "in"), 3)
    assert catch.pace.times[1] == Quantity(34.2, "s")


def test_a_speed_may_stand_for_the_course_and_the_plan_says_that_it_was_not_timed() -> None:
    request = calibrated(CATCH, course_length=None, times=None, speed="4 mph")

    plan = plan_from_json(request)

    assert isinstance(plan.request.machine.calibration, TimedCatch)
    assert plan.request.machine.calibration.pace == Quantity(4, "mph")
    assert "speed_not_timed" in codes(plan.warnings)


def test_a_hand_gun_course_and_a_plot_are_read() -> None:
    gun = read_request(calibrated(GUN)).machine.calibration
    plot = read_request(calibrated(PLOT)).machine.calibration
    acre = read_request(
        calibrated(PLOT, plot_length=None, plot_width=None, plot_area="340.3 sq ft")
    ).machine.calibration

    assert isinstance(gun, HandGunCourse)
    assert isinstance(plot, SmallPlot)
    assert isinstance(acre, SmallPlot)
    assert (gun.passes.catch_time, plot.passes.catch_time) == (None, Quantity(20, "s"))
    assert (plot.area, acre.area) == (
        (Quantity(18.5, "ft"), Quantity(18.5, "ft")),
        Quantity(340.3, "sq ft"),
    )


@pytest.mark.parametrize(
    ("told", "changes", "where", "words"),
    [
        (CATCH, {"method": "guess"}, "method", "Write one of: measured_course, timed_catch"),
        (CATCH, {"method": None}, "method", "is missing"),
        (CATCH, {"volumes_used": ["1 gal"]}, "volumes_used", "not part of a plan request"),
        (CATCH, {"nozzle_spacing": None}, "nozzle_spacing", "is missing"),
        (CATCH, {"nozzle_spacing": "0 in"}, "nozzle_spacing", "not above zero"),
        (CATCH, {"catch_time": "30"}, "catch_time", "has no unit"),
        (CATCH, {"catches": None}, "catches", "is missing"),
        (CATCH, {"catches": []}, "catches", "from each nozzle"),
        (CATCH, {"catches": ["36 fl oz", "0 fl oz"]}, "catches[1]", "not above zero"),
        (CATCH, {"catches": ["36 oz wt"]}, "catches[0]", "not a volume"),
        (CATCH, {"catches": ["36 oz"]}, "catches[0]", "can be a weight or a volume"),
        (CATCH, {"speed": "4 mph"}, "speed", "Both a speed and a timed course"),
        (CATCH, {"times": None, "course_length": None}, "times", "how fast the machine goes"),
        (CATCH, {"times": None}, "times", "is missing"),
        (CATCH, {"times": ["34 s", "35 s"]}, "times", "at least three times"),
        (CATCH, {"course_length": None}, "course_length", "is missing"),
        (GUN, {"times": ["0 s", "77 s", "78 s"]}, "times[0]", "not above zero"),
        (GUN, {"catches": None}, "catches", "is missing"),
        (GUN, {"course_length": "1 mm"}, "course_length", "cannot be right"),
        (PLOT, {"plot_area": "340 sq ft"}, "plot_area", "must be told in one way"),
        (PLOT, {"plot_width": None}, "plot_area", "must be told in one way"),
        (PLOT, {"plot_width": "0 ft"}, "plot_width", "not above zero"),
        (PLOT, {"times": None}, "times", "is missing"),
    ],
)
def test_a_slip_is_told_at_its_member(told: Json, changes: Json, where: str, words: str) -> None:
    faults = faults_of(calibrated(told, **changes))

    assert words in faults[f"machine.calibration.{where}"]


def test_one_bad_nozzle_refuses_the_plan_although_the_mean_is_right() -> None:
    good = plan_from_json(calibrated(CATCH, catches=["36 fl oz"] * 3))
    bad = plan_from_json(calibrated(CATCH, catches=["36 fl oz", "30 fl oz", "42 fl oz"]))

    assert bad.output.l_per_m2 == pytest.approx(good.output.l_per_m2, rel=1e-12)
    assert "nozzles_uneven" not in codes(good.refusals)
    (found,) = (each for each in bad.refusals if each.code == "nozzles_uneven")
    assert "Nozzle 2 gives 30 fl oz, 16.7% less than the mean: clean tip" in found.message
    assert "Nozzle 3 gives 42 fl oz, 16.7% more than the mean: swap the tip" in found.message


def test_a_slow_run_is_left_out_by_its_time() -> None:
    plan = plan_from_json(calibrated(GUN, times=["77 s", "79 s", "78 s", "95 s"]))

    (fluke,) = (each for each in plan.warnings if each.code == "calibration_fluke")
    assert "Run 4 took 95 s" in fluke.message
    (told,) = plan_as_json(plan)["output"]["flukes"]
    assert told["time"] == {"value": 95.0, "unit": "s"}
    assert "volume" not in told


def test_the_plan_tells_every_nozzle() -> None:
    told = plan_as_json(plan_from_json(calibrated(CATCH)))["output"]

    assert told["method"] == "timed_catch"
    assert [nozzle["nozzle"] for nozzle in told["nozzles"]] == [1, 2, 3]
    assert [nozzle["is_off"] for nozzle in told["nozzles"]] == [False, False, False]
