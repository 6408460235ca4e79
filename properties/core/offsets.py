"""Curves at a distance: what lies within a length of a ring, a line or a point.

GEOS draws round corners inside the true circle and smooths shallow hollows, so
its zones are too narrow in one place and too wide in another. These curves keep
straight sides exact and draw arcs round the true circle, so they are never short.
Lengths in metres, angles in radians, in the plane of the property's frame.
"""

import math

import numpy as np
import shapely
from shapely import Polygon
from shapely.geometry.base import BaseGeometry

from properties.core.frame import Floats

#: How far an arc may run outside the true circle.
ARC_EXCESS_M = 0.005
_WIDEST_EDGE_RAD = math.pi / 16


def widest_edge_rad(distance_m: float) -> float:
    """The angle that one straight edge of an arc may span.

    Parameters
    ----------
    distance_m : float
        Radius of the arc, > 0. [m]

    Returns
    -------
    float
        The angle, so small that the ends of an edge that touches the circle lie
        within the allowed excess. [rad]

    Raises
    ------
    None
        The caller has checked the distance.

    References
    ----------
    Our own derivation: an edge that touches a circle of radius r and spans an
    angle a has its ends r/cos(a/2) from the middle.
    """
    return min(_WIDEST_EDGE_RAD, 2 * math.acos(distance_m / (distance_m + ARC_EXCESS_M)))


def around_point(point: Floats, *, distance_m: float) -> Polygon:
    """The ground within a distance of a point.

    Parameters
    ----------
    point : array of shape (2,)
        The point. [m]
    distance_m : float
        The distance, > 0. [m]

    Returns
    -------
    Polygon
        A regular polygon that the true circle touches from inside. [m]

    Raises
    ------
    None
        The caller has checked the distance.

    References
    ----------
    Our own derivation, see ``widest_edge_rad``.
    """
    edges = math.ceil(2 * math.pi / widest_edge_rad(distance_m))
    angles = np.linspace(0, 2 * math.pi, edges, endpoint=False)
    return Polygon(_at(point, angles, np.full(edges, distance_m / math.cos(math.pi / edges))))


def around_ring(ring: Floats, *, distance_m: float) -> BaseGeometry:
    """The ground inside a ring or within a distance of it.

    Each side is moved out; at an outward corner an arc joins the moved sides, at an
    inward one a chord. The curve crosses itself in hollows, but goes round every
    point of the wanted ground at least once and round no other, so the union by
    winding number is the answer.

    Parameters
    ----------
    ring : array of shape (n, 2)
        Corners of a closed ring, counter-clockwise, without repeats; it does not cross
        itself. A line there and back again is such a ring too. [m]
    distance_m : float
        The distance, > 0. [m]

    Returns
    -------
    Polygon or MultiPolygon
        The ground. [m]

    Raises
    ------
    None
        The caller has checked the ring and the distance.

    References
    ----------
    Guibas, L., Ramshaw, L. & Stolfi, J. (1983), A kinetic framework for computational
    geometry, 24th Symposium on Foundations of Computer Science, IEEE: the winding
    number of the convolution of two outlines counts the pieces in which they meet.
    """
    sides = np.diff(ring, axis=0)
    facing = np.arctan2(-sides[:, 0], sides[:, 1])
    before = np.roll(facing, 1)
    turn = _turns(sides)
    outward = turn >= 0
    edges = np.where(outward, np.ceil(turn / widest_edge_rad(distance_m)).clip(min=1), 2)
    edges = edges.astype(np.intp)
    corner = np.repeat(np.arange(len(edges)), edges)
    step = np.arange(len(corner)) - np.repeat(np.cumsum(edges) - edges, edges)
    # An arc's corners stand over the middles of its edges, a chord's at its two ends.
    share = np.where(outward[corner], (step + 0.5) / edges[corner], step)
    reach = np.where(outward, 1 / np.cos(np.where(outward, turn, 0) / (2 * edges)), 1)
    curve = _at(ring[corner], before[corner] + share * turn[corner], distance_m * reach[corner])
    return shapely.buffer(Polygon(curve), 0)


def _turns(sides: Floats) -> Floats:
    """How far the outline turns left from the side before each corner to the one after."""
    before = np.roll(sides, 1, axis=0)
    cross = before[:, 0] * sides[:, 1] - before[:, 1] * sides[:, 0]
    turn = np.arctan2(cross, np.sum(before * sides, axis=1))
    # The end of a line turns right back: that is a corner to go round, on either side of rounding.
    return np.where(turn <= -math.pi + 1e-9, math.pi, turn)


def _at(middle: Floats, angle: Floats, radius: Floats) -> Floats:
    return middle + np.column_stack((radius * np.cos(angle), radius * np.sin(angle)))
