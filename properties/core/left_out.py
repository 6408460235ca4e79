"""Which protected feature keeps which turf unsprayed, every bit of ground counted once.

Metres, in the plane of the property's frame.
"""

import math
from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt
import shapely
from shapely import MultiPolygon
from shapely.geometry.base import BaseGeometry

from properties.core.frame import Floats
from properties.core.plane import Area, cut, polygons_of
from properties.core.slopes import SlopedGround

#: So many zones are shared out one after the other; with more the ground is halved first.
_FEW_ZONES = 12
#: A zone smaller than this share of the ground takes its turn when the ground has been halved.
_SMALL_SHARE = 1 / 8

Indices = npt.NDArray[np.intp]


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


def first_come(
    zones: Sequence[BaseGeometry], ground: BaseGeometry, *, clusters: BaseGeometry
) -> list[list[Area]]:
    """Share ground out among zones: where several overlap, the first in order has it.

    Parameters
    ----------
    zones : Sequence of BaseGeometry
        Valid areas in their order. [m]
    ground : BaseGeometry
        What is shared out, valid. [m]
    clusters : BaseGeometry
        The union of the zones. [m]

    Returns
    -------
    list of lists of areas
        For each zone the pieces of ground that it has; together the ground under any
        zone, without overlap. [m]

    Raises
    ------
    None
        Valid areas can always be shared out.

    References
    ----------
    Our own derivation: zones in different parts of the union never meet, so each
    part is shared out by itself.
    """
    parts = shapely.get_parts(clusters)
    lots = shapely.get_parts(ground)
    lots_tree = shapely.STRtree(lots)
    within = np.zeros(len(parts), dtype=bool)
    within[lots_tree.query(parts, predicate="covered_by")[0]] = True
    polygons, owners = shapely.get_parts(np.array(zones, dtype=object), return_index=True)
    inside = shapely.point_on_surface(polygons)
    which, found = shapely.STRtree(parts).query(inside, predicate="intersects")
    members: dict[int, list[int]] = defaultdict(list)
    for polygon, part in zip(which.tolist(), found.tolist(), strict=True):
        members[part].append(polygon)
    shares: list[list[Area]] = [[] for _ in zones]
    turns = _Turns(polygons, shapely.bounds(polygons))
    for part, indices in members.items():
        here = parts[part]
        if not within[part]:
            # Of a thousand pieces of ground only those nearby matter to one part.
            nearby = lots[lots_tree.query(here, predicate="intersects")]
            here = cut(here, MultiPolygon(nearby.tolist()))[0]
        for index, share in turns.taken(np.array(indices), here):
            shares[owners[index]].append(share)
    return shares


def share_of(
    ref: str, pieces: Sequence[Area], feature: BaseGeometry, ground: SlopedGround
) -> LeftOut:
    """Measure a feature's share: what lies on the feature itself, and the strip around it.

    Parameters
    ----------
    ref : str
        The feature. [-]
    pieces : Sequence of areas
        The turf that it keeps unsprayed. [m]
    feature : BaseGeometry
        Where it stands. [m]
    ground : SlopedGround
        The turf with its slopes. [-]

    Returns
    -------
    LeftOut
        The areas on the ground. [m²]

    Raises
    ------
    None
        Valid areas can always be cut.

    References
    ----------
    Our own derivation.
    """
    stands_on = polygons_of(feature)
    own_m2, strip_m2 = [], []
    for piece in pieces:
        if piece.contains_properly(stands_on):
            # Mostly a feature stands amid its ground, and a cut would find just that.
            own_m2.append(ground.area_of(stands_on))
            strip_m2.append(ground.area_of(piece) - own_m2[-1])
        else:
            own, strip = cut(piece, stands_on)
            own_m2.append(ground.area_of(own))
            strip_m2.append(ground.area_of(strip))
    return LeftOut(ref, own_ground_m2=math.fsum(own_m2), strip_m2=math.fsum(strip_m2))


@dataclass(frozen=True)
class _Turns:
    """Zones that take ground one after the other."""

    zones: npt.NDArray[np.object_]
    boxes: Floats

    def taken(self, order: Indices, ground: Area) -> Iterator[tuple[int, Area]]:
        """Who takes which piece of a ground that lies under the zones of an order."""
        while len(order) and not ground.is_empty:
            first = int(order[0])
            if len(order) == 1:
                yield first, ground
                return
            if len(order) > _FEW_ZONES and self.zones[first].area < _SMALL_SHARE * ground.area:
                yield from self._halved(order, ground)
                return
            share, ground = cut(ground, self.zones[first])
            yield first, share
            order = order[1:]

    def _halved(self, order: Indices, ground: Area) -> Iterator[tuple[int, Area]]:
        west, south, east, north = ground.bounds
        if east - west > north - south:
            half = shapely.box(west, south, (west + east) / 2, north)
        else:
            half = shapely.box(west, south, east, (south + north) / 2)
        for piece in cut(ground, half):
            yield from self.taken(self._near(order, piece), piece)

    def _near(self, order: Indices, ground: Area) -> Indices:
        west, south, east, north = ground.bounds
        boxes = self.boxes[order]
        beside = (boxes[:, 0] > east) | (boxes[:, 2] < west)
        return order[~(beside | (boxes[:, 1] > north) | (boxes[:, 3] < south))]
