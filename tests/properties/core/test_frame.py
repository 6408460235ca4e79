"""The plane of a property against geodesics, an independent projection and itself."""

import math

import numpy as np
import pyproj
import pytest
import shapely
from geographiclib.geodesic import Geodesic
from hypothesis import given
from hypothesis import strategies as st
from shapely import Point, Polygon

from properties.core.frame import Frame, frame_around
from tests.properties.core.drawn import ACRE_M2, SQ_FT_M2, area, box, in_feet, on_the_map

GEOD = pyproj.Geod(ellps="WGS84")
LATITUDES = (-70, -45, 0, 10, 25, 33, 40, 50, 60, 70)

latitudes = st.floats(-70, 70)
longitudes = st.floats(-180, 180)


def field(acres: float, corners: int, *, lon: float, lat: float, turn: float = 0.3) -> Polygon:
    """A regular field of a size, on the map."""
    radius_m = math.sqrt(acres * ACRE_M2 / (corners / 2 * math.sin(2 * math.pi / corners)))
    angles = [turn + 2 * math.pi * corner / corners for corner in range(corners)]
    points_m = [(radius_m * math.cos(angle), radius_m * math.sin(angle)) for angle in angles]
    return Polygon(on_the_map(points_m, lon=lon, lat=lat))


def plane_area_m2(shape: Polygon) -> float:
    return frame_around([shape]).to_plane(shape).area


def karney_m2(shape: Polygon) -> float:
    """Area by the reference implementation of Karney's geodesics."""
    polygon = Geodesic.WGS84.Polygon()
    for lon, lat in shapely.get_coordinates(shape)[:-1].tolist():
        polygon.AddPoint(lat, lon)
    return abs(float(polygon.Compute(False, True)[2]))


# Karney, C. F. F. (2013), Algorithms for geodesics, Journal of Geodesy 87, in two
# implementations. The reference itself rounds 1e-7 of a tenth of an acre away.
@pytest.mark.parametrize("lat", LATITUDES)
@pytest.mark.parametrize("acres", [0.1, 1, 10, 200])
@pytest.mark.parametrize("corners", [3, 4, 14])
def test_the_area_of_a_field_is_its_geodesic_area(lat: float, acres: float, corners: int) -> None:
    shape = field(acres, corners, lon=-84.4, lat=lat)

    assert plane_area_m2(shape) == pytest.approx(karney_m2(shape), rel=1e-6)
    assert plane_area_m2(shape) == pytest.approx(
        abs(GEOD.geometry_area_perimeter(shape)[0]), rel=1e-6
    )


# Computed with GeographicLib 2.1; published nowhere else.
GEOGRAPHICLIB_LOTS = [
    pytest.param(
        [[-83.0, 40.0], [-82.9997858, 40.0], [-82.9997858, 40.0003294], [-83.0, 40.0003294]],
        669.0015,
        id="house lot of about 60 by 120 ft at 40 N",
    ),
    pytest.param(
        [[-84.39, 33.75], [-84.3893134, 33.75], [-84.3893134, 33.7505735], [-84.39, 33.7505735]],
        4046.7287,
        id="one acre at 33.75 N",
    ),
    pytest.param(
        [
            [-149.9, 61.2],
            [-149.8995841, 61.1999573],
            [-149.8994073, 61.2003587],
            [-149.8998232, 61.2004013],
        ],
        1045.2625,
        id="75 by 150 ft, turned, at 61.2 N",
    ),
]


@pytest.mark.parametrize(("corners", "area_m2"), GEOGRAPHICLIB_LOTS)
def test_lots_have_the_area_that_geographiclib_gives(
    corners: list[list[float]], area_m2: float
) -> None:
    assert plane_area_m2(Polygon(corners)) == pytest.approx(area_m2, abs=0.001)


# Sides as rule books give them, so the area is length times width.
SPORTS_FIELDS = [
    # FIFA, Laws of the Game (2007), Law 1: the longest and widest field, and the smallest.
    pytest.param([(0, 0), (120, 0), (120, 90), (0, 90)], 120 * 90, id="association football, most"),
    pytest.param([(0, 0), (90, 0), (90, 45), (0, 45)], 90 * 45, id="association football, least"),
    # Rule books of American football: 360 by 160 ft with the end zones, 57,600 sq ft.
    pytest.param(
        in_feet(box(0, 0, 360, 160)), 57_600 * SQ_FT_M2, id="American football with end zones"
    ),
    # International Tennis Federation, Rules of Tennis, rule 1: 78 by 36 ft (from memory).
    pytest.param(in_feet(box(0, 0, 78, 36)), 2_808 * SQ_FT_M2, id="tennis, doubles"),
    # Official Baseball Rules, rule 2.01: an infield 90 ft square (from memory).
    pytest.param(in_feet(box(0, 0, 90, 90)), 8_100 * SQ_FT_M2, id="baseball infield"),
]


@pytest.mark.parametrize("lat", [0.0, 40.0, 60.0])
@pytest.mark.parametrize(("corners_m", "area_m2"), SPORTS_FIELDS)
def test_a_sports_field_set_out_along_geodesics_has_its_published_area(
    corners_m: list[tuple[float, float]], area_m2: float, lat: float
) -> None:
    # Each corner by its distance and bearing from the first: a way that knows no plane.
    shape = Polygon(
        [
            GEOD.fwd(12.5, lat, math.degrees(math.atan2(x, y)), math.hypot(x, y))[:2]
            for x, y in corners_m
        ]
    )

    # On the ball a square of 120 m differs from the flat one by far less than 1e-6.
    assert plane_area_m2(shape) == pytest.approx(area_m2, rel=1e-6)


@given(lon=longitudes, lat=latitudes, azimuth=st.floats(0, 360), distance_m=st.floats(1, 10_000))
def test_a_distance_from_the_centre_is_true_to_three_in_a_million(
    lon: float, lat: float, azimuth: float, distance_m: float
) -> None:
    far_lon, far_lat, _ = GEOD.fwd(lon, lat, azimuth, distance_m)

    plane_m = np.hypot(*Frame(lon, lat).xy(np.array([[far_lon, far_lat]]))[0])

    assert plane_m == pytest.approx(distance_m, rel=3e-6, abs=1e-7)


@given(
    lat=latitudes,
    to_property=st.tuples(st.floats(0, 360), st.floats(0, 14_100)),
    to_feature=st.tuples(st.floats(0, 360), st.floats(1, 500)),
)
def test_a_setback_at_the_far_end_of_the_largest_property_is_true_to_five_in_a_million(
    lat: float, to_property: tuple[float, float], to_feature: tuple[float, float]
) -> None:
    # 14.1 km is half the diagonal of a square of 20 km.
    lon, far_lat, _ = GEOD.fwd(-60, lat, *to_property)
    ends = [(lon, far_lat), GEOD.fwd(lon, far_lat, *to_feature)[:2]]

    start, end = Frame(-60, lat).xy(np.array(ends))

    assert np.hypot(*(end - start)) == pytest.approx(to_feature[1], rel=5e-6, abs=1e-7)


@given(
    lon=longitudes,
    lat=latitudes,
    offsets_m=st.lists(st.tuples(*[st.floats(-15_000, 15_000)] * 2), min_size=1, max_size=20),
)
def test_the_way_back_from_the_plane_is_exact_to_a_billionth_of_a_degree(
    lon: float, lat: float, offsets_m: list[tuple[float, float]]
) -> None:
    frame = Frame(lon, lat)
    xy = np.array(offsets_m)

    lonlat = frame.lonlat(xy)

    assert np.abs(frame.xy(lonlat) - xy).max() < 1e-6
    again = frame.lonlat(frame.xy(lonlat))
    turned = np.abs(again - lonlat)
    assert np.minimum(turned, 360 - turned).max() < 1e-9
    assert np.abs(lonlat[:, 0]).max() <= 180


# PROJ's own Lambert azimuthal equal-area, which prints the way forward to nanometres.
@pytest.mark.parametrize("lat", LATITUDES)
def test_the_plane_is_that_of_proj(lat: float) -> None:
    proj = pyproj.Proj(f"+proj=laea +lat_0={lat} +lon_0=8.25 +ellps=WGS84")
    rng = np.random.default_rng(int(lat) + 90)
    lonlat = np.array([8.25, lat]) + rng.uniform(-0.1, 0.1, (50, 2))

    ours = Frame(8.25, lat).xy(lonlat)

    assert np.abs(ours - np.column_stack(proj(*lonlat.T))).max() < 1e-6


@given(lat=latitudes, lon=longitudes)
def test_the_centre_is_the_origin_and_north_is_up(lon: float, lat: float) -> None:
    x, y = Frame(lon, lat).xy(np.array([[lon, lat], [lon, lat + 1e-4]])).T

    assert (abs(x[0]), abs(y[0])) == (pytest.approx(0, abs=1e-8), pytest.approx(0, abs=1e-8))
    assert x[1] == pytest.approx(0, abs=1e-8)
    assert y[1] > 11


@given(lat=latitudes, shift=st.floats(-360, 360))
def test_a_property_has_the_same_area_at_every_longitude(lat: float, shift: float) -> None:
    here = field(2, 7, lon=0, lat=lat)
    turned = shapely.get_coordinates(here) + np.array([shift, 0])
    turned[:, 0] = (turned[:, 0] + 180) % 360 - 180

    # Degrees beyond 100 are kept to 1e-14, a nanometre, so 1e-9 of a field of 90 m.
    assert plane_area_m2(Polygon(turned)) == pytest.approx(plane_area_m2(here), rel=1e-8)


def test_the_middle_of_a_property_on_both_sides_of_the_180th_meridian_lies_on_it() -> None:
    west = Polygon(area(box(-40, 0, -10, 30), lon=180, lat=-17)["coordinates"][0])
    east = Polygon(area(box(10, 0, 40, 30), lon=-180, lat=-17)["coordinates"][0])

    for shapes in ([west, east], [east, west]):
        frame = frame_around(shapes)
        assert abs(frame.lon0) == pytest.approx(180, abs=1e-9)
        west_edge, _, east_edge, _ = shapely.total_bounds([frame.to_plane(s) for s in shapes])
        assert east_edge - west_edge == pytest.approx(80, rel=1e-4)


def test_the_frame_of_nothing_is_round_the_origin() -> None:
    assert frame_around([]) == frame_around([Point()]) == Frame(0, 0)


def test_many_shapes_go_to_the_plane_as_each_does_alone() -> None:
    shapes = [field(1, 5, lon=-90, lat=40), Point(-90.001, 40.001), Polygon()]
    frame = Frame(-90, 40)

    assert frame.all_to_plane(shapes) == [frame.to_plane(shape) for shape in shapes]
    assert frame.all_to_plane([]) == []


def test_heights_are_left_behind() -> None:
    assert not Frame(0, 0).to_plane(Point(0, 0, 12)).has_z
