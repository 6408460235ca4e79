"""Drawings for the tests, placed on the map by a way that shares nothing with the core."""

import math
from collections.abc import Iterable, Sequence
from typing import Any

from properties.core.outlines import Drawing, read_drawing
from properties.core.treatable import Setback, Treatment, treat

FOOT_M = 0.3048
SQ_FT_M2 = FOOT_M**2
ACRE_M2 = 43560 * SQ_FT_M2

Point = tuple[float, float]
Json = dict[str, Any]

# WGS 84 (NGA.STND.0036): equatorial radius and the square of the first eccentricity.
_A_M = 6378137.0
_E2 = 0.00669437999014


def on_the_map(
    points_m: Iterable[Point], *, lon: float = -90.0, lat: float = 40.0
) -> list[list[float]]:
    """Longitude and latitude of points east and north of an anchor, by the radii of curvature.

    Rapp, R. H. (1991), Geometric Geodesy, part I, Ohio State University: M along the
    meridian, N across it. Good to 1e-4 of a distance within a kilometre.
    """
    sine = math.sin(math.radians(lat))
    meridian_m = _A_M * (1 - _E2) / (1 - _E2 * sine**2) ** 1.5
    normal_m = _A_M / math.sqrt(1 - _E2 * sine**2)
    parallel_m = normal_m * math.cos(math.radians(lat))
    return [
        [lon + math.degrees(x / parallel_m), lat + math.degrees(y / meridian_m)]
        for x, y in points_m
    ]


def ring(points_m: Sequence[Point], **anchor: float) -> list[list[float]]:
    """A closed ring on the map."""
    return on_the_map([*points_m, points_m[0]], **anchor)


def area(points_m: Sequence[Point], *holes: Sequence[Point], **anchor: float) -> Json:
    """A Polygon on the map, with holes wound the other way."""
    inner = [hole[::-1] for hole in holes]
    rings = [ring(outline, **anchor) for outline in (points_m, *inner)]
    return {"type": "Polygon", "coordinates": rings}


def box(west: float, south: float, east: float, north: float) -> list[Point]:
    """The corners of a rectangle, counter-clockwise."""
    return [(west, south), (east, south), (east, north), (west, north)]


def in_feet(points: Iterable[Point]) -> list[Point]:
    """Points in feet as points in metres."""
    return [(x * FOOT_M, y * FOOT_M) for x, y in points]


def feature(ref: str | None, kind: str, geometry: object, **properties: object) -> Json:
    """One feature; without an id if it has no ref."""
    made: Json = {
        "type": "Feature",
        "properties": {"kind": kind, **properties},
        "geometry": geometry,
    }
    return made if ref is None else {**made, "id": ref}


def collection(*features: object) -> Json:
    """A FeatureCollection of features."""
    return {"type": "FeatureCollection", "features": list(features)}


def drawing(*features: object) -> Drawing:
    """A drawing read from features."""
    return read_drawing(collection(*features))


def treated(*features: object, **setbacks_m: float) -> Treatment:
    """What may be treated of features, with a setback in metres for each ref."""
    setbacks = {ref: Setback(distance_m, "as told") for ref, distance_m in setbacks_m.items()}
    return treat(drawing(*features), setbacks)
