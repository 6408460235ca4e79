"""Areas as sets of ground: keep the polygons of a result, join polygons into one.

Metres, in the plane of the property's frame.
"""

from collections.abc import Iterable

import numpy as np
import shapely
from shapely import MultiPolygon, Polygon
from shapely.geometry.base import BaseGeometry

#: Ground smaller than a square millimetre is rounding, not turf.
DUST_M2 = 1e-6
NOWHERE = MultiPolygon()


def polygons_of(geometry: BaseGeometry) -> Polygon | MultiPolygon:
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
    if isinstance(geometry, Polygon | MultiPolygon):
        return NOWHERE if geometry.is_empty else geometry
    parts = shapely.get_parts(shapely.get_parts(np.array([geometry])))
    areas = [part for part in parts if isinstance(part, Polygon) and not part.is_empty]
    return areas[0] if len(areas) == 1 else MultiPolygon(areas)


def union_of(geometries: Iterable[BaseGeometry]) -> Polygon | MultiPolygon:
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
    Our own derivation.
    """
    areas = [geometry for geometry in geometries if not geometry.is_empty]
    return polygons_of(areas[0] if len(areas) == 1 else shapely.union_all(areas))
