"""Areas as sets of ground: join them, cut them, and check what the engine made of it.

Where two outlines run within a few rounding errors of each other the overlay of
GEOS can, without an error, count the ground of a whole hole the wrong way: in one of
400 cuts of an outline with itself, turned there and back. So each cut is checked by its
sum and its parts, and each union by a second method; where a check fails the work is
done again with every corner on a grid, which is slower and sound.
Metres, in the plane of the property's frame.
"""

import math
from collections.abc import Iterable, Sequence
from contextlib import suppress

import shapely
from shapely import MultiPolygon, Polygon
from shapely.errors import GEOSException
from shapely.geometry.base import BaseGeometry

Area = Polygon | MultiPolygon

#: Ground smaller than a square millimetre is rounding, not turf.
DUST_M2 = 1e-6
NOWHERE = MultiPolygon()
#: A thousandth of a micrometre, a hundred times the rounding at 20 km from the centre.
_GRID_M = 1e-9
#: With more areas than this the second method would cost more than the first.
_MOST_CHECKED = 200


def polygons_of(geometry: BaseGeometry) -> Area:
    """The areas of a result, without the lines and points where areas only touch.

    Parameters
    ----------
    geometry : BaseGeometry
        Any shape. [m]

    Returns
    -------
    Polygon or MultiPolygon
        Its areas; an empty MultiPolygon if there is none. [m]

    Raises
    ------
    None
        Any shape will do.

    References
    ----------
    Our own derivation.
    """
    if isinstance(geometry, Polygon) and not geometry.is_empty:
        return geometry
    parts = shapely.get_parts(geometry)
    if isinstance(geometry, MultiPolygon) and len(parts) > 1 and not shapely.is_empty(parts).any():
        return geometry
    parts = shapely.get_parts(parts)
    areas = [part for part in parts if isinstance(part, Polygon) and not part.is_empty]
    return areas[0] if len(areas) == 1 else MultiPolygon(areas)


def union_of(geometries: Iterable[BaseGeometry]) -> Area:
    """All ground that lies in any of some valid areas.

    Parameters
    ----------
    geometries : Iterable of BaseGeometry
        Valid areas. [m]

    Returns
    -------
    Polygon or MultiPolygon
        Their union. [m]

    Raises
    ------
    None
        Valid areas always have a union.

    References
    ----------
    Our own derivation: a union is done twice, once side by side and once by the winding
    number of all outlines together.
    """
    areas = [polygons_of(geometry) for geometry in geometries if not geometry.is_empty]
    if len(areas) < 2:
        return areas[0] if areas else NOWHERE
    with suppress(GEOSException):
        joined = polygons_of(shapely.union_all(areas))
        if len(areas) > _MOST_CHECKED or (
            joined.is_valid and _is_same(joined.area, _winding_area_m2(areas))
        ):
            return joined
    return polygons_of(shapely.union_all(areas, grid_size=_GRID_M))


def _winding_area_m2(areas: Sequence[Area]) -> float:
    together = shapely.multipolygons(shapely.get_parts(areas))
    return float(shapely.area(shapely.buffer(together, 0)))


def cut(area: BaseGeometry, by: BaseGeometry) -> tuple[Area, Area]:
    """Cut an area in two: the ground under another area, and the rest.

    Parameters
    ----------
    area : BaseGeometry
        The area to cut, valid. [m]
    by : BaseGeometry
        What to cut with, valid. [m]

    Returns
    -------
    tuple of two areas
        What lies under it and what does not; together the area. [m]

    Raises
    ------
    None
        Valid areas can always be cut.

    References
    ----------
    Our own derivation: the overlay can lay ground on the wrong side without an error.
    A part on the wrong side shows by a point in it, a hole counted twice by rings that
    are not valid, and all of it by the winding number of both outlines together, which
    gives area(A) + area(B) - area(A and B) in another way.
    """
    if area.is_empty or by.is_empty:
        return NOWHERE, polygons_of(area)
    with suppress(GEOSException):
        inside, outside = polygons_of(area.intersection(by)), polygons_of(area.difference(by))
        if (
            _is_same(inside.area + outside.area, area.area)
            and _lie_apart(inside, outside, by)
            and _is_same(
                area.area + by.area - inside.area,
                _winding_area_m2((polygons_of(area), polygons_of(by))),
            )
        ):
            return inside, outside
    return (
        polygons_of(shapely.intersection(area, by, grid_size=_GRID_M)),
        polygons_of(shapely.difference(area, by, grid_size=_GRID_M)),
    )


def _lie_apart(inside: Area, outside: Area, by: BaseGeometry) -> bool:
    """Whether both sides of a cut are valid and every part lies on its own side."""
    if not (inside.is_valid and outside.is_valid):
        return False
    shapely.prepare(by)
    under, beside = (
        shapely.intersects(by, shapely.point_on_surface(parts[shapely.area(parts) > DUST_M2]))
        for parts in (shapely.get_parts(inside), shapely.get_parts(outside))
    )
    return bool(under.all()) and not beside.any()


def _is_same(one_m2: float, other_m2: float) -> bool:
    return math.isclose(one_m2, other_m2, rel_tol=1e-10, abs_tol=1e-8)
