"""Output over a measured course, and which runs it is the mean of."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.core.calibration import (
    MeasuredCourse,
    StatedOutput,
    course_output_l_per_m2,
    judge_runs,
    output_of,
    variation_of,
)
from properties.core.errors import Refused
from properties.core.units import parse_quantity, quantity_of_si
from tests.planner.core.published import rows_of

volumes_l = st.floats(min_value=0.1, max_value=100)


@pytest.mark.parametrize("row", rows_of("measured_course.csv"), ids=lambda row: row["case"])
def test_a_published_course_gives_the_published_output(row: dict[str, str]) -> None:
    published = parse_quantity(row["output"])

    output = course_output_l_per_m2(
        volumes_l=[parse_quantity(row["volume_used"]).si],
        course_length_m=parse_quantity(row["course_length"]).si,
        swath_m=parse_quantity(row["swath"]).si,
    )

    shown = quantity_of_si(output, published.unit).value
    assert shown == pytest.approx(published.value, abs=float(row["tolerance"]))


@pytest.mark.parametrize("wrong", [0.0, -1.0, float("nan"), float("inf")])
@pytest.mark.parametrize("measure", ["course_length_m", "swath_m"])
def test_a_course_without_ground_has_no_output(measure: str, wrong: float) -> None:
    measures = {"course_length_m": 30.0, "swath_m": 3.0} | {measure: wrong}

    with pytest.raises(Refused) as refused:
        course_output_l_per_m2(volumes_l=[2.0], **measures)

    assert refused.value.field == measure


def test_the_output_is_the_mean_of_the_runs_over_the_ground_of_the_course() -> None:
    course = MeasuredCourse(
        parse_quantity("100 ft"), tuple(map(parse_quantity, ("0.72 gal", "0.70 gal", "0.71 gal")))
    )

    output = output_of(course, swath_m=parse_quantity("10 ft").si)

    # Mean 0.71 gal over 1,000 sq ft. Deviations 0.01, -0.01 and 0 gal: sample deviation 0.01 gal.
    assert quantity_of_si(output.l_per_m2, "gal/1000 sq ft").value == pytest.approx(0.71, rel=1e-12)
    assert output.variation == pytest.approx(0.01 / 0.71, rel=1e-12)
    assert (len(output.kept), output.flukes) == (3, ())


def test_a_stated_output_has_no_runs() -> None:
    output = output_of(StatedOutput(parse_quantity("0.7 gal/1000 sq ft")), swath_m=3.0)

    assert quantity_of_si(output.l_per_m2, "gal/1000 sq ft").value == pytest.approx(0.7, rel=1e-12)
    assert (output.runs, output.variation, output.is_scattered) == ((), None, False)


def test_the_variation_is_that_of_a_sample() -> None:
    # Spiegel's definition with n - 1: values 2, 4, 4, 4, 5, 5, 7, 9 have a sum of squares of 32.
    assert variation_of([2, 4, 4, 4, 5, 5, 7, 9]) == pytest.approx((32 / 7) ** 0.5 / 5, rel=1e-12)


@pytest.mark.parametrize(
    ("volumes", "flukes", "is_scattered"),
    [
        pytest.param([1.0, 1.0, 1.0, 1.25], [4], False, id="one far above"),
        pytest.param([0.5, 1.0, 1.0], [1], False, id="one far below"),
        pytest.param([1.0, 1.0, 1.0, 1.1], [], False, id="exactly a tenth is not far"),
        pytest.param([1.0, 1.0, 1.0, 1.101], [4], False, id="a little more than a tenth is far"),
        pytest.param([1.0, 1.3, 1.6], [], True, id="two of three far from the middle one"),
        pytest.param([1.0, 1.0, 1.5, 1.5], [], True, id="two camps"),
        pytest.param([1.0, 1.0, 1.0, 1.5, 2.0], [4, 5], False, id="three of five agree"),
    ],
)
def test_a_run_is_a_fluke_only_if_most_others_agree(
    volumes: list[float], flukes: list[int], is_scattered: bool
) -> None:
    course = MeasuredCourse(
        parse_quantity("100 ft"), tuple(parse_quantity(f"{volume} gal") for volume in volumes)
    )

    output = output_of(course, swath_m=3.048)

    assert [run.number for run in output.flukes] == flukes
    assert output.is_scattered is is_scattered


@given(volumes=st.lists(volumes_l, min_size=3, max_size=9), scale=st.floats(0.01, 100))
def test_runs_are_judged_alike_in_any_unit(volumes: list[float], scale: float) -> None:
    judged = judge_runs(volumes)
    scaled = judge_runs([volume * scale for volume in volumes])

    # A run that is a tenth away to the last digit may fall on either side.
    at_the_limit = any(abs(abs(run.deviation) - 0.1) < 1e-6 for run in judged)
    assert at_the_limit or [run.kept for run in judged] == [run.kept for run in scaled]


@given(volumes=st.lists(volumes_l, min_size=3, max_size=9))
def test_more_than_half_of_the_runs_are_always_kept(volumes: list[float]) -> None:
    runs = judge_runs(volumes)

    assert [run.read for run in runs] == volumes
    assert 2 * sum(run.kept for run in runs) > len(runs)
