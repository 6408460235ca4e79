"""The outlines of all that is cut from turf: obstacles as they are, and curves round features."""

from collections.abc import Sequence

import numpy as np
import shapely

from properties.core.errors import Refused
from properties.core.frame import Counts, Flags, Floats
from properties.core.offsets import circles_around, curves_around
from properties.core.plane import Area
from properties.core.sweep.laying import Rows
from properties.core.sweep.rings import Rings, are_first, joined, meet, rings_drawn

#: A curve runs less than this beyond its distance.
_BEYOND_M = 0.02


def cut_away(rows: Rows, boxes: Floats) -> tuple[Rings, Counts]:
    """Find the outlines of all that is cut away and comes near the turf of its row.

    Parameters
    ----------
    rows : Rows
        The shapes. [m]
    boxes : array of shape (n, 4)
        West, south, east and north of the turf of each row. [m]

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
    cut = [*_drawn(rows, boxes)]
    if len(rows.points):
        cut.append(_around_points(rows, boxes))
    zones, row, refused = _odd_zones(rows)
    if zones:
        odd = _rings_of(zones, row)
        cut.append(odd.only(meet(odd.boxes, boxes[odd.owner])))
    return joined(cut).turned_back(), refused


def _drawn(rows: Rows, boxes: Floats) -> tuple[Rings, Rings]:
    """What is cut as it is, and the curves round outlines."""
    every = rows.outlines
    is_near = _come_near(every.boxes, rows.distance_m[every.owner], boxes[rows.row[every.owner]])
    is_plain = ~rows.is_turf & ~rows.is_odd
    covers, plain = (
        every.only(is_near & (is_plain & which)[every.owner])
        for which in (rows.distance_m == 0, rows.distance_m > 0)
    )
    curves, counts = curves_around(
        plain.corners, corners=plain.counts, distances_m=rows.distance_m[plain.owner]
    )
    return covers.of(rows.row[covers.owner]), Rings(curves, counts, rows.row[plain.owner])


def _around_points(rows: Rows, boxes: Floats) -> Rings:
    """The circles round points."""
    apart_m, row = rows.distance_m[rows.point_of], rows.row[rows.point_of]
    far = (apart_m > 0) & ~(rows.is_turf | rows.is_odd)[rows.point_of]
    far &= _come_near(np.hstack((rows.points, rows.points)), apart_m, boxes[row])
    circles, edges = circles_around(rows.points[far], distances_m=apart_m[far])
    return Rings(circles, edges, row[far])


def _come_near(boxes: Floats, distance_m: Floats, others: Floats) -> Flags:
    """Whether each box comes within a distance of another."""
    return meet(boxes + (distance_m + _BEYOND_M)[:, None] * (-1, -1, 1, 1), others)


def _odd_zones(rows: Rows) -> tuple[list[Area], Counts, Counts]:
    """The zones that are not made by one curve, the row of each, and where one is refused."""
    zones, row, refused = [], [], []
    for number, (geometry, setback) in rows.odd.items():
        try:
            zones.append(setback.zone_of(geometry))
        except Refused:
            refused.append(rows.row[number])
        else:
            row.append(rows.row[number])
    return zones, np.array(row, dtype=np.intp), np.array(refused, dtype=np.intp)


def _rings_of(zones: Sequence[Area], row: Counts) -> Rings:
    parts, zone = shapely.get_parts(np.array(zones, dtype=object), return_index=True)
    lines, part = shapely.get_rings(parts, return_index=True)
    corners, ring = shapely.get_coordinates(lines, return_index=True)
    return rings_drawn(corners, ring=ring, owner=row[zone[part]], is_outer=are_first(part))
