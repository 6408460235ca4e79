"""Ground swept by a sector whose point is moved over a feature.

Lengths in metres, angles in radians from east, counter-clockwise, in the plane
of the property's frame. Arcs are drawn round the true circle, never inside it.
"""

import math
from dataclasses import dataclass
from functools import lru_cache

import numpy as np
import shapely
from shapely import Polygon
from shapely.geometry.base import BaseGeometry

from properties.core.frame import Floats
from properties.core.offsets import SECTOR_EXCESS_M, widest_edges_rad
from properties.core.plane import union_of


def angle_of_bearing(bearing_deg: float) -> float:
    """The angle from east, counter-clockwise, of a compass bearing.

    Parameters
    ----------
    bearing_deg : float
        Bearing from north, clockwise. [°]

    Returns
    -------
    float
        The angle; the same for a bearing and for one full turn more. [rad]

    Raises
    ------
    None
        Any finite bearing will do.

    References
    ----------
    Our own derivation: east is 90° from north and the sense of turning is reversed.
    """
    return math.radians(90 - bearing_deg % 360)


def arc(*, from_rad: float, to_rad: float, radius_m: float) -> Floats:
    """Corners of an arc about the origin, drawn outside the true circle.

    The two ends lie on the circle; between them every edge touches it.

    Parameters
    ----------
    from_rad : float
        Angle at which the arc begins. [rad]
    to_rad : float
        Angle at which it ends, >= ``from_rad``. [rad]
    radius_m : float
        Radius of the circle, > 0. [m]

    Returns
    -------
    array of shape (n, 2)
        The corners, counter-clockwise. [m]

    Raises
    ------
    None
        The caller has checked the radius and the angles.

    References
    ----------
    Our own derivation, see ``properties.core.offsets.widest_edges_rad``.
    """
    widest = float(widest_edges_rad(np.array(radius_m), excess_m=SECTOR_EXCESS_M))
    edges = max(1, math.ceil((to_rad - from_rad) / widest))
    step = (to_rad - from_rad) / edges
    angles = np.concatenate(
        ([from_rad], from_rad + (np.arange(edges) + 0.5) * step, [to_rad]),
    )
    radii = np.full(edges + 2, radius_m / math.cos(step / 2))
    radii[[0, -1]] = radius_m
    return np.column_stack((radii * np.cos(angles), radii * np.sin(angles)))


@dataclass(frozen=True, eq=False)
class Convex:
    """The outline of a convex shape: corners counter-clockwise, not closed.

    ``first_rad`` is the heading of the side after the first corner, ``turned_rad`` by how
    much the outline has turned left since then at each side.
    """

    corners: Floats
    first_rad: float
    turned_rad: Floats


@lru_cache(maxsize=256)
def sector(*, middle_rad: float, half_angle_rad: float, radius_m: float) -> Convex:
    """Corners of a sector with its point at the origin.

    Parameters
    ----------
    middle_rad : float
        Angle of its middle line. [rad]
    half_angle_rad : float
        Angle from the middle line to either side, above 0 and up to a right angle. [rad]
    radius_m : float
        Its radius, > 0. [m]

    Returns
    -------
    Convex
        Its outline, begun at the point; not to be written to. [m]

    Raises
    ------
    None
        The caller has checked the arguments.

    References
    ----------
    Our own derivation.
    """
    outer = arc(
        from_rad=middle_rad - half_angle_rad, to_rad=middle_rad + half_angle_rad, radius_m=radius_m
    )
    corners = np.concatenate((np.zeros((1, 2)), outer))
    sides = np.diff(corners, axis=0, append=corners[:1])
    return Convex(
        corners=corners,
        first_rad=math.atan2(sides[0, 1], sides[0, 0]),
        turned_rad=np.concatenate(([0.0], np.cumsum(turns(sides)[1:]))),
    )


def swept_by_ring(ring: Floats, *, convex: Convex) -> BaseGeometry:
    """The ground inside a ring, and that covered by a convex shape moved along it.

    Each side of the ring is moved out by the corner of the shape that lies farthest
    on its outer side. At an outward corner of the ring the outline of the shape
    joins the moved sides, at an inward one a chord. The curve crosses itself in
    hollows, but goes round every point of the wanted ground at least once and round
    no other, so the union by winding number is the answer.

    Parameters
    ----------
    ring : array of shape (n, 2)
        Corners of a closed ring, counter-clockwise, without repeats; it does not cross
        itself. A line there and back again is such a ring too. [m]
    convex : Convex
        The shape, the origin among its corners. [m]

    Returns
    -------
    Polygon or MultiPolygon
        The sum of the two. [m]

    Raises
    ------
    None
        The caller has checked both outlines.

    References
    ----------
    Guibas, L., Ramshaw, L. & Stolfi, J. (1983), A kinetic framework for computational
    geometry, 24th Symposium on Foundations of Computer Science, IEEE: the winding
    number of the convolution of two outlines counts the pieces in which they meet.
    """
    sides = np.diff(ring, axis=0)
    turn = turns(sides)
    # Headings go on counting from the first side's, so they grow by a full turn in all.
    turn[0] = math.atan2(sides[0, 1], sides[0, 0])
    heading = np.cumsum(turn)
    after = _farthest_corner(heading, convex)
    before = np.concatenate(([after[-1] - len(convex.corners)], after[:-1]))
    moved_on = after - before
    # An outward corner takes every corner of the shape on the way, a chord its two ends.
    visits = np.where(moved_on >= 0, moved_on + 1, 2)
    corner = np.repeat(np.arange(len(sides)), visits)
    step = np.arange(len(corner)) - np.repeat(np.cumsum(visits) - visits, visits)
    stride = np.where(moved_on >= 0, 1, moved_on)
    visited = (before[corner] + step * stride[corner]) % len(convex.corners)
    return shapely.buffer(Polygon(ring[corner] + convex.corners[visited]), 0)


def swept_by_edges(edges: Floats, *, convex: Convex) -> BaseGeometry:
    """The ground covered by a convex shape moved along each of some edges.

    Parameters
    ----------
    edges : array of shape (n, 2, 2)
        Start and end of each edge; they may cross. [m]
    convex : Convex
        The shape. [m]

    Returns
    -------
    Polygon or MultiPolygon
        The union of the sums. [m]

    Raises
    ------
    None
        The caller has checked the shape.

    References
    ----------
    Our own derivation: the sum of two convex shapes is the hull of the sums of their corners.
    """
    corners = (edges[:, :, None, :] + convex.corners[None, None, :, :]).reshape(len(edges), -1, 2)
    clouds = np.array(shapely.multipoints(corners), dtype=object)
    return union_of(shapely.convex_hull(clouds))


def turns(sides: Floats) -> Floats:
    """How far an outline turns left at the corner before each side.

    Parameters
    ----------
    sides : array of shape (n, 2)
        The sides of a closed ring as vectors, none of length zero. [m]

    Returns
    -------
    array of shape (n,)
        Angles above -π and up to π; the end of a line turns back by π. [rad]

    Raises
    ------
    None
        The caller has dropped repeated corners.

    References
    ----------
    Our own derivation.
    """
    east, north = sides.T
    last_east, last_north = np.concatenate((sides[-1:], sides[:-1])).T
    turn = np.arctan2(last_east * north - last_north * east, last_east * east + last_north * north)
    # The end of a line turns right back, on either side of rounding.
    return np.where(turn <= -math.pi + 1e-9, math.pi, turn)


def _farthest_corner(heading: Floats, convex: Convex) -> np.ndarray[tuple[int], np.dtype[np.intp]]:
    """Which corner of a convex shape lies farthest to the right of each heading.

    The numbers go on counting from turn to turn, as the headings do.
    """
    whole, rest = np.divmod(heading - convex.first_rad, 2 * math.pi)
    passed = np.searchsorted(convex.turned_rad, rest)
    return whole.astype(np.intp) * len(convex.corners) + passed
