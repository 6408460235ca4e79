"""A plan request to change in tests: one invented lawn, machine and mix.

Shapes are given in feet (or metres) east and north of an anchor at 40 N, 90 W.
"""

import copy
import math
from typing import Any

Json = dict[str, Any]
Corners = list[tuple[float, float]]

LATITUDE, LONGITUDE = 40.0, -90.0
FOOT_M = 0.3048

# WGS 84: radii of the ellipsoid along the meridian and along the parallel.
_A, _E2 = 6378137.0, 0.00669437999014
_W2 = 1 - _E2 * math.sin(math.radians(LATITUDE)) ** 2
_M_PER_NORTH_DEG = math.radians(1) * _A * (1 - _E2) / _W2**1.5
_M_PER_EAST_DEG = math.radians(1) * _A / math.sqrt(_W2) * math.cos(math.radians(LATITUDE))


def lonlat(x_m: float, y_m: float) -> list[float]:
    return [LONGITUDE + x_m / _M_PER_EAST_DEG, LATITUDE + y_m / _M_PER_NORTH_DEG]


def corners_of(west: float, south: float, east: float, north: float) -> Corners:
    return [(west, south), (east, south), (east, north), (west, north), (west, south)]


def area(ref: str, kind: str, corners: Corners, *, unit_m: float = FOOT_M, **more: Any) -> Json:
    ring = [lonlat(x * unit_m, y * unit_m) for x, y in corners]
    return _feature(ref, kind, {"type": "Polygon", "coordinates": [ring]}, more)


def point(ref: str, kind: str, x: float, y: float, *, unit_m: float = FOOT_M, **more: str) -> Json:
    position = lonlat(x * unit_m, y * unit_m)
    return _feature(ref, kind, {"type": "Point", "coordinates": position}, more)


def _feature(ref: str, kind: str, geometry: Json, more: Json) -> Json:
    return {
        "type": "Feature",
        "id": ref,
        "properties": {"kind": kind, **more},
        "geometry": geometry,
    }


def place(*features: Json) -> Json:
    return {"type": "FeatureCollection", "features": list(features)}


LAWN = area("lawn", "turf", corners_of(0, 0, 100, 50))

MACHINE: Json = {
    "kind": "boom_sprayer",
    "swath": "10 ft",
    "tanks": ["25 gal"],
    "calibration": {
        "method": "measured_course",
        "course_length": "100 ft",
        "volumes_used": ["1.0 gal", "1.01 gal", "0.99 gal"],
    },
}

HERBICIDE: Json = {
    "name": "Invented herbicide",
    "rate": "1.2 fl oz/1000 sq ft",
    "formulation": "SL",
    "label": {"rate_min": "1.0 fl oz/1000 sq ft", "rate_max": "1.5 fl oz/1000 sq ft"},
}


def asking(**changes: Any) -> Json:
    """A request whose plan has no warning and no refusal, with members changed or added."""
    request: Json = {"property": place(LAWN), "machine": MACHINE, "mix": [HERBICIDE]}
    return copy.deepcopy(request | changes)


def with_machine(**changes: Any) -> Json:
    return asking(machine=MACHINE | changes)


def with_output(output: str, **changes: Any) -> Json:
    stated = {name: value for name, value in MACHINE.items() if name != "calibration"}
    return stated | {"output": output} | changes


def with_runs(*volumes: str) -> Json:
    return asking(
        machine=MACHINE | {"calibration": MACHINE["calibration"] | {"volumes_used": list(volumes)}}
    )


def codes(findings: Any) -> list[str]:
    return [finding.code for finding in findings]
