"""Each repair of an outline with its note, and each refusal with its place on the map."""

import math

import numpy as np
import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st

from properties.core.frame import Frame
from properties.core.outlines import Note
from tests.properties.core.drawn import Point, area, box, drawing, feature, on_the_map
from tests.properties.core.outlines.alone import SQUARE, area_m2, fault, line, place_m, read

BOW_TIE = [(0.0, 0.0), (10.0, 10.0), (10.0, 0.0), (0.0, 10.0)]
TWICE = [*SQUARE, *SQUARE]
SPIKED = [(0, 0), (10, 0), (10, 5), (16, 5), (10, 5), (10, 10), (0, 10)]
TAN_18 = math.tan(math.radians(18))
# Five points, each joined to the next but one.
STAR = [
    (10 * math.sin(4 * math.pi * tip / 5), 10 * math.cos(4 * math.pi * tip / 5)) for tip in range(5)
]


@pytest.mark.parametrize("kind", ["turf", "building", "pond"])
def test_an_open_ring_is_closed(kind: str) -> None:
    shape, codes = read(kind, {"type": "Polygon", "coordinates": [on_the_map(SQUARE)]})

    assert codes == ["ring_closed"]
    assert area_m2(shape) == pytest.approx(100, rel=1e-4)


def test_repeated_corners_are_dropped_and_counted() -> None:
    doubled = [corner for corner in SQUARE for _ in range(3)]
    whole = drawing(feature("a", "turf", area(doubled), name="Shape A"))

    # Eight extra ones, and the last corner is the first again.
    assert whole.notes == (
        Note("a", "Repeated corners of Shape A were dropped: 8.", "duplicates_dropped"),
    )
    assert shapely.get_num_coordinates(whole.shapes[0].geometry) == 5


def test_a_ring_that_runs_clockwise_is_turned_and_its_hole_the_other_way() -> None:
    shape, codes = read("turf", area(SQUARE[::-1], box(2, 2, 4, 4)))

    # RFC 7946, section 3.1.6: exterior rings counter-clockwise, interior rings clockwise.
    assert [ring.is_ccw for ring in shapely.get_rings([shape.geometry])] == [True, False]
    assert codes == ["rewound"]
    assert area_m2(shape) == pytest.approx(96, rel=1e-4)


def test_corners_that_are_kept_keep_every_bit() -> None:
    outline = area(SQUARE)

    shape, _ = read("turf", outline)

    assert shapely.get_coordinates(shape.geometry).tolist() == outline["coordinates"][0]


def test_heights_are_left_out() -> None:
    outline = area(SQUARE)
    outline["coordinates"][0] = [[*corner, 212.5] for corner in outline["coordinates"][0]]

    shape, codes = read("turf", outline)

    assert codes == ["altitude_dropped"]
    assert not shape.geometry.has_z


def test_turf_with_a_small_curl_at_a_corner_is_mended() -> None:
    curl = [(0, 0), (30, 0), (30, 20.05), (30.05, 20), (0, 20)]

    shape, codes = read("turf", area(curl))

    assert codes == ["curl_mended"]
    assert area_m2(shape) == pytest.approx(600, rel=1e-3)


@pytest.mark.parametrize(
    ("corners", "crossing"),
    [
        pytest.param(BOW_TIE, (5, 5), id="bow-tie"),
        pytest.param(TWICE, None, id="wound twice"),
        pytest.param(STAR, None, id="star in one line"),
        # A loop of half a square metre on a lawn of 2,500 m²: under 0.1 % and yet a place to mow.
        pytest.param(
            [(0, 0), (50, 0), (50, 50), (25, 50), (24, 52.2), (25, 52.2), (24, 50), (0, 50)],
            (24.5, 51.1),
            id="loop of more than half a square metre",
        ),
    ],
)
def test_turf_that_could_mean_two_things_is_refused_where_it_crosses(
    corners: list[Point], crossing: Point | None
) -> None:
    only = fault("turf", area(corners))

    assert only.field == 'features[0] "a".geometry'
    assert "Shape A crosses itself" in only.problem
    if crossing is not None:
        assert place_m(only) == pytest.approx(crossing, abs=0.01)


# Both lobes, the square once, the star with its middle: all ground that the line goes round.
GONE_ROUND_M2 = [
    pytest.param(BOW_TIE, 50, id="bow-tie"),
    pytest.param(TWICE, 100, id="wound twice"),
    # A star of radius r has 10 r² tan 18° / (3 - tan² 18°), its middle included.
    pytest.param(STAR, 1000 * TAN_18 / (3 - TAN_18**2), id="star in one line"),
]


@pytest.mark.parametrize(("corners", "ground_m2"), GONE_ROUND_M2)
@pytest.mark.parametrize("kind", ["building", "pond"])
def test_what_keeps_ground_unsprayed_keeps_all_it_goes_round(
    kind: str, corners: list[Point], ground_m2: float
) -> None:
    shape, codes = read(kind, area(corners))

    assert "crossing_kept" in codes
    assert area_m2(shape) == pytest.approx(ground_m2, rel=1e-3)


def test_a_spike_is_dropped_from_turf_and_an_obstacle() -> None:
    for kind in ("turf", "building"):
        shape, _ = read(kind, area(SPIKED))
        assert area_m2(shape) == pytest.approx(100, rel=1e-4)


def test_a_spike_of_a_protected_feature_stays_protected() -> None:
    shape, codes = read("pond", area(SPIKED))

    tip = shapely.Point(on_the_map([(16, 5)])[0])
    assert codes[-1] == "spike_kept"
    assert shape.geometry.covers(tip)
    assert area_m2(shape) == pytest.approx(100, rel=2e-3)


def test_a_slit_with_a_hole_at_its_end_keeps_the_hole() -> None:
    slit = [(0, 0), (10, 0), (10, 5), (7, 5), (7, 3), (4, 3), (4, 7), (7, 7), (7, 5), (10, 5),
            (10, 10), (0, 10)]  # fmt: skip

    for kind in ("turf", "pond"):
        shape, _ = read(kind, area(slit))
        assert area_m2(shape) == pytest.approx(100 - 3 * 4, rel=1e-4)


def test_a_hole_outside_is_refused_for_turf_and_kept_as_ground_of_its_own_else() -> None:
    outline = area(SQUARE, box(20, 2, 22, 4))

    only = fault("turf", outline)
    assert "hole of Shape A lies outside" in only.problem
    assert place_m(only) == pytest.approx((21, 3), abs=0.01)

    for kind in ("patio", "pond"):
        shape, _ = read(kind, outline)
        assert area_m2(shape) == pytest.approx(104, rel=1e-4)


def test_a_hole_that_touches_the_edge_is_cut_out() -> None:
    shape, codes = read("turf", area(SQUARE, box(0, 4, 2, 6)))

    assert codes == ["curl_mended"]
    assert area_m2(shape) == pytest.approx(96, rel=1e-4)


def test_holes_that_overlap_are_refused_for_turf() -> None:
    assert "crosses itself" in fault("turf", area(SQUARE, box(2, 2, 5, 5), box(3, 3, 7, 7))).problem


def test_a_hole_as_large_as_the_turf_leaves_none() -> None:
    assert "has no area" in fault("turf", area(SQUARE, SQUARE)).problem


FLAT = [
    pytest.param([(3.0, 3.0)], id="one corner"),
    pytest.param([(3.0, 3.0), (9.0, 5.0)], id="two corners"),
    pytest.param([(3.0, 3.0), (9.0, 5.0), (6.0, 4.0)], id="three on a line"),
    pytest.param([(3.0, 3.0), (3.0, 3.0), (3.0, 3.0)], id="one corner, thrice"),
]


@pytest.mark.parametrize("corners", FLAT)
def test_turf_without_area_is_refused_and_an_obstacle_without_area_ignored(
    corners: list[Point],
) -> None:
    only = fault("turf", area(corners))
    assert "Shape A has no area" in only.problem
    assert place_m(only) == pytest.approx((3, 3), abs=0.01)

    whole = drawing(feature("a", "building", area(corners)))
    assert whole.shapes == ()
    assert whole.notes[-1].code == "flat_ignored"


@pytest.mark.parametrize("corners", FLAT)
def test_a_protected_feature_without_area_is_kept_as_a_line_or_point(
    corners: list[Point],
) -> None:
    shape, codes = read("well", area(corners))

    assert "flat_kept" in codes
    assert shape.geometry.geom_type == ("LineString" if len(set(corners)) > 1 else "Point")
    drawn = shapely.points(on_the_map(corners))
    assert shapely.distance(drawn, shape.geometry).max() == 0


def test_turf_smaller_than_a_hand_is_refused() -> None:
    assert "has no area" in fault("turf", area(box(0, 0, 0.09, 0.09))).problem
    assert read("turf", area(box(0, 0, 0.11, 0.11)))[1] == []


def test_a_hole_without_area_is_dropped() -> None:
    shape, codes = read("turf", area(SQUARE, [(2, 2), (3, 3)]))

    assert codes == ["flat_hole_dropped"]
    assert shapely.get_num_interior_rings(shape.geometry) == 0


def test_a_sliver_and_a_spike_are_noted_and_kept() -> None:
    sliver, codes = read("turf", area(box(0, 0, 15, 0.004)))
    assert codes == ["sliver"]
    assert area_m2(sliver) == pytest.approx(0.06, rel=1e-3)

    spike = [(0, 0), (10, 0), (10, 4.99), (16, 5), (10, 5.01), (10, 10), (0, 10)]
    assert read("turf", area(spike))[1] == ["spike"]


def scribble(corners: int) -> list[Point]:
    """Corners here and there, joined in turn: every edge crosses a quarter of the others."""
    rng = np.random.default_rng(corners)
    return [(x, y) for x, y in rng.uniform(0, 100, (corners, 2)).tolist()]


@pytest.mark.parametrize("kind", ["turf", "building", "pond"])
def test_a_scribble_is_refused_and_not_worked_at(kind: str) -> None:
    assert "very many places" in fault(kind, area(scribble(3000))).problem
    assert "very many places" in fault("stream", line("LineString", scribble(3000))).problem


def test_a_long_shore_is_no_scribble() -> None:
    shore = [(0.5 * step, 20 + 8 * math.sin(step / 7)) for step in range(4000)]

    shape, codes = read("stream", line("LineString", shore))

    assert (codes, len(shape.geometry.coords)) == ([], 4000)


def test_an_outline_across_the_180th_meridian_is_one_outline() -> None:
    outline = area(box(-30, 0, 30, 20), lon=180, lat=-17)
    for corner in outline["coordinates"][0]:
        corner[0] = (corner[0] + 180) % 360 - 180

    shape, codes = read("turf", outline)

    assert codes == []
    assert Frame(180, -17).to_plane(shape.geometry).area == pytest.approx(1200, rel=1e-4)
    assert shapely.get_coordinates(shape.geometry).tolist() == outline["coordinates"][0]


@given(
    kind=st.sampled_from(["turf", "building", "pond"]),
    start=st.integers(0, 11),
    clockwise=st.booleans(),
)
def test_where_a_ring_begins_and_which_way_it_runs_changes_no_area(
    kind: str, start: int, clockwise: bool
) -> None:
    corners = [
        (float(round(3 * math.cos(step) + step, 3)), float(round(20 * math.sin(step / 2), 3)))
        for step in range(12)
    ]
    hull = [
        (x, y)
        for x, y in shapely.get_coordinates(shapely.MultiPoint(corners).convex_hull)[:-1].tolist()
    ]
    turned = hull[start % len(hull) :] + hull[: start % len(hull)]

    one, _ = read(kind, area(hull))
    other, _ = read(kind, area(turned[::-1] if clockwise else turned))

    assert area_m2(other) == pytest.approx(area_m2(one), rel=1e-9)
