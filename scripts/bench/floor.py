"""The floor: what the calls to GEOS cost, with nothing else on the clock.

Shapes lie ready in metres. Buffers, two unions, a difference and an area for each
property: the plainest way to the answer, and no check of it. With plain arcs a zone is
up to 0.66 m short at 200 ft; drawn safely it is never short, at the cost of more corners.
"""

import math
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from functools import partial

import numpy as np
import shapely

from properties.core.features import Role
from properties.core.frame import Floats, Shapes, frame_around
from scripts.bench.clock import Took, clocked
from scripts.bench.lots import Place

_PLAIN_ARCS = 8
_EXCESS_M = 0.01


@dataclass(frozen=True)
class Laid:
    """A property in metres."""

    turf: Shapes
    covers: Shapes
    kept: Shapes
    distance_m: Floats


def laid(place: Place) -> Laid:
    """Lay a property out in metres."""
    drawing, setbacks = place
    frame = frame_around(shape.geometry for shape in drawing.of_role(Role.TURF))
    turf, covers, kept = (
        np.array(frame.all_to_plane([one.geometry for one in drawing.of_role(role)]), dtype=object)
        for role in (Role.TURF, Role.OBSTACLE, Role.PROTECTED)
    )
    distances = [setbacks[one.ref].distance_m for one in drawing.of_role(Role.PROTECTED)]
    return Laid(turf, covers, kept, np.array(distances, dtype=float))


def plain_m2(place: Laid) -> float:
    """The treatable area with plain arcs of eight edges a quarter."""
    zones = shapely.buffer(place.kept, place.distance_m, quad_segs=_PLAIN_ARCS)
    return _left_m2(place, zones)


def safe_m2(place: Laid) -> float:
    """The treatable area with arcs that are never short and less than a centimetre wide.

    GEOS rounds the number of edges of an arc, so one may span 1.5 shares of a quarter.
    """
    zones = [
        shapely.buffer(one, d / math.cos(3 * math.pi / 8 / edges), quad_segs=edges)
        for one, d in zip(place.kept.tolist(), place.distance_m.tolist(), strict=True)
        for edges in [math.ceil(3 * math.pi / 8 / math.acos(1 / (1 + _EXCESS_M / d)))]
    ]
    return _left_m2(place, np.array(zones, dtype=object))


def _left_m2(place: Laid, zones: Shapes) -> float:
    turf = shapely.union_all(place.turf)
    cut = shapely.union_all(np.concatenate((place.covers, zones)))
    return turf.difference(cut).area


def each_took(calls: Callable[[Laid], float], places: Iterable[Laid]) -> list[Took]:
    """How long the calls take for each property."""
    return [clocked(partial(calls, place)) for place in places]


def took(calls: Callable[[Laid], float], places: Sequence[Place]) -> Took:
    """How long the calls take for all properties, each laid out before the clock starts."""
    every = each_took(calls, (laid(place) for place in places))
    return Took(
        math.fsum(one.wall_s for one in every),
        math.fsum(one.cpu_s for one in every),
    )
