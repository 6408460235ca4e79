"""The curves themselves, without the proof and the second way that zones have."""

import math

import numpy as np
import shapely
from hypothesis import assume, given
from hypothesis import strategies as st
from shapely import LineString, Polygon

from properties.core.frame import Floats
from properties.core.offsets import around_ring

setbacks_m = st.floats(0.1, 20)


@st.composite
def outlines(draw: st.DrawFn) -> Polygon:
    """An outline with many short sides and deep hollows, all to the millimetre."""
    corners = draw(st.integers(5, 40))
    reach = draw(st.lists(st.integers(300, 9_000), min_size=corners, max_size=corners))
    angles = [2 * math.pi * corner / corners for corner in range(corners)]
    return Polygon(
        [
            (round(r / 1000 * math.cos(angle), 3), round(r / 1000 * math.sin(angle), 3))
            for r, angle in zip(reach, angles, strict=True)
        ]
    )


def edge_distances_m(feature: Polygon | LineString, ring: Floats, setback_m: float) -> Floats:
    """How far off the corners of the ground lie, of which no edge comes too near."""
    ground = around_ring(ring, distance_m=setback_m)
    assert ground.is_valid
    assert ground.contains(feature)
    edges = shapely.get_rings(shapely.get_parts(ground))
    assert shapely.distance(feature, shapely.boundary(ground)) >= setback_m * (1 - 1e-9)
    return np.asarray(shapely.distance(feature, shapely.points(shapely.get_coordinates(edges))))


@given(outline=outlines(), setback_m=setbacks_m)
def test_a_curve_round_many_short_sides_is_the_setback_away_to_a_centimetre(
    outline: Polygon, setback_m: float
) -> None:
    ring = shapely.get_coordinates(shapely.orient_polygons(outline))

    assert edge_distances_m(outline, ring, setback_m).max() <= setback_m + 0.01


@given(
    steps=st.lists(
        st.tuples(st.integers(-4_000, 4_000), st.integers(-4_000, 4_000)), min_size=2, max_size=12
    ),
    setback_m=setbacks_m,
)
def test_a_curve_along_a_line_there_and_back_is_the_setback_away_to_a_centimetre(
    steps: list[tuple[int, int]], setback_m: float
) -> None:
    assume((0, 0) not in steps)
    line = LineString(np.cumsum(steps, axis=0) / 1000)
    assume(line.is_simple)
    there = shapely.get_coordinates(line)

    back_again = np.concatenate((there, there[-2::-1]))

    assert edge_distances_m(line, back_again, setback_m).max() <= setback_m + 0.01
