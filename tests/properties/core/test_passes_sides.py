"""A boom whose sides shut off: less twice and less outside, and nothing left out."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely import LineString, MultiPolygon, Polygon, box

from properties.core.passes import plan_passes
from properties.core.passes.coverage import Coverage, cover
from properties.core.passes.sides import with_sides_shut


def shut(ground: Polygon, *, swath_m: float, sides: int, headlands: int = 0) -> Coverage:
    passes = plan_passes(ground, swath_m=swath_m, headlands=headlands, heading_deg=0)
    return cover(
        ground,
        with_sides_shut(ground, passes.strips, passes.lanes, swath_m=swath_m, sides=sides),
    )


def test_a_side_that_would_reach_beyond_a_step_in_the_edge_is_shut_there() -> None:
    # One lane of 4 m over an L: 10 m long 4 m wide, and 10 m more only 2 m wide.
    ground = Polygon([(0, 0), (4, 0), (4, 10), (2, 10), (2, 20), (0, 20)])

    whole = plan_passes(ground, swath_m=4, headlands=0, heading_deg=0)
    halves = shut(ground, swath_m=4, sides=2)

    assert whole.outside_m2 == pytest.approx(20)
    assert halves.outside_m2 == pytest.approx(0, abs=1e-6)
    assert halves.missed_m2 == pytest.approx(0, abs=1e-6)


def test_a_side_over_ground_that_a_lane_before_has_sprayed_is_shut() -> None:
    # Two lanes of 4 m over 6 m: 2 m are sprayed twice, which is one of the second's halves.
    ground = box(0, 0, 6, 30)

    whole = plan_passes(ground, swath_m=4, headlands=0, heading_deg=0)

    assert whole.double_m2 == pytest.approx(60)
    assert shut(ground, swath_m=4, sides=2).double_m2 == pytest.approx(0, abs=1e-6)
    # Of four quarters, two.
    assert shut(ground, swath_m=4, sides=4).double_m2 == pytest.approx(0, abs=1e-6)


def test_a_side_that_is_over_new_ground_in_part_stays_open() -> None:
    # Two lanes of 4 m over 7 m: 1 m twice, half of what a side is wide.
    assert shut(box(0, 0, 7, 30), swath_m=4, sides=2).double_m2 == pytest.approx(30)


def test_a_slit_that_no_valve_is_quick_enough_for_does_not_shut_a_side() -> None:
    # A centimetre across the lane: each half stays open from end to end.
    ground = MultiPolygon([box(0, 0, 4, 10), box(0, 10.01, 4, 20)])
    lane = LineString([(2, 0), (2, 20)])

    opened = with_sides_shut(ground, [box(0, 0, 4, 20)], [lane], swath_m=4, sides=2)

    assert len(opened) == 2
    assert sum(each.area for each in opened) == pytest.approx(4 * 20)


def test_round_the_edge_all_sides_stay_open() -> None:
    ground = box(0, 0, 4, 30)
    passes = plan_passes(ground, swath_m=4, headlands=1)

    opened = with_sides_shut(ground, passes.strips, passes.lanes, swath_m=4, sides=2)

    rounds = len(passes.strips) - len(passes.lanes)
    assert opened[:rounds] == passes.strips[:rounds]


@given(
    slant=st.floats(-15, 15),
    width=st.floats(5, 25),
    sides=st.integers(2, 4),
    headlands=st.integers(0, 1),
)
def test_shutting_sides_never_leaves_ground_out_and_never_sprays_more(
    slant: float, width: float, sides: int, headlands: int
) -> None:
    ground = Polygon([(0, 0), (width, 0), (width + slant, 30), (slant, 30)])
    whole = plan_passes(ground, swath_m=4, headlands=headlands, heading_deg=0)

    halves = shut(ground, swath_m=4, sides=sides, headlands=headlands)

    assert halves.missed_m2 == pytest.approx(whole.missed_m2, abs=1e-3)
    assert halves.double_m2 <= whole.double_m2 + 1e-3
    assert halves.outside_m2 <= whole.outside_m2 + 1e-3
