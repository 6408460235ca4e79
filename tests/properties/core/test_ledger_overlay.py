"""Cells of the ledger on any lawn with any history, against a count of points."""

import math

import numpy as np
import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st
from shapely import MultiPolygon, Point, Polygon, affinity, box
from shapely.geometry.base import BaseGeometry

from properties.core.ledger import Application, ledger
from tests.properties.core.counting import inside
from tests.properties.core.test_ledger import EAST, LAWN, WEST, applied


def metres(low: int, high: int) -> st.SearchStrategy[float]:
    return st.integers(low * 1000, high * 1000).map(lambda millimetres: millimetres / 1000)


def ring(centre: tuple[float, float], radius_m: float) -> BaseGeometry:
    spot = Point(centre)
    return spot.buffer(radius_m, quad_segs=3).difference(spot.buffer(radius_m / 2, quad_segs=2))


places = st.tuples(metres(-3, 33), metres(-3, 23))
areas = st.one_of(
    st.tuples(places, places).map(lambda ends: box(*ends[0], *ends[1])),
    st.lists(places, min_size=3, max_size=8).map(
        lambda corners: shapely.MultiPoint(corners).convex_hull
    ),
    st.builds(ring, places, metres(1, 9)),
).filter(lambda area: area.area > 0.1 and area.is_valid)
lawns = st.sampled_from(
    [
        LAWN,
        LAWN.difference(box(8, 6, 20, 14)),
        MultiPolygon([WEST, box(15, 3, 28, 20)]),
        affinity.rotate(LAWN, 31),
    ]
)
histories = st.lists(areas, max_size=7).map(
    lambda grounds: [
        applied(f"a{index}", ground, day=index % 3, w=1.0 + index, n=0.5)
        for index, ground in enumerate(grounds)
    ]
)


@given(lawn=lawns, history=histories)
def test_cells_are_disjoint_and_fill_the_turf(lawn: Polygon, history: list[Application]) -> None:
    book = ledger(lawn, history)

    grounds = [cell.geometry for cell in book.cells]
    assert all(ground.is_valid for ground in grounds)
    assert sum(cell.area_m2 for cell in book.cells) == pytest.approx(lawn.area, rel=1e-9)
    assert shapely.union_all(grounds).area == pytest.approx(lawn.area, rel=1e-9)
    assert len({cell.refs for cell in book.cells}) == len(book.cells)


quarters = st.lists(st.integers(0, 4), min_size=2, max_size=2, unique=True).map(sorted)


@given(
    sides_m=st.tuples(metres(5, 60), metres(5, 60)),
    strips=st.lists(st.tuples(quarters, quarters), max_size=10),
    turn_deg=st.floats(0, 360),
)
def test_no_product_is_lost_where_outlines_share_edges_but_for_rounding(
    sides_m: tuple[float, float],
    strips: list[tuple[list[int], list[int]]],
    turn_deg: float,
) -> None:
    def turned(west: int, south: int, east: int, north: int) -> BaseGeometry:
        corners = (np.array([west, south, east, north]) / 4 * (sides_m * 2)).tolist()
        ground: BaseGeometry = affinity.rotate(box(*corners), turn_deg, origin=(-17, 40))
        return ground

    season = [
        applied(str(index), turned(u[0], v[0], u[1], v[1]), w=1.0 + index)
        for index, (u, v) in enumerate(strips)
    ]

    book = ledger(turned(0, 0, 4, 4), season)

    assert all(cell.geometry.is_valid for cell in book.cells)
    assert sum(cell.area_m2 * cell.sums.get("w", 0) for cell in book.cells) == pytest.approx(
        sum(entry.geometry.area * entry.amounts["w"] for entry in season), rel=1e-8
    )
    part = book.sums_in(turned(1, 1, 2, 4))
    assert sum(cell.area_m2 for cell in part) == pytest.approx(math.prod(sides_m) * 3 / 16)


@given(lawn=lawns, history=histories)
def test_every_grid_point_received_what_its_cell_says(
    lawn: Polygon, history: list[Application]
) -> None:
    east, north = (
        axis.ravel() for axis in np.meshgrid(np.arange(-4, 34, 1.3), np.arange(-4, 24, 1.3))
    )
    east, north = east + 0.0317, north + 0.0173
    counted = np.zeros(east.shape)
    for entry in history:
        counted += entry.amounts["w"] * inside(entry.geometry, east, north)

    book = ledger(lawn, history, thinner_than_m=0, smaller_than_m2=0)

    told = np.zeros(east.shape)
    edge = np.zeros(east.shape, dtype=bool)
    for outline in [lawn, *(entry.geometry for entry in history)]:
        edge |= shapely.distance(outline.boundary, shapely.points(east, north)) < 1e-6
    for cell in book.cells:
        told += cell.sums.get("w", 0) * inside(cell.geometry, east, north)
    counted *= inside(lawn, east, north)
    assert told[~edge] == pytest.approx(counted[~edge], abs=1e-9)


@given(lawn=lawns, history=histories, data=st.data())
def test_the_order_in_which_applications_are_entered_changes_nothing(
    lawn: Polygon, history: list[Application], data: st.DataObject
) -> None:
    book = ledger(lawn, history)

    again = ledger(lawn, data.draw(st.permutations(history)))

    assert again.applications == book.applications
    assert [(cell.refs, cell.sums, cell.highest) for cell in again.cells] == [
        (cell.refs, cell.sums, cell.highest) for cell in book.cells
    ]
    assert all(
        one.geometry.equals(other.geometry)
        for one, other in zip(book.cells, again.cells, strict=True)
    )


@given(seed=st.integers(0, 2**32 - 1))
def test_outlines_redrawn_within_a_centimetre_make_no_new_cells(seed: int) -> None:
    drawn = np.random.default_rng(seed)

    def redrawn(ground: Polygon) -> Polygon:
        corners = np.array(ground.exterior.coords)[:-1]
        return Polygon(corners + drawn.uniform(-0.0049, 0.0049, corners.shape))

    season = [
        applied("all", LAWN.buffer(1, join_style="mitre")),
        applied("west 1", redrawn(WEST), day=1),
        applied("east 1", redrawn(EAST), day=1),
        applied("west 2", redrawn(WEST), day=30),
        applied("patch", redrawn(box(15, 5, 18, 9)), day=40),
    ]

    book = ledger(LAWN, season)

    assert {cell.refs: cell.sums["w"] for cell in book.cells} == {
        ("all", "east 1"): 2.4,
        ("all", "west 1", "west 2"): pytest.approx(3.6),
        ("all", "east 1", "patch"): pytest.approx(3.6),
    }
    assert sum(cell.area_m2 for cell in book.cells) == pytest.approx(600, rel=1e-9)
