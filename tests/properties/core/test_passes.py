"""Passes over a machine's ground: counted by hand, and against published formulas."""

import math

import pytest
import shapely
from hypothesis import assume, given
from hypothesis import strategies as st
from shapely import LineString, MultiPolygon, Point, Polygon, affinity, box
from shapely.geometry.base import BaseGeometry

from properties.core.errors import Refused
from properties.core.passes import Passes, plan_passes

FT = 0.3048


def lane_lengths(plan: Passes) -> list[float]:
    return [round(lane.length, 6) for lane in plan.lanes]


def middles(plan: Passes) -> list[tuple[float, float]]:
    return sorted((round(p.x, 6), round(p.y, 6)) for p in (lane.centroid for lane in plan.lanes))


def test_a_14_ft_strip_takes_two_10_ft_swaths_and_is_sprayed_20_ft_wide() -> None:
    strip = box(0, 0, 14 * FT, 100 * FT)

    plan = plan_passes(strip, swath_m=10 * FT, headlands=0)

    assert plan.passes == 2
    assert plan.swept_m2 / FT**2 == pytest.approx(20 * 100)
    assert plan.double_m2 / FT**2 == pytest.approx(6 * 100)
    assert plan.double_share == pytest.approx(6 / 14)
    assert [plan.missed_m2, plan.outside_m2] == pytest.approx([0, 0], abs=1e-9)


def test_the_same_strip_driven_round_is_sprayed_20_ft_wide_but_for_its_ends() -> None:
    strip = box(0, 0, 14 * FT, 100 * FT)

    plan = plan_passes(strip, swath_m=10 * FT, headlands=1)

    assert (plan.passes, len(plan.headlands)) == (0, 1)
    # At each end the boom crosses once: 10 ft of the length, 14 ft wide.
    assert plan.swept_m2 / FT**2 == pytest.approx(20 * 80 + 2 * 14 * 10)
    assert plan.missed_share == pytest.approx(0, abs=1e-9)


@given(
    width_cm=st.integers(100, 4000),
    swath_cm=st.integers(100, 600),
    turn_deg=st.integers(0, 179),
)
def test_a_rectangle_takes_its_width_over_the_swath_rounded_up(
    width_cm: int, swath_cm: int, turn_deg: int
) -> None:
    assume(width_cm % swath_cm != 1)  # the last centimetre is not worth a pass
    width_m, swath_m = width_cm / 100, swath_cm / 100
    lawn = affinity.rotate(box(0, 0, width_m, 200), -turn_deg, origin=(0, 0))

    plan = plan_passes(lawn, swath_m=swath_m, headlands=0, heading_deg=turn_deg)

    assert plan.passes == math.ceil(width_cm / swath_cm)
    assert plan.covered_area_m2 == pytest.approx(lawn.area)
    assert plan.swept_m2 == pytest.approx(plan.passes * swath_m * 200)


@pytest.mark.parametrize("turn_deg", range(0, 91, 6))
@pytest.mark.parametrize("sides_m", [(25.82, 6.2), (11.13, 17.7), (25.85, 6.23)])
def test_a_lane_flush_with_a_slanting_edge_is_not_lost(
    sides_m: tuple[float, float], turn_deg: int
) -> None:
    lawn = affinity.rotate(box(0, 0, *sides_m), turn_deg, origin=(0, 0))

    plan = plan_passes(lawn, swath_m=2, headlands=0)

    assert plan.covered_area_m2 == pytest.approx(lawn.area)


# Work rate, common practice: acres per hour = mph * swath in feet / 8.25 with no time lost.
# The 8.25 is 43 560 sq ft in an acre over 5280 ft in a mile.
@pytest.mark.parametrize(("mph", "swath_ft"), [(3.0, 10.0), (4.5, 8.0), (5.0, 5.0)])
def test_one_lane_treats_ground_at_the_published_work_rate(mph: float, swath_ft: float) -> None:
    lawn = box(0, 0, swath_ft * FT, 1000 * FT)

    plan = plan_passes(
        lawn, swath_m=swath_ft * FT, headlands=0, speed_m_per_s=mph * 5280 * FT / 3600
    )

    assert plan.work_s is not None
    acres_per_hour = plan.covered_area_m2 / (43_560 * FT**2) / (plan.work_s / 3600)
    assert acres_per_hour == pytest.approx(mph * swath_ft / 8.25, rel=1e-9)


def test_time_is_the_way_over_the_speed_and_the_turns() -> None:
    plan = plan_passes(box(0, 0, 6, 50), swath_m=2, headlands=0, speed_m_per_s=1.5, turn_s=8)

    # Three lanes of 50 m, two ways of a swath between them, two turns.
    assert plan.driven_m == pytest.approx(154)
    assert plan.work_s == pytest.approx(154 / 1.5 + 16)
    assert plan_passes(box(0, 0, 6, 50), swath_m=2).work_s is None


def test_lanes_run_along_the_longer_side_to_and_fro() -> None:
    plan = plan_passes(box(0, 0, 9, 40), swath_m=2, headlands=0)

    assert plan.heading_deg == 0
    assert plan.turns == 4
    assert lane_lengths(plan) == [40] * 5
    ways = [lane.coords[1][1] > lane.coords[0][1] for lane in plan.lanes]
    assert ways in ([True, False] * 2 + [True], [False, True] * 2 + [False])
    # Nine metres in five lanes of two: flush with both edges, the metre of overlap shared out.
    assert [x for x, _ in middles(plan)] == [1, 2.75, 4.5, 6.25, 8]


@pytest.mark.parametrize(("asked", "heading"), [(0, 0), (90, 90), (270, 90), (-10, 170), (360, 0)])
def test_a_heading_that_is_asked_for_is_kept(asked: float, heading: float) -> None:
    plan = plan_passes(box(0, 0, 9, 40), swath_m=2, heading_deg=asked)

    assert plan.heading_deg == heading
    for lane in plan.lanes:
        (x1, y1), (x2, y2) = lane.coords
        assert math.degrees(math.atan2(x2 - x1, y2 - y1)) % 180 == pytest.approx(heading % 180)


def test_a_round_along_the_edge_of_a_rectangle_is_as_long_as_its_middle_line() -> None:
    plan = plan_passes(box(0, 0, 30, 20), swath_m=2, headlands=1)

    assert [round(ring.length, 6) for ring in plan.headlands] == [2 * (28 + 18)]
    # What is left is 26 by 16 m: eight lanes side by side.
    assert lane_lengths(plan) == [26] * 8
    assert plan.swept_m2 == pytest.approx(600)
    assert plan.double_m2 == pytest.approx(0, abs=1e-6)
    # Ring, eight lanes, seven ways between; from the ring's corner (1, 1) to the lane's (2, 3).
    assert plan.driven_m == pytest.approx(92 + 8 * 26 + 7 * 2 + math.hypot(1, 2))
    assert plan.turns == 8


def test_a_second_round_runs_a_swath_further_in() -> None:
    plan = plan_passes(box(0, 0, 30, 20), swath_m=2, headlands=2)

    assert [round(ring.length, 6) for ring in plan.headlands] == [92, 76]
    assert lane_lengths(plan) == [22] * 6
    assert plan.swept_m2 == pytest.approx(600)


def test_a_house_is_driven_round_as_the_edge_is() -> None:
    lawn = box(0, 0, 40, 30).difference(box(14, 10, 24, 20))

    plan = plan_passes(lawn, swath_m=2, headlands=1)

    assert len(plan.headlands) == 2
    lengths = sorted(ring.length for ring in plan.headlands)
    # Round the house: its sides, and a quarter of a circle of a metre at each corner.
    assert lengths == pytest.approx([40 + 2 * math.pi, 2 * (38 + 28)], rel=1e-3)
    assert plan.missed_share < 1e-4
    assert plan.outside_share < 1e-3


def test_lanes_are_broken_where_their_ground_is() -> None:
    lawn = box(0, 0, 40, 30).difference(box(14, 10, 24, 20))

    plan = plan_passes(lawn, swath_m=2, headlands=0, heading_deg=90)

    assert sorted(lane_lengths(plan)) == [14] * 5 + [16] * 5 + [40] * 10
    assert [plan.double_m2, plan.missed_m2, plan.outside_m2] == pytest.approx([0] * 3, abs=1e-6)


def test_a_lane_is_carried_on_where_only_part_of_its_strip_holds_ground() -> None:
    # In the south 5 m of the 9 m are lawn: the third lane of two metres has a metre there.
    lawn = shapely.union(box(0, 0, 10, 20), box(0, -20, 5, 0))

    plan = plan_passes(lawn, swath_m=2, headlands=0, heading_deg=0)

    assert sorted(lane_lengths(plan)) == [20, 20, 40, 40, 40]
    assert plan.missed_m2 == pytest.approx(0, abs=1e-6)
    assert plan.outside_m2 == pytest.approx(20)


def test_an_edge_between_two_lanes_gives_no_lane_a_tail() -> None:
    lawn = shapely.union(box(0, 0, 8, 20), box(0, -20, 4 + 1e-7, 0))

    plan = plan_passes(lawn, swath_m=2, headlands=0, heading_deg=0)

    assert sorted(lane_lengths(plan)) == [20, 20, 40, 40]


def test_lawns_apart_have_lanes_of_their_own() -> None:
    lawns = MultiPolygon([box(0, 0, 4, 20), box(50, 1, 55, 21)])

    plan = plan_passes(lawns, swath_m=2, headlands=0)

    assert [x for x, _ in middles(plan)] == [1, 3, 51, 52.5, 54]
    assert plan.turns == 4


def test_ground_as_wide_as_the_swath_is_one_lane_not_a_round() -> None:
    plan = plan_passes(box(0, 0, 2, 30), swath_m=2, headlands=2)

    assert (len(plan.headlands), lane_lengths(plan)) == (0, [30])
    assert plan.double_m2 == pytest.approx(0, abs=1e-9)


def test_a_round_lawn_is_covered_by_rounds_and_lanes() -> None:
    plan = plan_passes(Point(0, 0).buffer(15, quad_segs=32), swath_m=2, headlands=2)

    assert len(plan.headlands) == 2
    assert plan.missed_share < 1e-3
    assert plan.outside_share < 1e-3


@pytest.mark.parametrize("headlands", [0, 1, 2])
@pytest.mark.parametrize(
    "ground",
    [
        MultiPolygon(),
        Polygon(),
        box(0, 0, 0.01, 30),
        box(0, 0, 0.4, 0.4),
        LineString([(0, 0), (9, 9)]),
    ],
)
def test_ground_too_small_for_a_pass_gets_none(ground: BaseGeometry, headlands: int) -> None:
    plan = plan_passes(ground, swath_m=2, headlands=headlands, speed_m_per_s=1)

    assert (plan.passes, plan.turns, plan.driven_m, plan.work_s) == (0, 0, 0, 0)
    assert plan.missed_m2 == pytest.approx(ground.area)
    assert plan.double_share == plan.outside_share == 0
    assert plan.missed_share == (1 if ground.area else 0)


def test_a_ring_without_lanes_can_be_all_there_is() -> None:
    lawns = MultiPolygon([box(0, 0, 4, 20), box(10, 0, 14, 20)])

    plan = plan_passes(lawns, swath_m=2, headlands=1)

    assert (plan.passes, plan.turns) == (0, 1)
    # Two rounds of 2 by 18 m, and the way from one to the other.
    assert plan.driven_m == pytest.approx(80 + 8)


def test_a_finer_heading_than_its_edges_is_not_needed_on_an_l() -> None:
    lawn = affinity.rotate(shapely.union(box(0, 0, 30, 12), box(0, 0, 12, 28)), 20)
    best = plan_passes(lawn, swath_m=2.4384)

    askew = plan_passes(lawn, swath_m=2.4384, heading_deg=(best.heading_deg + 45) % 180)

    assert best.heading_deg in (pytest.approx(70), pytest.approx(160))
    assert best.driven_m < askew.driven_m
    assert best.double_share < askew.double_share


@given(turn=st.integers(0, 3), flip=st.booleans())
def test_the_same_lawn_drawn_from_another_corner_gets_the_same_passes(
    turn: int, flip: bool
) -> None:
    corners = [(0.0, 0.0), (31.0, 2.0), (29.0, 23.0), (3.0, 19.0)]
    again = corners[turn:] + corners[:turn]
    expected = plan_passes(Polygon(corners), swath_m=2.2)

    plan = plan_passes(Polygon(again[::-1] if flip else again), swath_m=2.2)

    assert plan.heading_deg == expected.heading_deg
    assert lane_lengths(plan) == lane_lengths(expected)
    assert plan.driven_m == pytest.approx(expected.driven_m)
    assert plan.double_m2 == pytest.approx(expected.double_m2)


@pytest.mark.parametrize(
    ("asked", "field"),
    [
        ({"swath_m": 0}, "swath_m"),
        ({"swath_m": float("nan")}, "swath_m"),
        ({"swath_m": 0.001}, "swath_m"),
        ({"headlands": 3}, "headlands"),
        ({"headlands": -1}, "headlands"),
        ({"speed_m_per_s": 0}, "speed_m_per_s"),
        ({"turn_s": -1}, "turn_s"),
        ({"turn_s": float("inf")}, "turn_s"),
        ({"heading_deg": float("nan")}, "heading_deg"),
    ],
)
def test_a_number_that_cannot_be_driven_is_refused(asked: dict[str, float], field: str) -> None:
    with pytest.raises(Refused) as refused:
        plan_passes(box(0, 0, 30, 20), **({"swath_m": 2} | asked))  # type: ignore[arg-type]

    assert refused.value.field == field
