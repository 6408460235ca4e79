"""Lines across ground are as long as an intersection with each line says."""

import math

import numpy as np
import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st
from shapely import MultiPolygon, Polygon, affinity
from shapely.geometry.base import BaseGeometry

from properties.core.sweep.rings import Rings, rings_drawn
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


def rings_of(*areas: BaseGeometry) -> Rings:
    """The rings of areas, each in a row of its own."""
    parts, row = shapely.get_parts(list(areas), return_index=True)
    lines, part = shapely.get_rings(parts, return_index=True)
    corners, ring = shapely.get_coordinates(lines, return_index=True)
    is_outer = np.array([True, *(part[1:] != part[:-1])])
    return rings_drawn(corners, ring=ring, owner=row[part], is_outer=is_outer)


@given(turf=outlines(), cut=st.lists(outlines(), max_size=4))
def test_what_outlines_leave_over_is_as_long_as_what_an_overlay_leaves(
    turf: Polygon, cut: list[Polygon]
) -> None:
    lines = lines_across(shapely.bounds([turf]))
    one_row = np.zeros(1 + len(cut), dtype=np.intp)
    drawn = rings_of(turf, *cut)
    every = drawn.wound(drawn.owner == 0).of(one_row)

    left_m, is_crossed = lengths_left_over(lines, every, is_turf=drawn.owner == 0)

    left = turf.difference(shapely.union_all(cut))
    assert left_m == [pytest.approx(cut_by_each_line_m(left, lines), abs=1e-9)]
    assert lengths_over(lines, rings_of(left)) == [pytest.approx(left_m[0], abs=1e-9)]
    heights = [lines.south_m[0] + lines.spacing_m[0] * (n + 0.381966011250105) for n in range(12)]
    assert is_crossed.tolist() == [
        any(bottom < height < top for height in heights)
        for _, bottom, _, top in (one.bounds for one in (turf, *cut))
    ]


@given(one=outlines(), other=outlines())
def test_lawns_that_overlap_are_as_long_as_their_union(one: Polygon, other: Polygon) -> None:
    union = one.union(other)
    lines = lines_across(shapely.bounds([union]))
    every = rings_of(one, other).of(np.zeros(2, dtype=np.intp))

    left_m, _ = lengths_left_over(lines, every, is_turf=np.array([True, True]))

    assert left_m == [pytest.approx(cut_by_each_line_m(union, lines), abs=1e-9)]


def test_rows_are_told_apart_and_holes_are_left_out() -> None:
    yard = Polygon(shapely.box(0, 0, 12, 12).exterior, [shapely.box(3, 3, 9, 9).exterior])
    two = MultiPolygon([affinity.translate(yard, 50, 3), shapely.box(0, 3, 2, 15)])

    # One line for each metre of height; six of them cross the hole of six metres.
    told_m = lengths_over(lines_across(shapely.bounds([yard, two])), rings_of(yard, two))

    assert told_m.tolist() == pytest.approx([12 * 12 - 36, 12 * 12 - 36 + 12 * 2])


def test_a_row_without_turf_has_no_length() -> None:
    lines = lines_across(np.array([(np.inf, np.inf, -np.inf, -np.inf), (0, 0, 1, 12)]))

    told_m = lengths_over(lines, rings_of(Polygon(), shapely.box(0, 0, 1, 12)))

    assert told_m.tolist() == pytest.approx([0, 12])
