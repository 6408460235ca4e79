"""Shapes laid out for a sweep: plain rings and points in metres, row after row."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from properties.core.frame import Counts, Flags, Floats, Shapes
from properties.core.sweep.rings import Rings, rings_drawn
from properties.core.zones import Setback

#: An outline with more corners is walked in pieces: the work grows with their square.
_MOST_AT_ONCE = 200


@dataclass(frozen=True)
class Rows:
    """Shapes in metres, row after row: whether each is turf or is cut from it, and how far off.

    ``outlines`` are the rings of areas, outer ones wound counter-clockwise and holes
    clockwise; their owner is the number of their shape, as in ``point_of``. ``is_valid``
    tells whose outline does not cross itself. ``distance_m`` is zero where a shape has no
    setback. ``odd`` holds what is not kept from by one curve: lines, areas with holes or
    of many corners, and whatever depends on the wind.
    """

    outlines: Rings
    points: Floats
    point_of: Counts
    row: Counts
    is_turf: Flags
    is_valid: Flags
    distance_m: Floats
    odd: Mapping[int, tuple[BaseGeometry, Setback]]
    number: int

    def turf(self) -> Rings:
        """The outlines of turf, with the row of each."""
        return self._some(self.is_turf)

    def covers(self) -> Rings:
        """The outlines of what is cut as it is, with the row of each."""
        return self._some(~self.is_turf & (self.distance_m == 0) & ~self._is_odd())

    def plain(self) -> Rings:
        """The outlines that one curve keeps from, with the shape of each."""
        apart = (self.distance_m > 0) & ~self.is_turf & ~self._is_odd()
        return self.outlines.only(apart[self.outlines.owner])

    def _some(self, which: Flags) -> Rings:
        some = self.outlines.only(which[self.outlines.owner])
        return some.of(self.row[some.owner])

    def _is_odd(self) -> Flags:
        is_odd = np.zeros(len(self.row), dtype=bool)
        is_odd[list(self.odd)] = True
        return is_odd


@dataclass(frozen=True)
class Drawn:
    """Shapes in degrees, in the order of their rows, with the setback of each if it has one."""

    shapes: Shapes
    setbacks: Sequence[Setback | None]
    row: Counts
    is_turf: Flags
    number: int


def laid_out(drawn: Drawn, to_metres: Callable[[Floats, Counts], Floats]) -> Rows:
    """Lay shapes out in metres.

    Parameters
    ----------
    drawn : Drawn
        The shapes. [degree]
    to_metres : Callable
        From corners and the number of the shape of each to metres in its frame. [m]

    Returns
    -------
    Rows
        The same shapes. [m]

    Raises
    ------
    None
        Any shapes can be laid out.

    References
    ----------
    Our own derivation.
    """
    lonlat, shape = shapely.get_coordinates(drawn.shapes, return_index=True)
    xy = to_metres(lonlat, shape)
    kind = shapely.get_type_id(drawn.shapes)
    has_area = (kind == shapely.GeometryType.POLYGON) | (kind == shapely.GeometryType.MULTIPOLYGON)
    is_point = (kind == shapely.GeometryType.POINT)[shape]
    outlines = _outlines(drawn.shapes, xy[has_area[shape]], np.flatnonzero(has_area))
    distance_m = np.array(
        [one.in_frame_m if one and one.is_plain else 0.0 for one in drawn.setbacks]
    )
    plain = _are_plain(outlines, len(kind)) | (kind == shapely.GeometryType.POINT)
    plain = np.where(distance_m > 0, np.isfinite(distance_m) & plain, distance_m == 0)
    odd = {
        number: (_moved(drawn.shapes[number], xy[shape == number]), setback)
        for number, setback in enumerate(drawn.setbacks)
        if setback and not (plain[number] and setback.is_plain)
    }
    return Rows(
        outlines=outlines,
        points=xy[is_point],
        point_of=shape[is_point],
        row=drawn.row,
        is_turf=drawn.is_turf,
        is_valid=shapely.is_valid(drawn.shapes) & (has_area | ~drawn.is_turf),
        distance_m=distance_m,
        odd=odd,
        number=drawn.number,
    )


def _outlines(shapes: Shapes, corners: Floats, numbers: Counts) -> Rings:
    """The rings of areas, outer ones wound counter-clockwise and holes clockwise."""
    parts, area = shapely.get_parts(shapes[numbers], return_index=True)
    lines, part = shapely.get_rings(parts, return_index=True)
    is_outer = np.ones(len(part), dtype=bool)
    is_outer[1:] = part[1:] != part[:-1]
    ring = np.repeat(np.arange(len(lines)), shapely.get_num_coordinates(lines))
    return rings_drawn(corners, ring=ring, owner=numbers[area[part]], is_outer=is_outer)


def _are_plain(outlines: Rings, number: int) -> Flags:
    """Which shapes are one ring of few corners."""
    rings = np.bincount(outlines.owner, minlength=number)
    corners = np.bincount(outlines.owner, outlines.counts, minlength=number)
    plain: Flags = (rings == 1) & (corners < _MOST_AT_ONCE)
    return plain


def _moved(shape: BaseGeometry, xy: Floats) -> BaseGeometry:
    """The same shape with other corners."""
    moved: BaseGeometry = shapely.set_coordinates(np.array([shape], dtype=object), xy)[0]
    return moved
