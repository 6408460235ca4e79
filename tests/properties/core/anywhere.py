"""Properties that could be anywhere: lawns, buildings and things to protect, for Hypothesis."""

import math

from hypothesis import strategies as st

from properties.core.features import Role
from properties.core.outlines import Drawing
from properties.core.zones import Setback
from tests.properties.core.drawn import Json, area, drawing, feature, on_the_map

# All to the millimetre.

on_the_ground_m = st.integers(0, 60_000).map(lambda millimetres: millimetres / 1000)
places_m = st.tuples(on_the_ground_m, on_the_ground_m)
sizes_m = st.integers(300, 25_000).map(lambda millimetres: millimetres / 1000)
distances_m = st.floats(0, 20)


@st.composite
def areas(draw: st.DrawFn) -> Json:
    """A rectangle or a convex outline of some corners, turned."""
    x, y = draw(places_m)
    width, height, turn = draw(sizes_m), draw(sizes_m), draw(st.floats(0, math.pi))
    corners = draw(st.integers(3, 9))
    angles = [turn + 2 * math.pi * corner / corners for corner in range(corners)]
    return area([(x + width * math.cos(a) / 2, y + height * math.sin(a) / 2) for a in angles])


lines = st.lists(places_m, min_size=2, max_size=5, unique=True).map(
    lambda points: {"type": "LineString", "coordinates": on_the_map(points)}
)
dots = places_m.map(lambda point: {"type": "Point", "coordinates": on_the_map([point])[0]})
slopes = st.sampled_from([{}, {}, {"slope": "12 %"}, {"slope": "20 deg"}])


@st.composite
def properties(draw: st.DrawFn) -> tuple[Drawing, dict[str, Setback]]:
    """A drawing with distances for what must be protected."""
    shapes = [
        *(("turf", outline, draw(slopes)) for outline in draw(st.lists(areas(), max_size=4))),
        *(("building", outline, {}) for outline in draw(st.lists(areas(), max_size=3))),
        *(("pond", outline, {}) for outline in draw(st.lists(areas() | lines | dots, max_size=4))),
    ]
    order = draw(st.permutations(range(len(shapes))))
    whole = drawing(
        *(feature(f"s{number}", *shapes[number][:2], **shapes[number][2]) for number in order)
    )
    setbacks = {
        shape.ref: Setback(draw(distances_m), "drawn") for shape in whole.of_role(Role.PROTECTED)
    }
    return whole, setbacks
