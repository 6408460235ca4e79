"""The outlines of all that is cut from turf: obstacles as they are, and curves round features."""

import numpy as np
import shapely

from properties.core.errors import Refused
from properties.core.frame import Counts
from properties.core.offsets import circles_around, curves_around
from properties.core.sweep.laying import Rows
from properties.core.sweep.rings import Rings, joined, rings_drawn


def cut_away(rows: Rows) -> tuple[Rings, Counts]:
    """Find the outlines of all that is cut away.

    Parameters
    ----------
    rows : Rows
        The shapes. [m]

    Returns
    -------
    tuple of Rings and array
        The outlines with the row of each, wound clockwise but for holes; and the rows in
        which a distance is refused. [m and -]

    Raises
    ------
    None
        What is refused is told.

    References
    ----------
    Our own derivation, see ``offsets``.
    """
    odd, refused = _odd(rows)
    cut = joined([rows.covers(), _around_outlines(rows), _around_points(rows), odd])
    return cut.turned_back(), refused


def _around_outlines(rows: Rows) -> Rings:
    plain = rows.plain()
    corners, counts = curves_around(
        plain.corners, corners=plain.counts, distances_m=rows.distance_m[plain.owner]
    )
    return Rings(corners, counts, rows.row[plain.owner])


def _around_points(rows: Rows) -> Rings:
    far = rows.distance_m[rows.point_of] > 0
    far &= ~np.isin(rows.point_of, list(rows.odd))
    corners, counts = circles_around(
        rows.points[far], distances_m=rows.distance_m[rows.point_of[far]]
    )
    return Rings(corners, counts, rows.row[rows.point_of[far]])


def _odd(rows: Rows) -> tuple[Rings, Counts]:
    """The outlines of zones that are not made by one curve, and the rows where one is refused."""
    zones, whose, refused = [], [], []
    for number, (geometry, setback) in rows.odd.items():
        try:
            zones.append(setback.zone_of(geometry))
        except Refused:
            refused.append(rows.row[number])
        else:
            whose.append(rows.row[number])
    parts, zone = shapely.get_parts(np.array(zones, dtype=object), return_index=True)
    lines, part = shapely.get_rings(parts, return_index=True)
    corners, ring = shapely.get_coordinates(lines, return_index=True)
    is_outer = np.ones(len(part), dtype=bool)
    is_outer[1:] = part[1:] != part[:-1]
    owner = np.array(whose, dtype=np.intp)[zone[part]]
    rings = rings_drawn(corners, ring=ring, owner=owner, is_outer=is_outer)
    return rings, np.array(refused, dtype=np.intp)
