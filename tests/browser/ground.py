"""What the ground should be, worked out apart from the product."""

import json
from typing import Any

from pyproj import Geod

from properties.core.outlines import write_drawing
from properties.models import Property
from properties.selectors.outlines import drawing_of

LonLat = list[float]

# EPSG:3857: the map is 256 pixels of 360 degrees of longitude at zoom 0, twice that each zoom.
OPENING_ZOOM = 19
DEGREES_EAST_PER_PIXEL = 360 / (256 * 2**OPENING_ZOOM)


def stored(place: Property) -> dict[str, dict[str, Any]]:
    """The shapes that are kept of a property, by what they are called, else by kind."""
    place.refresh_from_db()
    written = json.loads(json.dumps(write_drawing(drawing_of(place))))
    return {
        feature["properties"].get("name") or feature["properties"]["kind"]: feature
        for feature in written["features"]
    }


def corners(feature: dict[str, Any]) -> list[LonLat]:
    """The corners of an area without a hole, the first not repeated."""
    ring: list[LonLat] = feature["geometry"]["coordinates"][0]
    assert ring[0] == ring[-1]
    return ring[:-1]


def geodesic_area_m2(feature: dict[str, Any]) -> float:
    """Area of an outline on the ellipsoid in square metres, by Karney's algorithm in PROJ."""
    lon, lat = zip(*corners(feature), strict=True)
    area_m2, _ = Geod(ellps="WGS84").polygon_area_perimeter(lon, lat)
    return abs(float(area_m2))
