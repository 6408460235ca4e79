"""Faces into which outlines cut ground, and slivers among them."""

import numpy as np
import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st
from shapely import MultiPolygon, Polygon, affinity, box

from properties.core.errors import Refused
from properties.core.ledger import faces
from properties.core.ledger.faces import faces_of, shared_edges
from properties.core.ledger.redrawn import distinct_outlines
from properties.core.ledger.slivers import slivers_among

#: A lawn and four applications whose common edges differ by a nanometre or less, found among
#: thousands of turned rectangles: on the first grid a quarter of a strip is left out.
ALMOST_FLUSH = (
    Polygon(
        [
            (6.487798385850599, 14.809026594927117),
            (-21.315745266062017, 9.019125007146075),
            (-16.32093579772978, -14.966326382708123),
            (11.482607854182836, -9.176424794927081),
        ]
    ),
    Polygon(
        [
            (10.233905487099717, -3.180061947463446),
            (-3.667866338856553, -6.075012741354156),
            (-2.419163971773413, -12.071375588817688),
            (11.482607854182858, -9.17642479492698),
        ]
    ),
    Polygon(
        [
            (6.487798385850599, 14.809026594927117),
            (-0.46308752712755386, 13.361551197981855),
            (0.785614839955505, 7.365188350518304),
            (7.736500752933658, 8.812663747463565),
        ]
    ),
    Polygon(
        [
            (0.785614839955505, 7.365188350518304),
            (-13.116156986000801, 4.470237556627785),
            (-9.370049884751625, -13.518850985762862),
            (4.531721941204681, -10.623900191872341),
        ]
    ),
    Polygon(
        [
            (-0.4630875282690865, 13.3615511988563),
            (-21.3157452667596, 9.019125005888645),
            (-17.56963816367131, -8.969963536119018),
            (3.2830195748192064, -4.627537343151363),
        ]
    ),
)


def test_ground_is_cut_along_every_outline() -> None:
    cut = faces_of(box(0, 0, 30, 20), [box(0, -5, 10, 25), box(0, 10, 40, 30)])

    told = {
        tuple(under): round(polygon.area, 6)
        for polygon, under in zip(cut.polygons, cut.under.tolist(), strict=True)
    }
    assert told == {
        (False, False): 200,
        (True, False): 100,
        (True, True): 100,
        (False, True): 200,
    }


def test_outlines_that_almost_share_edges_still_add_up() -> None:
    lawn, *areas = ALMOST_FLUSH

    cut = faces_of(lawn, areas)

    face_m2 = shapely.area(cut.polygons)
    assert face_m2.sum() == pytest.approx(lawn.area, rel=1e-9)
    assert face_m2 @ cut.under == pytest.approx(
        [shapely.intersection(lawn, area, grid_size=1e-7).area for area in areas], abs=1e-4
    )


def test_faces_that_do_not_add_up_on_any_grid_are_refused(monkeypatch: pytest.MonkeyPatch) -> None:
    # On a grid of five metres a lawn of 31 by 20 is one of 30 by 20.
    monkeypatch.setattr(faces, "_GRIDS_M", (5.0,))

    with pytest.raises(Refused, match="cannot be told apart") as refused:
        faces_of(box(0, 0, 31, 20), [box(0, 0, 10, 10)])

    assert refused.value.field == "applications"


def test_neighbours_share_as_much_edge_as_they_touch_along() -> None:
    west, east, north = box(0, 0, 10, 20), box(10, 0, 30, 20), box(0, 20, 10, 25)

    edges = shared_edges(np.array([west, east, north]))

    pairs = zip(edges.face, edges.neighbour, edges.length_m, strict=True)
    assert sorted(pairs) == [(0, 1, 20), (0, 2, 10), (1, 0, 20), (2, 0, 10)]


@given(
    long_mm=st.integers(1, 40_000),
    short_mm=st.integers(1, 100),
    turn_deg=st.integers(0, 90),
)
def test_a_rectangle_is_a_sliver_when_its_short_side_is(
    long_mm: int, short_mm: int, turn_deg: int
) -> None:
    narrow, wide = sorted((long_mm, short_mm))
    area = affinity.rotate(box(0, 0, wide / 1000, narrow / 1000), turn_deg)

    (sliver,) = slivers_among(np.array([area]), thinner_than_m=0.0205, smaller_than_m2=0)

    assert sliver == (narrow <= 20)


def test_a_patch_is_a_sliver_when_it_is_smaller_than_the_limit() -> None:
    patches = np.array([box(0, 0, 0.22, 0.22), box(0, 0, 0.23, 0.23)])

    small = slivers_among(patches, thinner_than_m=0.02, smaller_than_m2=0.05)

    assert small.tolist() == [True, False]


def test_an_area_drawn_again_is_one_with_the_first_and_covers_what_either_does() -> None:
    drawn, again, wider = box(0, 0, 10, 20), box(0.01, 0, 10.01, 20), box(0, 0, 11, 20)
    areas = [drawn, again, wider, drawn, shapely.reverse(drawn)]

    grounds, which = distinct_outlines(areas, thinner_than_m=0.02)

    assert which == [0, 0, 1, 0, 0]
    assert grounds[0].area == pytest.approx(200.2)


def test_thin_strips_side_by_side_are_not_one_area_drawn_twice() -> None:
    strips = [box(0, 0, 0.015, 20), box(0.015, 0, 0.03, 20)]

    _, which = distinct_outlines(strips, thinner_than_m=0.02)

    assert which == [0, 1]


def test_an_area_with_a_hole_is_not_the_same_area_without() -> None:
    whole = box(0, 0, 10, 20)
    areas = [whole, whole.difference(box(4, 9, 5, 10)), MultiPolygon([whole, box(11, 0, 12, 1)])]

    _, which = distinct_outlines(areas, thinner_than_m=0.02)

    assert which == [0, 1, 2]
