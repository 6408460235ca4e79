"""Which protected feature keeps which turf unsprayed, every bit of ground counted once.

Metres, in the plane of the property's frame.
"""

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from properties.core.plane import Area, cut, union_of

#: So many overlapping zones are shared out one after the other; more are halved first.
_FEW_ZONES = 24


@dataclass(frozen=True)
class LeftOut:
    """Turf that one feature keeps unsprayed: where it stands, and the strip around it."""

    ref: str
    own_ground_m2: float
    strip_m2: float

    @property
    def area_m2(self) -> float:
        """All of it."""
        return self.own_ground_m2 + self.strip_m2


def first_come(zones: Sequence[BaseGeometry], ground: BaseGeometry) -> list[Area]:
    """Share ground out among zones: where several overlap, the first in order has it.

    Parameters
    ----------
    zones : Sequence of BaseGeometry
        Valid areas in their order. [m]
    ground : BaseGeometry
        What is shared out, valid. [m]

    Returns
    -------
    list of Polygon or MultiPolygon
        For each zone the ground that it has; together the ground under any zone. [m]

    Raises
    ------
    None
        Valid areas can always be shared out.

    References
    ----------
    Our own derivation: zones that do not hang together never meet, so each
    part of their union is shared out by itself.
    """
    clusters = shapely.get_parts(union_of(zones))
    shapely.prepare(ground)
    within = shapely.covers(ground, clusters)
    polygons, owners = shapely.get_parts(np.array(zones, dtype=object), return_index=True)
    inside = shapely.point_on_surface(polygons)
    which, found = shapely.STRtree(clusters).query(inside, predicate="intersects")
    members: dict[int, list[int]] = defaultdict(list)
    for polygon, cluster in zip(which.tolist(), found.tolist(), strict=True):
        members[cluster].append(polygon)
    shares: list[list[BaseGeometry]] = [[] for _ in zones]
    for cluster, indices in members.items():
        area = clusters[cluster]
        here = area if within[cluster] else cut(area, ground)[0]
        turns = _in_turn([polygons[index] for index in indices], here)
        for index, share in zip(indices, turns, strict=True):
            shares[owners[index]].append(share)
    return [union_of(parts) for parts in shares]


def _in_turn(zones: Sequence[BaseGeometry], ground: Area) -> list[Area]:
    """Share out ground that lies under the zones, one zone after the other."""
    if ground.is_empty or len(zones) == 1:
        return [ground] * len(zones)
    if len(zones) > _FEW_ZONES:
        half = len(zones) // 2
        first, second = cut(ground, union_of(zones[:half]))
        return _in_turn(zones[:half], first) + _in_turn(zones[half:], second)
    shares = []
    for zone in zones[:-1]:
        share, ground = cut(ground, zone)
        shares.append(share)
    return [*shares, ground]
