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

from properties.core.frame import Counts, Floats

#: How far an arc may run outside the true circle; the frame adds 5 mm a kilometre.
ARC_EXCESS_M = 0.007
#: And how far where arcs have ends of their own that stand out too.
SECTOR_EXCESS_M = 0.005
#: An outline with more corners is walked in pieces: the work grows with their square.
MOST_AT_ONCE = 500
_WIDEST_EDGE_RAD = math.pi / 12
#: A side is taken for this much shorter than it is, so that rounding never makes it vanish.
_SHY = 1 - 1e-6


def widest_edges_rad(distances_m: Floats, *, excess_m: float = ARC_EXCESS_M) -> Floats:
    """The angle that one straight edge of an arc may span.

    Parameters
    ----------
    distances_m : array
        Radius of each arc, > 0. [m]
    excess_m : float
        How far an arc may run outside the true circle, > 0. [m]

    Returns
    -------
    array
        The angles, so small that the ends of an edge that touches the circle lie
        within the allowed excess. [rad]

    Raises
    ------
    None
        The caller has checked the distances.

    References
    ----------
    Our own derivation: an edge that touches a circle of radius r and spans an
    angle a has its ends r/cos(a/2) from the middle.
    """
    half: Floats = np.arccos(distances_m / (distances_m + excess_m))
    return np.minimum(_WIDEST_EDGE_RAD, 2 * half)


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
    Our own derivation, see ``widest_edges_rad``.
    """
    return Polygon(circles_around(point[None], distances_m=np.array([distance_m]))[0])


def circles_around(points: Floats, *, distances_m: Floats) -> tuple[Floats, Counts]:
    """A regular polygon round each of many points, at a distance of its own.

    Parameters
    ----------
    points : array of shape (n, 2)
        The points. [m]
    distances_m : array
        The distance of each, > 0. [m]

    Returns
    -------
    tuple of arrays
        Corners of one polygon after another, not closed, each touched from inside by the
        true circle; and how many each has. [m and -]

    Raises
    ------
    None
        The caller has checked the distances.

    References
    ----------
    Our own derivation, see ``widest_edges_rad``.
    """
    edges = np.ceil(2 * math.pi / widest_edges_rad(distances_m)).astype(np.intp)
    if not len(points):
        return points, edges
    point, step = _steps(edges)
    angle = 2 * math.pi * step / edges[point]
    reach_m = (distances_m / np.cos(math.pi / edges))[point]
    return _at(points[point, 0], points[point, 1], angle, reach_m), edges


def around_ring(ring: Floats, *, distance_m: float) -> BaseGeometry:
    """The ground inside a ring or within a distance of it.

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
    Our own derivation, see ``curves_around``.
    """
    curve, _ = curves_around(
        ring[:-1], corners=np.array([len(ring) - 1]), distances_m=np.array([distance_m])
    )
    return shapely.buffer(Polygon(curve), 0)


def curves_around(rings: Floats, *, corners: Counts, distances_m: Floats) -> tuple[Floats, Counts]:
    """A curve round each of many rings, at a distance of its own, all in one pass.

    Each side is moved out; at an outward corner an arc joins the moved sides. At an
    inward corner they end where they cross; if one is too short for that, both are cut
    back by its length and a chord joins them. A curve may cross itself in hollows, but goes
    round every point of the wanted ground at least once and round no other, so the union by
    winding number is the answer.

    Parameters
    ----------
    rings : array of shape (n, 2)
        Corners of one ring after another, not closed, each as for ``around_ring``. [m]
    corners : array of int
        How many corners each ring has. [-]
    distances_m : array
        The distance of each ring, > 0. [m]

    Returns
    -------
    tuple of arrays
        Corners of one curve after another, not closed, and how many each has. [m and -]

    Raises
    ------
    None
        The caller has checked the rings and the distances.

    References
    ----------
    Guibas, L., Ramshaw, L. & Stolfi, J. (1983), A kinetic framework for computational
    geometry, 24th Symposium on Foundations of Computer Science, IEEE: the winding
    number of the convolution of two outlines counts the pieces in which they meet.
    Moved sides run on beyond an inward corner, once round ground that is near to both
    sides and not to the corner. Cutting them back takes that turn off, and one is left:
    within the distance lie pieces of both sides that hang together only by way of the
    corner, or the outline would go round a hole; and so with every such corner there, for
    the same reason, so there is always one piece more than there are corners.
    """
    starts = np.cumsum(corners) - corners
    if not len(starts):
        return rings, corners
    before, after = _neighbours(starts, corners)
    x, y = rings[:, 0], rings[:, 1]
    east, north = x[after] - x, y[after] - y
    facing = np.arctan2(-east, north)[before]
    turn = _turns(east[before], north[before], east, north)
    distance_m = np.repeat(distances_m, corners)
    length_m = np.hypot(east, north) * _SHY
    room_m = np.minimum(length_m, length_m[before])
    wanted_m = distance_m * np.tan(np.where(turn < 0, -turn / 2, 0))
    meet = wanted_m <= room_m
    # Where they cross one corner is left: an arc of one edge, bent the other way.
    cut = np.arctan2(np.minimum(wanted_m, room_m), distance_m)
    widest = np.repeat(widest_edges_rad(distances_m), corners)
    edges = np.where(meet, np.ceil(turn / widest).clip(min=1), 2).astype(np.intp)
    half = np.where(meet, turn / (2 * edges), cut)
    corner, step = _steps(edges)
    # An arc's corners stand over the middles of its edges, a chord's as far in from its ends.
    share = (2 * step + 1) * half[corner]
    angle = np.where(meet[corner], share, step * turn[corner] + (2 * step - 1) * cut[corner])
    reach_m = (distance_m / np.cos(half))[corner]
    curves = _at(x[corner], y[corner], facing[corner] + angle, reach_m)
    return curves, np.add.reduceat(edges, starts)


def _neighbours(starts: Counts, corners: Counts) -> tuple[Counts, Counts]:
    """The corner before each corner of some rings, and the one after it."""
    number = np.arange(starts[-1] + corners[-1])
    before, after = number - 1, number + 1
    ends = after[starts + corners - 1] - 1
    before[starts], after[ends] = ends, starts
    return before, after


def _steps(counts: Counts) -> tuple[Counts, Counts]:
    """Whose step each is, and from zero up within each count."""
    which = np.repeat(np.arange(len(counts)), counts)
    return which, np.arange(len(which)) - (np.cumsum(counts) - counts)[which]


def _turns(
    east_before: Floats, north_before: Floats, east_after: Floats, north_after: Floats
) -> Floats:
    """How far the outline turns left from the side before each corner to the one after."""
    cross = east_before * north_after - north_before * east_after
    turn = np.arctan2(cross, east_before * east_after + north_before * north_after)
    # The end of a line turns right back: that is a corner to go round, on either side of rounding.
    return np.where(turn <= -math.pi + 1e-9, math.pi, turn)


def _at(x: Floats, y: Floats, angle: Floats, radius: Floats) -> Floats:
    """Points at an angle and a distance from others."""
    at = np.empty((len(angle), 2))
    np.add(x, radius * np.cos(angle), out=at[:, 0])
    np.add(y, radius * np.sin(angle), out=at[:, 1])
    return at
