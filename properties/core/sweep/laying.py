"""Shapes laid out for a sweep: plain rings and points in metres, row after row."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from properties.core.frame import Counts, Flags, Floats, Shapes
from properties.core.offsets import MOST_AT_ONCE
from properties.core.sweep.rings import Rings, are_first, rings_drawn
from properties.core.zones import Setback


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

    @property
    def is_odd(self) -> Flags:
        """Which shapes are odd."""
        is_odd = np.zeros(len(self.row), dtype=bool)
        is_odd[list(self.odd)] = True
        return is_odd

    def turf(self) -> Rings:
        """The outlines of turf, with the row of each."""
        turf = self.outlines.only(self.is_turf[self.outlines.owner])
        return turf.of(self.row[turf.owner])


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
    corners = xy if has_area.all() else xy[has_area[shape]]
    outlines = _outlines(drawn.shapes, corners, np.flatnonzero(has_area))
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
    areas = shapes[numbers]
    # Most drawings hold polygons without a hole and nothing else.
    if (shapely.get_num_interior_rings(areas) + shapely.get_num_geometries(areas) == 1).all():
        lines, owner, is_outer = areas, numbers, np.ones(len(areas), dtype=bool)
    else:
        parts, area = shapely.get_parts(areas, return_index=True)
        lines, part = shapely.get_rings(parts, return_index=True)
        owner, is_outer = numbers[area[part]], are_first(part)
    ring = np.repeat(np.arange(len(lines)), shapely.get_num_coordinates(lines))
    return rings_drawn(corners, ring=ring, owner=owner, is_outer=is_outer)


def _are_plain(outlines: Rings, number: int) -> Flags:
    """Which shapes are one ring of few corners."""
    rings = np.bincount(outlines.owner, minlength=number)
    corners = np.bincount(outlines.owner, outlines.counts, minlength=number)
    plain: Flags = (rings == 1) & (corners < MOST_AT_ONCE)
    return plain


def _moved(shape: BaseGeometry, xy: Floats) -> BaseGeometry:
    """The same shape with other corners."""
    moved: BaseGeometry = shapely.set_coordinates(np.array([shape], dtype=object), xy)[0]
    return moved
