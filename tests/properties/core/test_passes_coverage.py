"""Covered, double, missed and outside ground, against a count of points on a grid."""

import itertools

import numpy as np
import pytest
import shapely
from hypothesis import assume, given
from hypothesis import strategies as st
from shapely import MultiPolygon, Point, Polygon, affinity, box
from shapely.geometry.base import BaseGeometry

from properties.core.passes import Passes, cover, plan_passes
from tests.properties.core.counting import Floats, inside

SWATH_M = 2.0


def metres(low: int, high: int) -> st.SearchStrategy[float]:
    return st.integers(low * 100, high * 100).map(lambda centimetres: centimetres / 100)


@st.composite
def lawns(draw: st.DrawFn) -> Polygon | MultiPolygon:
    """Concave lawns with beds and a house, in one piece or several, none thinner than rounding."""
    lawn: BaseGeometry = box(0, 0, draw(metres(5, 30)), draw(metres(5, 30)))
    if draw(st.booleans()):
        lawn = lawn.union(box(-draw(metres(3, 12)), 0, 1, draw(metres(3, 12))))
    spots = st.tuples(metres(-2, 30), metres(-2, 30))
    for _ in range(draw(st.integers(0, 3))):
        x, y = draw(spots)
        lawn = lawn.difference(box(x, y, x + draw(metres(1, 9)), y + draw(metres(1, 9))))
    for _ in range(draw(st.integers(0, 1))):
        lawn = lawn.difference(Point(draw(spots)).buffer(draw(metres(1, 3)), quad_segs=3))
    lawn = affinity.rotate(lawn, draw(st.integers(0, 90)), origin=(0, 0))
    pieces = [part for part in shapely.get_parts(lawn).tolist() if part.area > 4]
    assume(pieces)
    return pieces[0] if len(pieces) == 1 else MultiPolygon(pieces)


def beside(line: Floats, x: Floats, y: Floats) -> tuple[Floats, Floats]:
    """How far along a straight line points lie, from 0 to its length, and how far beside it."""
    (x1, y1), (x2, y2) = line
    length = np.hypot(x2 - x1, y2 - y1)
    east, north = (x2 - x1) / length, (y2 - y1) / length
    along = (x - x1) * east + (y - y1) * north
    across = np.abs((x - x1) * north - (y - y1) * east)
    return np.where((along >= 0) & (along <= length), across, np.inf), along


def grid(ground: BaseGeometry, step_m: float) -> tuple[Floats, Floats]:
    """One point somewhere in each square of a grid, so that no row of them follows an edge."""
    west, south, east, north = ground.buffer(3).bounds
    x, y = np.meshgrid(np.arange(west, east, step_m), np.arange(south, north, step_m))
    within = np.random.default_rng(2026).uniform(0, step_m, (2, x.size))
    return x.ravel() + within[0], y.ravel() + within[1]


def slack_m2(edges_m: float, step_m: float) -> float:
    """A point stands for its square: along edges each square is wrong by chance, by half.

    Three times the root of the number of such squares is more than five standard errors.
    """
    return float(step_m**2 * (3 + 3 * np.sqrt(edges_m / step_m)))


@given(lawn=lawns(), headlands=st.integers(0, 2))
def test_the_swaths_are_covered_double_and_outside_and_the_ground_covered_and_missed(
    lawn: BaseGeometry, headlands: int
) -> None:
    plan = plan_passes(lawn, swath_m=SWATH_M, headlands=headlands)

    assert plan.covered_area_m2 + plan.missed_m2 == pytest.approx(lawn.area, rel=1e-9)
    assert plan.covered_area_m2 + plan.double_m2 + plan.outside_m2 == pytest.approx(
        plan.swept_m2, rel=1e-9
    )
    assert plan.swept_m2 == pytest.approx(sum(strip.area for strip in plan.strips))


@given(lawn=lawns(), headlands=st.integers(0, 2))
def test_no_ground_is_missed_but_what_is_too_small_for_a_pass(
    lawn: BaseGeometry, headlands: int
) -> None:
    plan = plan_passes(lawn, swath_m=SWATH_M, headlands=headlands)

    # On a grid: without one the overlay loses strips that are flush with an edge.
    swaths = shapely.union_all(plan.strips, grid_size=1e-9)
    missed = shapely.difference(lawn, swaths, grid_size=1e-9)
    for part in shapely.get_parts(missed).tolist():
        assert part.area < 0.05 * SWATH_M**2 + 1e-6 or part.buffer(-0.0101).is_empty


@given(lawn=lawns(), headlands=st.integers(0, 2))
def test_areas_agree_with_a_count_of_points_under_each_strip(
    lawn: BaseGeometry, headlands: int
) -> None:
    step_m = 0.33
    x, y = grid(lawn, step_m)
    plan = plan_passes(lawn, swath_m=SWATH_M, headlands=headlands)

    layers = sum((inside(strip, x, y) for strip in plan.strips), np.zeros(x.shape))

    on_lawn = inside(lawn, x, y)
    edges_m = lawn.length + sum(strip.length for strip in plan.strips)
    slack = slack_m2(edges_m, step_m)
    for counted, area_m2 in (
        (on_lawn & (layers > 0), plan.covered_area_m2),
        (on_lawn & (layers == 0), plan.missed_m2),
        (on_lawn * np.maximum(layers - 1, 0), plan.double_m2),
        (~on_lawn * layers, plan.outside_m2),
    ):
        assert counted.sum() * step_m**2 == pytest.approx(area_m2, abs=slack)


@given(lawn=lawns())
def test_lanes_alone_cover_what_lies_within_half_a_swath_of_them(lawn: BaseGeometry) -> None:
    x, y = grid(lawn, 0.47)
    plan = plan_passes(lawn, swath_m=SWATH_M, headlands=0)

    layers = np.zeros(x.shape)
    for lane in plan.lanes:
        across, _ = beside(np.array(lane.coords), x, y)
        layers += across < SWATH_M / 2

    on_lawn = inside(lawn, x, y)
    step_m2 = 0.47**2
    slack = slack_m2(lawn.length + 2.2 * plan.driven_m, 0.47)
    assert (on_lawn & (layers > 0)).sum() * step_m2 == pytest.approx(
        plan.covered_area_m2, abs=slack
    )
    assert layers.sum() * step_m2 == pytest.approx(plan.swept_m2, abs=slack)


@given(lawn=lawns(), headlands=st.integers(1, 2))
def test_ground_within_half_a_swath_of_a_ring_is_under_a_strip(
    lawn: BaseGeometry, headlands: int
) -> None:
    x, y = grid(lawn, 0.61)
    plan: Passes = plan_passes(lawn, swath_m=SWATH_M, headlands=headlands)

    near = np.zeros(x.shape, dtype=bool)
    for ring in plan.headlands:
        for edge in itertools.pairwise(np.array(ring.coords)):
            across, _ = beside(np.array(edge), x, y)
            near |= across < SWATH_M / 2 - 0.01
    layers = sum((inside(strip, x, y) for strip in plan.strips), np.zeros(x.shape))

    assert (layers[near] > 0).all()


def test_three_layers_count_as_two_too_many() -> None:
    ground = box(0, 0, 10, 10)

    told = cover(ground, [box(0, 0, 10, 4), box(0, 2, 10, 6), box(0, 3, 12, 5)])

    assert (told.ground_m2, told.swept_m2, told.covered_m2) == (100, 104, 60)
    assert (told.double_m2, told.missed_m2, told.outside_m2) == (40, 40, 4)


def test_without_a_swath_all_ground_is_missed() -> None:
    told = cover(box(0, 0, 10, 10), [])

    assert (told.swept_m2, told.covered_m2, told.missed_m2) == (0, 0, 100)
