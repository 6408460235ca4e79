"""The ground kept upwind of a feature, point by point against its definition."""

import math
from collections.abc import Callable

import numpy as np
import numpy.typing as npt
import pytest
import shapely
from shapely import LineString, MultiLineString, MultiPoint, MultiPolygon, Point, Polygon, box
from shapely.geometry.base import BaseGeometry

from properties.core.downwind import facing_zone, sector_zone

Floats = npt.NDArray[np.float64]
Zone = Callable[..., BaseGeometry]
#: The true circle is left by less than this, so nothing nearer to the zone's edge is judged.
EDGE_BAND_M = 0.02
POINTS_EACH = 3_000


def star(points: int, *, outer_m: float, inner_m: float) -> Polygon:
    radii = np.tile((outer_m, inner_m), points)
    angles = np.arange(2 * points) * math.pi / points
    return Polygon(np.column_stack((radii * np.cos(angles), radii * np.sin(angles))))


def blob(corners: int, *, radius_m: float, seed: int) -> Polygon:
    chance = np.random.default_rng(seed)
    angles = np.sort(chance.uniform(0, 2 * math.pi, corners))
    radii = radius_m * chance.uniform(0.5, 1, corners)
    return Polygon(np.column_stack((radii * np.cos(angles), radii * np.sin(angles))))


FEATURES: dict[str, BaseGeometry] = {
    "L": Polygon([(0, 0), (10, 0), (10, 3), (4, 3), (4, 9), (0, 9)]),
    "U": Polygon([(0, 0), (12, 0), (12, 9), (9, 9), (9, 3), (3, 3), (3, 9), (0, 9)]),
    "ring with a hole": Polygon(
        blob(30, radius_m=22, seed=9).exterior.coords, [blob(9, radius_m=9, seed=3).exterior.coords]
    ),
    "two holes": Polygon(
        box(-15, -15, 25, 15).exterior.coords,
        [box(-12, -12, 2, 12).exterior.coords, box(4, -12, 22, 3).exterior.coords],
    ),
    "star": star(24, outer_m=10, inner_m=5),
    "blunt star": star(7, outer_m=9, inner_m=7),
    "traced bed": blob(40, radius_m=9, seed=5),
    "bent line": LineString([(0, 0), (10, 3), (12, 15), (3, 8)]),
    "closed line": LineString([(0, 0), (10, 0), (10, 8), (0, 8), (0, 0)]),
    "line across itself": LineString([(0, 0), (10, 10), (10, 0), (0, 10)]),
    "line back over itself": LineString([(4, 3), (0, 0), (1, 1), (1, 3), (2, 2), (1, 3)]),
    "two lines": MultiLineString([[(0, 0), (9, 1)], [(3, 4), (3, 9), (12, 9)]]),
    "point": Point(3, 4),
    "points": MultiPoint([(0, 0), (5, 2), (9, 9)]),
    "two beds": MultiPolygon([box(0, 0, 5, 5), box(8, 1, 12, 9)]),
}
#: Distance in metres, bearing the wind comes from, half-angle.
RULES = [(7.62, 0.0, 45.0), (3.1, 190.0, 60.0), (15.0, 227.0, 90.0), (6.0, 301.3, 12.0)]


def meets_downwind_sector(
    points: Floats, feature: BaseGeometry, distance_m: float, wind_from: float, half_angle: float
) -> npt.NDArray[np.bool_]:
    """The definition: a sector from the point, opening to where the wind blows, meets it."""
    bearings = np.radians(wind_from + 180 + np.linspace(-half_angle, half_angle, 60))
    rim = distance_m * np.column_stack((np.sin(bearings), np.cos(bearings)))
    sector = np.concatenate((np.zeros((1, 2)), rim))
    shapely.prepare(feature)
    return np.asarray(
        shapely.intersects(feature, shapely.polygons(points[:, None, :] + sector[None, :, :]))
    )


def nearest_is_downwind(
    points: Floats, feature: BaseGeometry, distance_m: float, wind_from: float, half_angle: float
) -> npt.NDArray[np.bool_]:
    """The definition: the bearing from the point to the nearest point of the feature."""
    ways = shapely.get_coordinates(shapely.shortest_line(shapely.points(points), feature))
    way = ways[1::2] - ways[::2]
    length_m = np.hypot(way[:, 0], way[:, 1])
    bearing = np.degrees(np.arctan2(way[:, 0], way[:, 1]))
    off = np.abs((bearing - wind_from - 180 + 180) % 360 - 180)
    # A side that faces the very edge of the angle counts; a millionth of a degree is rounding.
    return np.asarray((length_m == 0) | ((length_m <= distance_m) & (off <= half_angle + 1e-6)))


@pytest.mark.parametrize("name", FEATURES)
@pytest.mark.parametrize(
    ("zone_of", "definition"),
    [(sector_zone, meets_downwind_sector), (facing_zone, nearest_is_downwind)],
    ids=["sector", "facing"],
)
def test_no_sampled_point_is_on_the_wrong_side_of_the_edge(
    name: str, zone_of: Zone, definition: Callable[..., npt.NDArray[np.bool_]]
) -> None:
    feature = FEATURES[name]
    chance = np.random.default_rng(20)
    judged = 0
    for distance_m, wind_from, half_angle in RULES:
        zone = zone_of(
            feature, downwind_m=distance_m, wind_from_deg=wind_from, half_angle_deg=half_angle
        )
        west, south, east, north = feature.buffer(1.1 * distance_m).bounds
        points = chance.uniform((west, south), (east, north), (POINTS_EACH, 2))
        clear = shapely.distance(shapely.points(points), zone.boundary) > EDGE_BAND_M
        points = points[clear]
        judged += len(points)

        in_zone = shapely.intersects(zone, shapely.points(points))

        assert zone.is_valid
        wrong = points[in_zone != definition(points, feature, distance_m, wind_from, half_angle)]
        assert len(wrong) == 0, wrong[:5]
    # Fifteen features: over 100,000 points for either way to judge.
    assert judged * len(FEATURES) >= 100_000
