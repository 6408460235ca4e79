"""Where a machine's swath fits, and the strips that are left for a hand tool.

Lengths in metres, in the plane of the property's frame.
"""

import math

import numpy as np
import shapely
from shapely import Polygon
from shapely.geometry.base import BaseGeometry

from properties.core.errors import require_positive
from properties.core.plane import NOWHERE, Area, cut, polygons_of, union_of

_EDGES_PER_QUARTER = 16
#: The swath shrinks by this while it looks for room and grows back by it afterwards: a lawn
#: exactly as wide as the swath is passable, and no hairline of rounding ties corners together.
_PLAY_M = 0.0005
#: A corner piece may be this much larger than a right-angled one and still be a corner.
_CORNER_SLACK = 1.15
_TOUCHING_M = 1e-6
#: With more holes than this the holes are grown and cut out: shrinking ground around them all
#: at once takes time that grows with the square of their number.
_MANY_HOLES = 100


def split_by_swath(treatable: BaseGeometry, *, swath_m: float) -> tuple[Area, Area]:
    """Split treatable ground into what a machine can pass and what is left for a hand tool.

    A disk as wide as the swath is rolled over the ground. What it never covers is
    too narrow, except in the corners: a disk cannot fill a corner that the boom's
    end passes all the same, so a left-over piece beside the machine's ground no
    larger than the corner of a right angle is given back to the machine. Sharper
    corners stay hand work.

    Parameters
    ----------
    treatable : BaseGeometry
        Treatable ground, valid. [m]
    swath_m : float
        Width that the machine treats in one pass, > 0. [m]

    Returns
    -------
    tuple of two areas
        The machine's ground and the hand tool's; together the treatable ground,
        without overlap. [m]

    Raises
    ------
    Refused
        If the swath is not a finite number above zero.

    References
    ----------
    Our own derivation: the corner of a right angle that a disk of radius r leaves
    has the area (1 - π/4) r².
    """
    require_positive(swath_m=swath_m)
    radius_m = swath_m / 2
    play_m = min(_PLAY_M, radius_m / 100)
    room = _eroded(treatable, radius_m - play_m)
    if room.is_empty:
        return NOWHERE, polygons_of(treatable)
    rolled = room.buffer(radius_m + play_m, quad_segs=_EDGES_PER_QUARTER)
    left = shapely.get_parts(cut(treatable, rolled)[1])
    corner_m2 = _CORNER_SLACK * (1 - math.pi / 4) * radius_m**2
    is_corner = (shapely.area(left) <= corner_m2) & (
        shapely.distance(left, np.array(rolled)) <= _TOUCHING_M
    )
    hand = union_of(left[~is_corner])
    return cut(treatable, hand)[1], hand


def _eroded(ground: BaseGeometry, by_m: float) -> BaseGeometry:
    """Ground that is farther than a distance from its own edge."""
    parts = shapely.get_parts(ground)
    if shapely.get_num_interior_rings(parts).sum() <= _MANY_HOLES:
        return ground.buffer(-by_m, quad_segs=_EDGES_PER_QUARTER)
    holes = [hole for part in parts.tolist() for hole in part.interiors]
    grown = shapely.buffer(shapely.polygons(holes), by_m, quad_segs=_EDGES_PER_QUARTER)
    shells = [Polygon(part.exterior) for part in parts.tolist()]
    shrunk = union_of(shell.buffer(-by_m, quad_segs=_EDGES_PER_QUARTER) for shell in shells)
    return cut(shrunk, polygons_of(shapely.union_all(grown)))[1]
