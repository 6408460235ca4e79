"""Spread patterns by catch pans: overlaps by hand, in closed form, and as identities."""

import math
import statistics

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.core.machine.pattern import (
    Mode,
    Pattern,
    overlap_of,
    overlapped,
    overlaps_of,
    pattern_of,
    widest_swath,
)
from properties.core.errors import Refused

BACK, ROUND = Mode.BACK_AND_FORTH, Mode.ROUND_AND_ROUND

# Made-up catches in grams, a foot apart; sums, means and deviations worked out in exact
# arithmetic from the definitions. Spacing in feet: mean, CV (n − 1) of either mode in percent.
EVEN = (0.2, 0.6, 1.2, 2.0, 3.0, 3.9, 4.4, 4.6, 4.7, 4.6, 4.4, 3.9, 3.0, 2.0, 1.2, 0.6, 0.2)
EVEN_OVERLAPS = [
    (6, 7.4167, 3.853, 3.674),
    (8, 5.5625, 6.442, 6.223),
    (9, 4.9444, 2.880, 2.794),
    (10, 4.4500, 5.217, 5.077),
    (12, 3.7083, 23.409, 22.894),
]
SKEWED = (0.4, 1.1, 2.1, 3.3, 4.3, 4.9, 5.1, 5.0, 4.8, 4.4, 3.9, 3.2, 2.3, 1.4, 0.7, 0.3, 0.1)
SKEWED_OVERLAPS = [
    (6, 7.8833, 3.882, 16.007),
    (8, 5.9125, 8.832, 25.230),
    (9, 5.2556, 6.599, 25.779),
    (10, 4.7300, 7.658, 25.510),
    (12, 3.9417, 24.345, 30.231),
]

catches = st.lists(st.floats(0.1, 50), min_size=5, max_size=21).map(
    lambda left: (*left, *left[-2::-1])
)


def feet(catches: tuple[float, ...]) -> Pattern:
    """Pans a foot apart, with a foot as the unit of length."""
    return pattern_of(pan_spacing_m=1.0, catches=catches)


@pytest.mark.parametrize(
    ("pans", "row"),
    [(EVEN, row) for row in EVEN_OVERLAPS] + [(SKEWED, row) for row in SKEWED_OVERLAPS],
)
def test_overlaps_are_those_worked_out_by_hand(
    pans: tuple[float, ...], row: tuple[float, float, float, float]
) -> None:
    spacing, mean, round_percent, back_percent = row

    one = overlap_of(feet(pans), spacing_m=spacing, mode=ROUND)
    other = overlap_of(feet(pans), spacing_m=spacing, mode=BACK)

    assert (one.mean, other.mean) == pytest.approx((mean, mean), abs=5e-5)
    assert 100 * one.variation == pytest.approx(round_percent, abs=5e-4)
    assert 100 * other.variation == pytest.approx(back_percent, abs=5e-4)


def test_the_swath_of_the_half_rate_is_where_the_catch_falls_to_half() -> None:
    # Ohio State University Extension, Bulletin 817-00, figures 19 and 20: 4 in of product in the
    # vials of the middle, 2 in at 6 ft to either side, so passes 12 ft apart.
    vials = (0.5, 1.0, 2.0, 2.6, 3.2, 3.8, 4.0, 4.0, 4.0, 4.0, 4.0, 3.8, 3.2, 2.6, 2.0, 1.0, 0.5)

    assert feet(vials).half_rate_swath_m == pytest.approx(12.0)
    # By hand, straight between pans: 2.35 g between 2.0 and 3.0; 2.4 between 2.1 and 3.3.
    assert feet(EVEN).half_widths_m == pytest.approx((4.65, 4.65))
    assert feet(SKEWED).half_widths_m == pytest.approx((5.75, 3.8889), abs=5e-5)


def test_a_pattern_that_never_falls_to_half_reaches_to_its_last_pan() -> None:
    assert feet((3.0, 4.0, 4.0, 4.0, 3.0)).half_rate_swath_m == 4.0
    assert feet((3.0, 4.0, 4.0, 4.0, 3.0)).is_cut_off
    assert not feet(EVEN).is_cut_off


@pytest.mark.parametrize(("spacing", "percent"), [(1.0, 0.0), (1.5, 25.0), (2.0, 57.735)])
def test_a_triangle_overlaps_as_its_integral_says(spacing: float, percent: float) -> None:
    # r(x) = 1 − |x|: at a spacing of 1, 1.5 and 2 half-widths the integrals of r and r² over a
    # period give a coefficient of variation of 0, 1/4 and 1/√3.
    steps = 2_000
    triangle = tuple(1 - abs(place - steps / 2) / (steps / 2) for place in range(steps + 1))
    pattern = Pattern(2 / steps, triangle)

    falls = overlapped(pattern, spacing_m=spacing, mode=ROUND)

    share = statistics.pstdev(falls) / statistics.fmean(falls)
    assert 100 * share == pytest.approx(percent, abs=0.05)


def test_a_drop_spreader_with_a_gap_misses_as_much() -> None:
    # Even over 3 ft, passes 3.25 ft apart: 3 / 3.25 of the rate, variation √(3.25 / 3 − 1).
    steps = 3_000
    pattern = Pattern(3 / steps, (1.0,) * (steps + 1))

    falls = overlapped(pattern, spacing_m=3.25, mode=ROUND)

    mean = statistics.fmean(falls)
    assert mean == pytest.approx(3 / 3.25, rel=1e-3)
    # The points are a thousandth of a foot apart, and the gap is a quarter of a foot.
    assert statistics.pstdev(falls) / mean == pytest.approx(math.sqrt(3.25 / 3 - 1), rel=5e-3)


@given(pans=catches, spacing=st.integers(2, 20))
def test_an_even_pattern_is_as_good_back_and_forth_as_round_and_round(
    pans: tuple[float, ...], spacing: int
) -> None:
    # Ohio State University Extension, Bulletin 817-00, on operating modes.
    one = overlapped(feet(pans), spacing_m=spacing, mode=ROUND)
    other = overlapped(feet(pans), spacing_m=spacing, mode=BACK)

    assert statistics.fmean(one) == pytest.approx(statistics.fmean(other), rel=1e-9)
    assert statistics.pstdev(one) == pytest.approx(statistics.pstdev(other), rel=1e-6, abs=1e-6)


@given(pans=catches, spacing=st.integers(2, 20), factor=st.floats(0.01, 100))
def test_all_that_was_spread_comes_down_and_the_unit_does_not_matter(
    pans: tuple[float, ...], spacing: int, factor: float
) -> None:
    pattern = feet(pans)
    scaled = pattern_of(pan_spacing_m=0.3048, catches=[catch * factor for catch in pans])

    overlap = overlap_of(pattern, spacing_m=spacing, mode=ROUND)
    metric = overlap_of(scaled, spacing_m=spacing * 0.3048, mode=ROUND)

    assert overlap.mean * spacing == pytest.approx(math.fsum(pans), rel=1e-9)
    assert metric.variation == pytest.approx(overlap.variation, rel=1e-6, abs=1e-9)


def test_the_widest_swath_is_the_last_before_the_first_that_varies_too_much() -> None:
    round_and_round = overlaps_of(feet(SKEWED), mode=ROUND)
    back_and_forth = overlaps_of(feet(SKEWED), mode=BACK)

    wide = widest_swath(round_and_round, ceiling=0.15)
    narrow = widest_swath(back_and_forth, ceiling=0.15)

    # A skewed pattern is better driven round and round; back and forth it is uneven from 6 ft on.
    assert wide is not None
    assert narrow is not None
    assert wide.spacing_m > 10
    assert narrow.spacing_m < 6
    assert widest_swath(back_and_forth, ceiling=1e-6) is None
    assert widest_swath(back_and_forth, ceiling=10.0) == back_and_forth[-1]


@pytest.mark.parametrize(
    ("catches", "words"),
    [
        ([1, 2, 1], "3 pans were told"),
        ([1, 2, 3, 3, 2, 1], "6 pans were told"),
        ([1.0] * 103, "103 pans were told"),
        ([1, 2, -3, 2, 1], "Pan 3 cannot have caught -3"),
        ([1, 2, float("nan"), 2, 1], "Pan 3 cannot"),
        ([1, 2, 0, 2, 1], "The middle pan caught nothing"),
    ],
)
def test_pans_that_make_no_pattern_are_refused(catches: list[float], words: str) -> None:
    with pytest.raises(Refused) as refused:
        pattern_of(pan_spacing_m=1.0, catches=catches)

    assert refused.value.field == "catches"
    assert words in refused.value.problem


def test_pans_or_passes_without_a_distance_are_refused() -> None:
    with pytest.raises(Refused):
        pattern_of(pan_spacing_m=0.0, catches=EVEN)
    with pytest.raises(Refused):
        overlapped(feet(EVEN), spacing_m=0.0, mode=ROUND)
    with pytest.raises(Refused) as refused:
        overlap_of(feet(EVEN), spacing_m=0.5, mode=ROUND)
    assert "less than two pans apart" in refused.value.problem
