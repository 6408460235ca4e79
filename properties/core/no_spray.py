"""From a protected feature and its setback to the ground that must not be sprayed.

Lengths in metres, in the plane of the property's frame.
"""

import math
from itertools import pairwise

import numpy as np
import shapely
from shapely import LineString, Polygon
from shapely.geometry.base import BaseGeometry

from properties.core.errors import Refused
from properties.core.offsets import around_point, around_ring, widest_edge_rad
from properties.core.plane import cut, polygons_of, union_of


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
        return _zone_of_line(part, setback_m)
    return around_point(shapely.get_coordinates(part)[0], distance_m=setback_m)


def _zone_of_area(area: Polygon, setback_m: float) -> BaseGeometry:
    outline = shapely.get_coordinates(shapely.orient_polygons(area).exterior)
    holes = union_of(_middle_of_hole(Polygon(hole), setback_m) for hole in area.interiors)
    zone = cut(around_ring(outline, distance_m=setback_m), holes)[1]
    return zone if _keeps(zone, area, setback_m) else _side_by_side(area, setback_m)


def _middle_of_hole(hole: Polygon, setback_m: float) -> BaseGeometry:
    """The ground of a hole that is farther than the setback from its rim.

    GEOS rounds the number of edges of an arc, so one may span up to 1.5 times its
    share of the quarter and come nearer than the radius: the radius is enlarged.
    """
    quarter = math.ceil(1.5 * math.pi / 2 / widest_edge_rad(setback_m))
    radius_m = setback_m / math.cos(1.5 * math.pi / 4 / quarter)
    return hole.buffer(-radius_m, quad_segs=quarter)


def _zone_of_line(line: LineString, setback_m: float) -> BaseGeometry:
    if line.is_simple and not line.is_closed:
        corners = shapely.get_coordinates(line)
        there_and_back = np.concatenate((corners, corners[-2::-1]))
        zone = around_ring(there_and_back, distance_m=setback_m)
        if _keeps(zone, line, setback_m):
            return zone
    return _side_by_side(line, setback_m)


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


def _side_by_side(feature: BaseGeometry, setback_m: float) -> BaseGeometry:
    """The zone made of its sides, one by one: slow, and sound where the quick way is not."""
    sides = [
        around_ring(np.array((start, end, start)), distance_m=setback_m)
        for line in shapely.get_parts(shapely.get_rings(feature) if feature.area else [feature])
        for start, end in pairwise(shapely.get_coordinates(line))
    ]
    return union_of([polygons_of(feature), *sides])
