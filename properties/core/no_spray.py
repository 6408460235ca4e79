"""From a protected feature and its setback to the ground that must not be sprayed.

Lengths in metres, in the plane of the property's frame.
"""

import math
from collections.abc import Iterator
from contextlib import suppress
from dataclasses import dataclass
from itertools import chain

import numpy as np
import shapely
from shapely import LineString, Polygon
from shapely.errors import GEOSException
from shapely.geometry.base import BaseGeometry

from properties.core.errors import Refused
from properties.core.frame import Counts, Floats, Shapes
from properties.core.offsets import (
    MOST_AT_ONCE,
    around_point,
    around_ring,
    circles_around,
    curves_around,
)
from properties.core.plane import Area, polygons_of, union_of

#: The engine slips where a slot just closes; in a turned plane its roundings fall otherwise.
_TURNS = (np.eye(2), np.array([[0.8, 0.6], [-0.6, 0.8]]))


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


def plain_zones(features: Shapes, *, setbacks_m: Floats) -> dict[int, Area]:
    """The no-spray zones of plain features, all in one pass.

    Parameters
    ----------
    features : array of BaseGeometry
        Areas, lines or points to protect, valid. [m]
    setbacks_m : array
        Distance to keep from each. [m]

    Returns
    -------
    dict
        Zones that are the same as ``no_spray_zone`` gives, by the number of their feature;
        none for a feature that is not plain or has no setback above zero. [m]

    Raises
    ------
    None
        What cannot be done here is left to ``no_spray_zone``.

    References
    ----------
    Our own derivation, see ``offsets``.
    """
    curves = plain_curves(features, setbacks_m=setbacks_m)
    outlines = np.asarray(shapely.polygons(curves.as_rings()), dtype=object)
    whose = features[curves.owner]
    keeps, zones = np.zeros(len(whose), dtype=bool), whose
    with suppress(GEOSException):
        zones = shapely.buffer(outlines, 0)
        keeps = shapely.is_valid(zones) & shapely.contains(zones, shapely.point_on_surface(whose))
        away_m = shapely.distance(whose, shapely.boundary(zones))
        keeps &= away_m >= setbacks_m[curves.owner] * (1 - 1e-9)
    return dict(zip(curves.owner[keeps].tolist(), zones[keeps].tolist(), strict=True))


@dataclass(frozen=True)
class Curves:
    """Closed curves round the zones of some features, one after another.

    Their union by winding number is the ground; ``owner`` is the number of each one's feature.
    """

    corners: Floats
    counts: Counts
    owner: Counts

    def as_rings(self) -> Shapes:
        """The curves as rings."""
        which = np.repeat(np.arange(len(self.counts)), self.counts)
        return np.asarray(shapely.linearrings(self.corners, indices=which), dtype=object)


def plain_curves(features: Shapes, *, setbacks_m: Floats) -> Curves:
    """The curves round the zones of points and of plain outlines, all in one pass.

    Parameters
    ----------
    features : array of BaseGeometry
        Areas, lines or points to protect, valid. [m]
    setbacks_m : array
        Distance to keep from each; only one above zero makes a zone here. [m]

    Returns
    -------
    Curves
        One for each point and each outline without a hole and of few corners. [m]

    Raises
    ------
    None
        Other features are left out.

    References
    ----------
    Our own derivation, see ``offsets``.
    """
    far = (setbacks_m > 0) & np.isfinite(setbacks_m) & ~shapely.is_empty(features)
    kind = shapely.get_type_id(features)
    points = np.flatnonzero(far & (kind == shapely.GeometryType.POINT))
    circles, edges = circles_around(
        shapely.get_coordinates(features[points]), distances_m=setbacks_m[points]
    )
    whole = (kind == shapely.GeometryType.POLYGON) & (shapely.get_num_interior_rings(features) == 0)
    areas = np.flatnonzero(far & whole)
    outlines = shapely.orient_polygons(shapely.remove_repeated_points(features[areas]))
    few = shapely.get_num_coordinates(outlines) <= MOST_AT_ONCE
    areas, outlines = areas[few], outlines[few]
    rings, which = shapely.get_coordinates(outlines, return_index=True)
    # A ring ends where it started.
    curves, counts = curves_around(
        rings[:-1][which[1:] == which[:-1]],
        corners=shapely.get_num_coordinates(outlines).astype(np.intp) - 1,
        distances_m=setbacks_m[areas],
    )
    return Curves(
        np.concatenate((circles, curves)),
        np.concatenate((edges, counts)),
        np.concatenate((points, areas)),
    )


def _zone_of_part(part: BaseGeometry, setback_m: float) -> BaseGeometry:
    if isinstance(part, Polygon):
        return _zone_of_area(part, setback_m)
    if isinstance(part, LineString) and part.length > 0:
        return union_of(_along(shapely.get_coordinates(part), setback_m))
    return around_point(shapely.get_coordinates(part)[0], distance_m=setback_m)


def _zone_of_area(area: Polygon, setback_m: float) -> BaseGeometry:
    """The zone in one go round a plain outline; else the area with the ground along its rings."""
    rings = [shapely.get_coordinates(ring) for ring in shapely.get_rings([area])]
    is_plain = len(rings) == 1 and len(rings[0]) <= MOST_AT_ONCE
    for turn in _TURNS if is_plain else ():
        zone = _in_one_go(area, turn, setback_m)
        if _keeps(zone, area, setback_m):
            return zone
    return union_of(chain([area], *(_along(ring, setback_m) for ring in rings)))


def _in_one_go(area: Polygon, turn: Floats, setback_m: float) -> BaseGeometry:
    """The zone round a plain outline, made in a turned plane."""
    outline = shapely.get_coordinates(shapely.orient_polygons(area))

    def back(xy: Floats) -> Floats:
        return xy @ turn.T

    turned: BaseGeometry = shapely.transform(
        around_ring(outline @ turn, distance_m=setback_m), back
    )
    return turned


def _along(line: Floats, setback_m: float) -> Iterator[BaseGeometry]:
    """The ground along a line: in one go where it is short and does not meet itself, else halved.

    One side alone is always right, so halving ends. Halves also keep a shore of
    thousands of corners quick.
    """
    if len(line) <= MOST_AT_ONCE and (len(line) == 2 or LineString(line).is_simple):
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
