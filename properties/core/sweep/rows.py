"""The treatable ground of many rows at once, by winding number.

Every outline of a row is one of two kinds: it adds a turn about its ground (turf; a hole
in what is cut away), or takes one off (obstacles and no-spray zones; a hole in turf).
Where turf does not overlap itself, treatable is just the ground with a turn left over.
So one sweep does for the joins and the cut together. Lengths in metres.
"""

from collections.abc import Mapping
from contextlib import suppress
from dataclasses import dataclass

import numpy as np
import shapely
from shapely.errors import GEOSException
from shapely.geometry.base import BaseGeometry

from properties.core.errors import Refused
from properties.core.frame import Counts, Flags, Floats, Shapes
from properties.core.no_spray import no_spray_zone, plain_curves
from properties.core.sweep.sections import Lines, lengths_left_over, lengths_over, lines_across
from properties.core.zones import Setback

#: Rounding moves a crossing less than this, even of an edge that is almost level.
_SLIP_M = 1e-6


@dataclass(frozen=True)
class Rows:
    """Shapes in metres, row after row: whether each is turf or is cut from it, and how far off.

    ``is_valid`` tells whose outline does not cross itself. ``distance_m`` is zero where a
    shape has no setback; ``beyond`` holds the setbacks that depend on the wind, by the
    number of their shape.
    """

    shapes: Shapes
    row: Counts
    is_turf: Flags
    is_valid: Flags
    distance_m: Floats
    beyond: Mapping[int, Setback]
    number: int

    def zone_of(self, number: int) -> BaseGeometry:
        """The no-spray zone of one shape, whatever it is."""
        setback = self.beyond.get(number)
        if setback is not None:
            return setback.zone_of(self.shapes[number])
        return no_spray_zone(self.shapes[number], setback_m=float(self.distance_m[number]))


@dataclass(frozen=True)
class Ground:
    """Treatable ground of each row, whether it can be trusted, and whether anything was near."""

    treatable: Shapes
    area_m2: Floats
    is_sound: Flags
    is_cut: Flags


@dataclass(frozen=True)
class _Rings:
    """Outlines, the row of each, and whether it adds a turn or takes one off."""

    outline: Shapes
    row: Counts
    adds: Flags

    def joined(self, *others: "_Rings") -> "_Rings":
        every = (self, *others)
        return _Rings(
            np.concatenate([one.outline for one in every]),
            np.concatenate([one.row for one in every]),
            np.concatenate([one.adds for one in every]),
        )

    def near(self, boxes: Floats) -> "_Rings":
        """Those whose own box meets the box of their row."""
        return self.only(_meet(shapely.bounds(self.outline), boxes[self.row]))

    def only(self, which: Flags | Counts) -> "_Rings":
        return _Rings(self.outline[which], self.row[which], self.adds[which])


def treatable_ground(rows: Rows) -> Ground:
    """Cut from the turf of each row what lies on it and what must be kept from.

    Parameters
    ----------
    rows : Rows
        Shapes of one property or many. [m]

    Returns
    -------
    Ground
        The treatable ground of each row. It is not to be trusted where a shape is not
        valid, where the engine gave up, where there is more of it than turf or where it
        reaches a protected feature: there it must be cut another way. [m and m²]

    Raises
    ------
    None
        Rows that fail are marked.

    References
    ----------
    Our own derivation: no-spray zones as winding numbers, see ``offsets``; turf that
    overlaps itself is joined first.
    """
    number = rows.number
    turf, turf_row = _turf_once(rows)
    cut_away, refused = _cut_away(rows)
    boxes = _boxes(turf, turf_row, number)
    near = cut_away[0].joined(*cut_away[1:]).near(boxes)
    rings = _rings_of(turf, turf_row, adds=True).joined(near)
    treatable = _swept(_stacked(rings, number))
    is_sound = shapely.is_valid(treatable)
    is_sound &= _agrees(treatable, rings, lines_across(boxes))
    is_sound[rows.row[~rows.is_valid]] = False
    is_sound[refused] = False
    is_sound[_rows_that_reach_a_feature(rows, treatable)] = False
    is_cut = np.bincount(near.row, minlength=number) > 0
    return Ground(treatable, shapely.area(treatable), is_sound, is_cut)


def _agrees(treatable: Shapes, rings: _Rings, lines: Lines) -> Flags:
    """Whether lines across each row run over as much of the ground as the outlines say."""
    turns = np.where(rings.adds, 1, -1)
    told_m = lengths_left_over(lines, rings.outline, row=rings.row, turns=turns)
    same: Flags = np.abs(lengths_over(lines, treatable) - told_m) < _SLIP_M
    return same


def _turf_once(rows: Rows) -> tuple[Shapes, Counts]:
    """The turf of each row in polygons that do not overlap, and the row of each."""
    turf, index = shapely.get_parts(rows.shapes[rows.is_turf], return_index=True)
    row = rows.row[rows.is_turf][index]
    found = _rows_with_boxes_that_meet(shapely.bounds(turf), row)
    if not len(found):
        return turf, row
    meets = np.isin(row, found)
    which, number = np.unique(row[meets], return_inverse=True)
    together = np.asarray(shapely.multipolygons(turf[meets], indices=number), dtype=object)
    joined, index = shapely.get_parts(_joined(together), return_index=True)
    return np.concatenate((turf[~meets], joined)), np.concatenate((row[~meets], which[index]))


def _joined(together: Shapes) -> Shapes:
    """Polygons that overlap as plain ground, where two methods agree; else missing."""
    joined = _swept(together)
    other_m2: Floats = np.zeros(len(together))
    with suppress(GEOSException):
        other_m2 = np.asarray(shapely.area(shapely.union_all(together[:, None], axis=1)))
    joined[~np.isclose(shapely.area(joined), other_m2, rtol=1e-10, atol=1e-8)] = None
    return joined


def _rows_with_boxes_that_meet(boxes: Floats, row: Counts) -> Counts:
    """The rows in which the boxes of two polygons meet; the polygons are in the order of rows."""
    found = [row[:0]]
    for apart in range(1, len(row)):
        same = row[apart:] == row[:-apart]
        if not same.any():
            break
        found.append(row[apart:][same & _meet(boxes[apart:], boxes[:-apart])])
    return np.concatenate(found)


def _meet(boxes: Floats, others: Floats) -> Flags:
    meet: Flags = np.all((boxes[:, :2] <= others[:, 2:]) & (boxes[:, 2:] >= others[:, :2]), axis=1)
    return meet


def _cut_away(rows: Rows) -> tuple[list[_Rings], Counts]:
    """The outlines of all that is cut away, and the rows in which a distance is refused."""
    curves = plain_curves(rows.shapes, setbacks_m=rows.distance_m)
    drawn = [
        _Rings(curves.as_rings(), rows.row[curves.owner], np.zeros(len(curves.owner), dtype=bool))
    ]
    as_it_is = ~rows.is_turf & (rows.distance_m == 0)
    as_it_is[list(rows.beyond)] = False
    left = ~rows.is_turf & ~as_it_is
    left[curves.owner] = False
    refused = []
    for number in np.flatnonzero(left).tolist():
        try:
            zone = rows.zone_of(number)
        except Refused:
            refused.append(rows.row[number])
        else:
            drawn.append(_areas_of(np.array([zone]), rows.row[[number]]))
    drawn.append(_areas_of(rows.shapes[as_it_is], rows.row[as_it_is]))
    return drawn, np.array(refused, dtype=np.intp)


def _areas_of(shapes: Shapes, row: Counts) -> _Rings:
    parts, index = shapely.get_parts(shapes, return_index=True)
    areas = shapely.get_type_id(parts) == shapely.GeometryType.POLYGON
    return _rings_of(parts[areas], row[index[areas]], adds=False)


def _rings_of(polygons: Shapes, row: Counts, *, adds: bool) -> _Rings:
    """The rings of some polygons, of which the first is the outer one and holes do the opposite."""
    rings, index = shapely.get_rings(polygons, return_index=True)
    is_hole = np.zeros(len(index), dtype=bool)
    is_hole[1:] = index[1:] == index[:-1]
    return _Rings(rings, row[index], is_hole != adds)


def _boxes(turf: Shapes, row: Counts, number: int) -> Floats:
    """The box of the turf of each row; where there is none, one that nothing meets."""
    boxes = np.full((number, 4), np.inf)
    boxes[:, 2:] = -np.inf
    bounds = shapely.bounds(turf)
    np.minimum.at(boxes[:, :2], row, bounds[:, :2])
    np.maximum.at(boxes[:, 2:], row, bounds[:, 2:])
    return boxes


def _stacked(rings: _Rings, number: int) -> Shapes:
    """All rings of a row in one shape: those that take a turn off as holes in the last that adds.

    Where a hole lies does not matter when winding numbers are counted.
    """
    rings = rings.only(np.argsort(2 * rings.row + ~rings.adds, kind="stable"))
    polygons = np.asarray(shapely.polygons(rings.outline, indices=np.cumsum(rings.adds) - 1))
    stacked = np.full(number, None, dtype=object)
    shapely.multipolygons(polygons, indices=rings.row[rings.adds], out=stacked)
    return stacked


def _swept(stacked: Shapes) -> Shapes:
    """The ground with a turn left over; all missing if the engine gives up on one."""
    swept = np.full(len(stacked), None, dtype=object)
    with suppress(GEOSException):
        swept = shapely.buffer(stacked, 0)
    return swept


def _rows_that_reach_a_feature(rows: Rows, treatable: Shapes) -> Counts:
    """The rows whose treatable ground holds a corner of something that is cut away."""
    kept = (rows.distance_m > 0) | (shapely.get_dimensions(rows.shapes) == 2)
    cut = np.flatnonzero(kept & ~rows.is_turf & ~shapely.is_empty(rows.shapes))
    corners, shape = shapely.get_coordinates(rows.shapes[cut], return_index=True)
    first = corners[np.searchsorted(shape, np.arange(len(cut)))]
    row = rows.row[cut]
    return row[shapely.contains_xy(treatable[row], first[:, 0], first[:, 1])]
