"""Lines across ground are as long as an intersection with each line says."""

import math

import numpy as np
import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st
from numpy.typing import NDArray
from shapely import MultiPolygon, Polygon, affinity
from shapely.geometry.base import BaseGeometry

from properties.core.sweep.sections import Lines, lengths_left_over, lengths_over, lines_across

places_m = st.integers(0, 40_000).map(lambda millimetres: millimetres / 1000)
sizes_m = st.integers(500, 15_000).map(lambda millimetres: millimetres / 1000)


@st.composite
def outlines(draw: st.DrawFn) -> Polygon:
    corners = draw(st.integers(3, 8))
    turn = draw(st.floats(0, math.pi))
    angles = [turn + 2 * math.pi * corner / corners for corner in range(corners)]
    x, y, size = draw(places_m), draw(places_m), draw(sizes_m)
    ring = [(x + size * math.cos(angle), y + size * math.sin(angle)) for angle in angles]
    return Polygon(ring[:: draw(st.sampled_from([1, -1]))])


def cut_by_each_line_m(ground: BaseGeometry, lines: Lines) -> float:
    """The length of twelve lines within a ground, from one intersection for each."""
    (south,), (spacing,) = lines.south_m, lines.spacing_m
    # Each line runs at the smaller golden share of its strip.
    heights = [south + spacing * (number + 0.381966011250105) for number in range(12)]
    drawn = [shapely.LineString([(-1e3, height), (1e3, height)]) for height in heights]
    return math.fsum(line.intersection(ground).length for line in drawn)


def rings_of(*areas: BaseGeometry) -> NDArray[np.object_]:
    return shapely.get_rings(shapely.get_parts(list(areas)))


@given(turf=outlines(), cut=st.lists(outlines(), max_size=4))
def test_what_outlines_leave_over_is_as_long_as_what_an_overlay_leaves(
    turf: Polygon, cut: list[Polygon]
) -> None:
    lines = lines_across(shapely.bounds([turf]))
    rings = rings_of(turf, *cut)
    turns = np.array([1] + [-1] * len(cut))

    left_m = lengths_left_over(lines, rings, row=np.zeros(len(rings), dtype=np.intp), turns=turns)

    left = turf.difference(shapely.union_all(cut))
    assert left_m == [pytest.approx(cut_by_each_line_m(left, lines), abs=1e-9)]
    assert lengths_over(lines, np.array([left], dtype=object)) == [
        pytest.approx(left_m[0], abs=1e-9)
    ]


def test_rows_are_told_apart_and_holes_are_left_out() -> None:
    yard = Polygon(shapely.box(0, 0, 12, 12).exterior, [shapely.box(3, 3, 9, 9).exterior])
    two = MultiPolygon([affinity.translate(yard, 50, 3), shapely.box(0, 3, 2, 15)])
    grounds = shapely.orient_polygons(np.array([yard, two], dtype=object))

    # One line for each metre of height; six of them cross the hole of six metres.
    told_m = lengths_over(lines_across(shapely.bounds(grounds)), grounds)

    assert told_m.tolist() == pytest.approx([12 * 12 - 36, 12 * 12 - 36 + 12 * 2])


def test_a_row_without_turf_has_no_length() -> None:
    lines = lines_across(np.array([(np.inf, np.inf, -np.inf, -np.inf), (0, 0, 1, 12)]))

    told_m = lengths_over(lines, np.array([None, shapely.box(0, 0, 1, 12)], dtype=object))

    assert told_m.tolist() == pytest.approx([0, 12])
