"""What is said about the runs of a calibration."""

import pytest

from planner.core.calibration import MeasuredCourse, Output, StatedOutput, output_of
from planner.core.checks.calibration import calibration_findings, target_findings
from planner.core.findings import Findings
from planner.core.shown import SHOWN, Units
from properties.core.units import parse_quantity
from tests.planner.core.asking import codes


def found_for(*gallons: float) -> Findings:
    volumes = tuple(parse_quantity(f"{volume} gal") for volume in gallons)
    course = MeasuredCourse(parse_quantity("100 ft"), volumes)
    output = output_of(course, swath_m=parse_quantity("10 ft").si)
    return calibration_findings(output, shown=SHOWN[Units.US])


def test_three_runs_that_agree_need_no_word() -> None:
    assert found_for(0.72, 0.70, 0.71) == Findings()


def test_a_fluke_is_named_with_what_it_used_and_how_far_it_is() -> None:
    found = found_for(1.0, 1.0, 1.0, 1.25)

    (fluke,) = found.warnings
    assert fluke.code == "calibration_fluke"
    assert "Run 4 used 1.25 gal, 25.0% more" in fluke.message
    assert found.refusals == ()


def test_a_fluke_that_leaves_two_runs_asks_for_another() -> None:
    found = found_for(1.0, 1.0, 0.5)

    assert codes(found.warnings) == ["calibration_fluke"]
    assert "50.0% less" in found.warnings[0].message
    assert codes(found.refusals) == ["calibration_needs_another_run"]
    assert "Only 2 runs are left after leaving out run 3" in found.refusals[0].message


def test_scattered_runs_are_refused_and_all_named() -> None:
    found = found_for(1.0, 1.3, 1.6)

    assert codes(found.refusals) == ["calibration_scattered"]
    assert "run 1 and run 3" in found.refusals[0].message
    assert found.warnings == ()


@pytest.mark.parametrize(
    ("gallons", "warned"),
    [
        pytest.param((0.95, 1.0, 1.05), [], id="exactly 5 % is not more"),
        pytest.param((0.94, 1.0, 1.06), ["calibration_uneven"], id="6 %"),
    ],
)
def test_runs_that_vary_by_more_than_five_percent_are_told(
    gallons: tuple[float, ...], warned: list[str]
) -> None:
    # Mean 1 and deviations ±d: the sample deviation is d.
    assert codes(found_for(*gallons).warnings) == warned


def test_a_stated_output_is_told_as_one() -> None:
    output = output_of(StatedOutput(parse_quantity("0.7 gal/1000 sq ft")), swath_m=3.0)

    found = calibration_findings(output, shown=SHOWN[Units.METRIC])

    assert codes(found.warnings) == ["output_stated"]
    # 1 gal/1,000 sq ft is 4.07458 L/100 m² (3.785411784 / 0.9290304).
    assert "2.852 L/100 m2" in found.warnings[0].message


@pytest.mark.parametrize(
    ("output", "is_unusual"),
    [("0.09", True), ("0.1", False), ("10", False), ("10.1", True)],
)
def test_an_output_that_turf_machines_do_not_have_is_told(output: str, is_unusual: bool) -> None:
    l_per_m2 = parse_quantity(f"{output} gal/1000 sq ft").si

    found = calibration_findings(Output(l_per_m2), shown=SHOWN[Units.US])

    assert ("output_unusual" in codes(found.warnings)) is is_unusual


@pytest.mark.parametrize(
    ("wanted", "words"),
    [
        (None, None),
        ("1 gal/1000 sq ft", None),
        ("0.9524 gal/1000 sq ft", None),
        ("1.0526 gal/1000 sq ft", None),
        # 1 / 0.9 is 11.1 % more: as much faster, or (0.9)² = 0.81 of the pressure.
        ("0.9 gal/1000 sq ft", "Go 11% faster or set the pressure 19% lower"),
        # 1 / 1.1 is 9.1 % less: as much slower, or 1.1² = 1.21 times the pressure.
        ("1.1 gal/1000 sq ft", "Go 9% slower or set the pressure 21% higher"),
        # Half as much again needs 2.25 times the pressure: no way but the speed or the tip.
        ("1.5 gal/1000 sq ft", "Go 33% slower, or change the tip"),
    ],
)
def test_an_output_off_the_wanted_one_says_what_would_bring_it_there(
    wanted: str | None, words: str | None
) -> None:
    output = Output(parse_quantity("1 gal/1000 sq ft").si)
    target = None if wanted is None else parse_quantity(wanted)

    found = target_findings(output, target, shown=SHOWN[Units.US])

    assert codes(found.refusals) == ([] if words is None else ["calibration_off_target"])
    assert words is None or words in found.refusals[0].message
