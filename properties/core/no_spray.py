"""From a protected feature and its setback to the ground that must not be sprayed.

Lengths in metres, in the plane of the property's frame.
"""

import math
from collections.abc import Iterator
from itertools import chain

import numpy as np
import shapely
from shapely import LineString, Polygon
from shapely.geometry.base import BaseGeometry

from properties.core.errors import Refused
from properties.core.frame import Floats
from properties.core.offsets import around_point, around_ring
from properties.core.plane import polygons_of, union_of

#: An outline with more corners is walked in pieces: the work grows with their square.
_MOST_AT_ONCE = 200


def no_spray_zone(feature: BaseGeometry, *, setback_m: float) -> BaseGeometry:
    """Ground within a setback of a protected feature, the feature included.

    Round corners are drawn with straight edges outside the true circle, never
    inside: no point of the zone's edge is nearer than the setback, and none is more
    than a centimetre farther.

    Parameters
    ----------
    feature : BaseGeometry
        Area, line or point to protect, valid. [m]
    setback_m : float
        Distance to keep, >= 0. [m]

    Returns
    -------
    Polygon or MultiPolygon
        The zone; with no setback the feature's own ground, none for a line or point. [m]

    Raises
    ------
    Refused
        If the setback is negative or not a finite number.

    References
    ----------
    Our own derivation, see ``offsets``.
    """
    if not (math.isfinite(setback_m) and setback_m >= 0):
        raise Refused(
            "setback_m",
            f"{setback_m:g} is not a distance of zero or more.",
            "Enter the distance to keep.",
        )
    if setback_m == 0:
        return polygons_of(feature)
    parts = shapely.get_parts(np.array([shapely.remove_repeated_points(feature)])).tolist()
    return union_of(_zone_of_part(part, setback_m) for part in parts)


def _zone_of_part(part: BaseGeometry, setback_m: float) -> BaseGeometry:
    if isinstance(part, Polygon):
        return _zone_of_area(part, setback_m)
    if isinstance(part, LineString) and part.length > 0:
        return union_of(_along(shapely.get_coordinates(part), setback_m))
    return around_point(shapely.get_coordinates(part)[0], distance_m=setback_m)


def _zone_of_area(area: Polygon, setback_m: float) -> BaseGeometry:
    """The zone in one go round a plain outline; else the area with the ground along its rings."""
    rings = [shapely.get_coordinates(ring) for ring in shapely.get_rings([area])]
    if len(rings) == 1 and len(rings[0]) <= _MOST_AT_ONCE:
        outline = shapely.get_coordinates(shapely.orient_polygons(area))
        zone = around_ring(outline, distance_m=setback_m)
        if _keeps(zone, area, setback_m):
            return zone
    return union_of(chain([area], *(_along(ring, setback_m) for ring in rings)))


def _along(line: Floats, setback_m: float) -> Iterator[BaseGeometry]:
    """The ground along a line: in one go where it is short and does not meet itself, else halved.

    One side alone is always right, so halving ends. Halves also keep a shore of
    thousands of corners quick.
    """
    if len(line) <= _MOST_AT_ONCE and (len(line) == 2 or LineString(line).is_simple):
        zone = around_ring(np.concatenate((line, line[-2::-1])), distance_m=setback_m)
        if len(line) == 2 or _keeps(zone, LineString(line), setback_m):
            yield zone
            return
    middle = len(line) // 2
    yield from _along(line[: middle + 1], setback_m)
    yield from _along(line[middle:], setback_m)


def _keeps(zone: BaseGeometry, feature: BaseGeometry, setback_m: float) -> bool:
    """Whether a zone holds all ground within a setback: proof, whatever made the zone.

    A point of the feature lies inside and no point of the zone's edge is nearer than
    the setback, so no way from the feature that is shorter leads out.
    """
    return (
        zone.is_valid
        and zone.contains(feature.representative_point())
        and feature.distance(zone.boundary) >= setback_m * (1 - 1e-9)
    )
