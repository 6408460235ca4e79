"""Ground from which the way to the nearest point of a feature runs with the wind.

Each side of a feature has a strip of ground in front of it, each outward corner a
fan, each point a disk. The nearest piece of the feature is one of those in whose
front the ground lies, so the fronts of pieces that face the wind are cut back
where a piece that does not is nearer. Lengths in metres, angles in radians from
east, counter-clockwise, in the plane of the property's frame.
"""

import math
from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
import shapely
from shapely import LineString, Polygon
from shapely.geometry.base import BaseGeometry

from properties.core.frame import Floats
from properties.core.nearer import Foot, nearer_to_other
from properties.core.plane import polygons_of
from properties.core.sectors import arc, turns

#: A side on the very edge of the angle faces the wind, on either side of rounding.
_ROUNDING_RAD = 1e-9
#: Fronts that share less ground than this only touch.
_TOUCHING_M2 = 1e-7
#: Fronts are cut and joined with corners on a grid this fine, so that none of the many lines
#: that differ by rounding alone leaves a gap or a whisker.
_GRID_M = 1e-6


@dataclass(frozen=True)
class Window:
    """The directions that count as upwind of a feature."""

    middle_rad: float
    half_angle_rad: float

    def holds(self, angle_rad: float) -> bool:
        """Whether a direction lies in the window, its edges included."""
        off = math.remainder(angle_rad - self.middle_rad, 2 * math.pi)
        return abs(off) <= self.half_angle_rad + _ROUNDING_RAD

    def parts_of(self, from_rad: float, turn_rad: float) -> list[tuple[float, float]]:
        """A range of directions, split where it enters or leaves the window."""
        low = from_rad + (self.middle_rad - self.half_angle_rad - from_rad) % (2 * math.pi)
        edges = (low, low + 2 * self.half_angle_rad, low + 2 * self.half_angle_rad - 2 * math.pi)
        to_rad = from_rad + turn_rad
        inner = sorted(edge for edge in edges if from_rad < edge < to_rad)
        return list(zip([from_rad, *inner], [*inner, to_rad], strict=True))


@dataclass(frozen=True, eq=False)
class Front:
    """Ground in front of one piece of a feature, and whether that piece faces the wind."""

    foot: Foot
    ground: Polygon
    faces_wind: bool


def ground_facing(feature: BaseGeometry, *, window: Window, reach_m: float) -> BaseGeometry:
    """The feature, and ground within reach whose nearest point of it lies down the wind.

    Parameters
    ----------
    feature : BaseGeometry
        Area, line or point, valid, not empty. [m]
    window : Window
        The directions, from the nearest point to the ground, that count. [rad]
    reach_m : float
        How far the ground may be from the feature, > 0. [m]

    Returns
    -------
    Polygon or MultiPolygon
        The ground; never short, and less than a centimetre too wide. [m]

    Raises
    ------
    None
        The caller has checked the arguments.

    References
    ----------
    Our own derivation: if some ground has its nearest point on one piece, it lies in
    the front of that piece, and no piece in whose front it lies is nearer.
    """
    parts = shapely.get_parts(np.array([shapely.remove_repeated_points(feature)])).tolist()
    fronts = [front for part in parts for front in _fronts_of_part(part, window, reach_m)]
    facing = [front for front in fronts if front.faces_wind]
    ground = _cut_back(facing, [front for front in fronts if not front.faces_wind], reach_m)
    return polygons_of(shapely.union_all([polygons_of(feature), *ground], grid_size=_GRID_M))


def _fronts_of_part(part: BaseGeometry, window: Window, reach_m: float) -> Iterator[Front]:
    if isinstance(part, Polygon):
        area = shapely.orient_polygons(part)
        for ring in (area.exterior, *area.interiors):
            yield from _fronts_of_ring(shapely.get_coordinates(ring), window, reach_m)
        return
    corners = shapely.get_coordinates(part)
    if isinstance(part, LineString) and part.length > 0:
        there_and_back = np.concatenate((corners, corners[-2::-1]))
        yield from _fronts_of_ring(there_and_back, window, reach_m)
        return
    yield from _fans(corners[0], 0.0, 2 * math.pi, window, reach_m)


def _fronts_of_ring(ring: Floats, window: Window, reach_m: float) -> Iterator[Front]:
    """The fronts on the right of a ring: strips of its sides, fans of its outward corners."""
    sides = np.diff(ring, axis=0)
    facing = np.arctan2(-sides[:, 0], sides[:, 1])
    outward = np.column_stack((np.cos(facing), np.sin(facing)))
    turn = turns(sides)
    for i in range(len(sides)):
        start, end, out = ring[i], ring[i + 1], outward[i]
        strip = Polygon((start, start + reach_m * out, end + reach_m * out, end))
        yield Front(Foot(start, out), strip, window.holds(float(facing[i])))
        if turn[i] > 0:
            yield from _fans(start, float(facing[i - 1]), float(turn[i]), window, reach_m)


def _fans(
    corner: Floats, from_rad: float, turn_rad: float, window: Window, reach_m: float
) -> Iterator[Front]:
    for low, high in window.parts_of(from_rad, turn_rad):
        rim = corner + arc(from_rad=low, to_rad=high, radius_m=reach_m)
        fan = Polygon(np.concatenate((corner[None, :], rim)))
        yield Front(Foot(corner, None), fan, window.holds((low + high) / 2))


def _cut_back(facing: list[Front], others: list[Front], reach_m: float) -> list[BaseGeometry]:
    """The fronts that face the wind, without what is nearer to a piece that does not."""
    grounds = np.array([front.ground for front in facing], dtype=object)
    rivals = np.array([front.ground for front in others], dtype=object)
    own, rival = shapely.STRtree(rivals).query(grounds, predicate="intersects")
    shared = shapely.intersection(grounds[own], rivals[rival])
    cuts: dict[int, list[BaseGeometry]] = {}
    for i in np.flatnonzero(shapely.area(shared) > _TOUCHING_M2):
        nearer = nearer_to_other(
            shared[i], own=facing[own[i]].foot, other=others[rival[i]].foot, reach_m=reach_m
        )
        cuts.setdefault(int(own[i]), []).append(nearer)
    for k, parts in cuts.items():
        lost = polygons_of(shapely.union_all(parts, grid_size=_GRID_M))
        grounds[k] = polygons_of(shapely.difference(grounds[k], lost, grid_size=_GRID_M))
    return list(grounds)
