"""The headings that are worth trying for lanes: those of the longest edges.

Metres, in the plane of the property's frame: x east, y north.
"""

import math

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

#: Corners nearer than this to a straight edge are part of it.
_STRAIGHT_M = 0.05
#: Edges whose headings differ by less are one heading.
_SAME_HEADING_DEG = 3.0


def edge_headings(ground: BaseGeometry, *, most: int) -> list[float]:
    """The headings along which most of the outline runs, the longest first.

    Edges that run nearly the same way, or the opposite way, are counted together
    under the heading of the longest of them.

    Parameters
    ----------
    ground : BaseGeometry
        Polygons, not empty. [m]
    most : int
        So many headings at most. [-]

    Returns
    -------
    list of float
        Bearings from 0 to below 180, clockwise from the y axis. [degree]

    Raises
    ------
    None
        Any outline has an edge.

    References
    ----------
    Common practice.
    """
    bearings, lengths = _edges(ground)
    longest_first = np.lexsort((bearings, -lengths.round(6)))
    bearings, lengths = bearings[longest_first], lengths[longest_first]
    found: list[tuple[float, float]] = []
    while bearings.size:
        apart = np.abs(bearings - bearings[0])
        same = np.minimum(apart, 180 - apart) < _SAME_HEADING_DEG
        found.append((-round(float(lengths[same].sum()), 6), float(bearings[0])))
        bearings, lengths = bearings[~same], lengths[~same]
    return [bearing for _, bearing in sorted(found)[:most]]


def _edges(ground: BaseGeometry) -> tuple["np.ndarray[tuple[int], np.dtype[np.float64]]", ...]:
    """Bearing and length of every edge of the outline."""
    rings = shapely.get_rings(shapely.get_parts(ground.simplify(_STRAIGHT_M)))
    corners, ring = shapely.get_coordinates(rings, return_index=True)
    steps = np.diff(corners, axis=0)[np.diff(ring) == 0]
    bearings = np.degrees(np.arctan2(steps[:, 0], steps[:, 1])).round(9) % 180
    return bearings, np.hypot(steps[:, 0], steps[:, 1])


def along_and_across(heading_deg: float) -> "np.ndarray[tuple[int, int], np.dtype[np.float64]]":
    """Turn places so that lanes of a heading run along the first axis.

    Parameters
    ----------
    heading_deg : float
        Bearing of the lanes, clockwise from the y axis. [degree]

    Returns
    -------
    array of shape (2, 2)
        A rotation: ``places @ rotation`` gives metres along and across the lanes, and
        its transpose turns them back. [-]

    Raises
    ------
    None
        Any bearing will do.

    References
    ----------
    Our own derivation.
    """
    angle = math.radians(heading_deg)
    along = (math.sin(angle), math.cos(angle))
    return np.array(((along[0], -along[1]), (along[1], along[0])))
