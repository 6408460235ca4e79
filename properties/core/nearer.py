"""Where the side or corner of another piece is nearer than one's own.

Between two sides or two points the border is straight; between a side and a point
it is a parabola. Lengths in metres, in the plane of the property's frame.
"""

import math
from dataclasses import dataclass

import numpy as np
import shapely
from shapely import Polygon
from shapely.affinity import translate
from shapely.geometry.base import BaseGeometry

from properties.core.frame import Floats
from properties.core.offsets import SECTOR_EXCESS_M
from properties.core.plane import NOWHERE

#: Lines that diverge by less, and points that are closer together, count as one.
_SAME = 1e-9


@dataclass(frozen=True, eq=False)
class Foot:
    """The piece of a feature that some ground is measured to: a point or a side.

    A side is its line: ``point`` on it and the unit vector ``outward`` from it.
    """

    point: Floats
    outward: Floats | None


def nearer_to_other(shared: Polygon, *, own: Foot, other: Foot, reach_m: float) -> BaseGeometry:
    """The part of some shared ground that is nearer to another foot than to one's own.

    A parabola is drawn with chords on the side that makes this part smaller, by less
    than a centimetre, so that no ground is given away.

    Parameters
    ----------
    shared : Polygon
        Ground in front of both feet. [m]
    own : Foot
        The foot from whose ground the part is to be taken. [m]
    other : Foot
        The other foot. [m]
    reach_m : float
        No point of the shared ground is farther from a side than this, > 0. [m]

    Returns
    -------
    BaseGeometry
        The part; empty if it is none. [m]

    Raises
    ------
    None
        The caller has checked the arguments.

    References
    ----------
    Our own derivation: the points that are as far from a point as from a line lie on
    a parabola with that focus and directrix; a chord of a parabola y = x²/(2f) that
    spans h in x leaves it by h²/(8f) at most.
    """
    if own.outward is not None and other.outward is not None:
        normal = other.outward - own.outward
        limit = float(other.point @ other.outward - own.point @ own.outward)
        return _half(shared, normal=normal, limit=limit)
    if own.outward is not None:
        inner = _parabola(other.point - own.point, own.outward, reach_m=reach_m, outside=False)
        return shared.intersection(translate(inner, *own.point))
    if other.outward is not None:
        outer = _parabola(own.point - other.point, other.outward, reach_m=reach_m, outside=True)
        return shared.difference(translate(outer, *other.point))
    normal = 2 * (own.point - other.point)
    limit = float(own.point @ own.point - other.point @ other.point)
    return _half(shared, normal=normal, limit=limit)


def _half(shared: Polygon, *, normal: Floats, limit: float) -> BaseGeometry:
    """The part of some ground where the product with a normal is below a limit."""
    corners = shapely.get_coordinates(shared)
    over = corners @ normal - limit
    if over.min() >= -_SAME:
        return NOWHERE
    if over.max() <= _SAME:
        return shared
    unit = normal / math.hypot(*normal)
    middle = corners[0] - over[0] / math.hypot(*normal) * unit
    wide = 4 * float(np.ptp(corners, axis=0).sum()) * np.array((-unit[1], unit[0]))
    deep = math.hypot(*wide) * unit
    return shared.intersection(
        Polygon((middle + wide, middle + wide - deep, middle - wide - deep, middle - wide))
    )


def _parabola(focus: Floats, outward: Floats, *, reach_m: float, outside: bool) -> Polygon:
    """The ground up to a reach that is nearer to a point than to a line through the origin.

    Its chords lie inside the curve, or a little outside if they are asked to.
    """
    height = float(focus @ outward)
    if not _SAME < height < 2 * reach_m:
        return Polygon()
    half_width = math.sqrt(height * (2 * reach_m - height))
    chords = math.ceil(2 * half_width / math.sqrt(8 * height * SECTOR_EXCESS_M))
    along = np.linspace(-half_width, half_width, chords + 1)
    up = (along**2 + height**2) / (2 * height)
    if outside:
        along = np.concatenate(([-half_width], along, [half_width]))
        up = np.concatenate(([reach_m], up - SECTOR_EXCESS_M, [reach_m]))
    tangent = np.array((outward[1], -outward[0]))
    return Polygon(focus + along[:, None] * tangent + (up - height)[:, None] * outward)
