"""From a protected feature and its setback to the ground that must not be sprayed.

Lengths in metres, in the plane of the property's frame.
"""

import math

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from properties.core.errors import Refused
from properties.core.plane import polygons_of, union_of

#: How far an arc of a zone may run outside the true circle.
ARC_EXCESS_M = 0.008
_FEWEST_EDGES_PER_QUARTER = 8


def edges_per_quarter(setback_m: float) -> int:
    """How many straight edges draw a quarter of a circle within the allowed excess.

    Parameters
    ----------
    setback_m : float
        Radius of the circle, > 0. [m]

    Returns
    -------
    int
        Number of edges. [1]

    Raises
    ------
    None
        The caller has checked the radius.

    References
    ----------
    Our own derivation: an edge that spans an angle a and touches the circle has
    its ends at r/cos(a/2). GEOS rounds the number of edges, so one may span up to
    1.5 shares of the quarter: a/2 = 3π/8q.
    """
    half_edge_rad = math.acos(setback_m / (setback_m + ARC_EXCESS_M))
    return max(_FEWEST_EDGES_PER_QUARTER, math.ceil(3 * math.pi / 8 / half_edge_rad))


def no_spray_zone(feature: BaseGeometry, *, setback_m: float) -> BaseGeometry:
    """Ground within a setback of a protected feature, the feature included.

    Round corners are drawn with straight edges outside the true circle, never
    inside: no point of the zone's edge is nearer than the setback. Arcs run less
    than 1 cm outside it. At shallow concave corners GEOS may add up to 1 % of
    the setback, always on the safe side.

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
    Our own derivation, see ``edges_per_quarter``.
    """
    if not (math.isfinite(setback_m) and setback_m >= 0):
        raise Refused(
            "setback_m",
            f"{setback_m:g} is not a distance of zero or more.",
            "Enter the distance to keep.",
        )
    if setback_m == 0:
        return polygons_of(feature)
    quarter = edges_per_quarter(setback_m)
    radius_m = setback_m / math.cos(3 * math.pi / 8 / quarter)
    parts = shapely.get_parts(np.array([feature]))
    return union_of(shapely.buffer(parts, radius_m, quad_segs=quarter))
