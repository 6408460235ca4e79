"""Passes with a boom whose sides shut off: open only where they spray new ground.

Metres, in the plane of the property's frame.
"""

from collections.abc import Iterator, Sequence

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import LineString, Polygon
from shapely.geometry.base import BaseGeometry

from properties.core.passes.lanes import THIN_M, lane_strips
from properties.core.passes.overlay import ground_beside, strips_on
from properties.core.plane import DUST_M2, union_of

Floats = NDArray[np.float64]


def with_sides_shut(
    ground: BaseGeometry,
    strips: Sequence[BaseGeometry],
    lanes: Sequence[LineString],
    *,
    swath_m: float,
    sides: int,
) -> tuple[BaseGeometry, ...]:
    """Find the ground under passes, where each side of the boom is shut off by itself.

    The sides are equally wide. On a lane each is open from the first to the last place
    of every stretch on which it sprays ground that no pass before it has sprayed, and
    shut elsewhere. Round the edge all of them stay open.

    Parameters
    ----------
    ground : BaseGeometry
        What is to be treated, valid. [m]
    strips : Sequence of BaseGeometry
        The ground under each pass with the whole boom open, in driving order: the rounds,
        then one for each lane. [m]
    lanes : Sequence of LineString
        The lanes in driving order, each straight. [m]
    swath_m : float
        Width treated in one pass, > 0. [m]
    sides : int
        How many parts shut off on their own, > 0. [-]

    Returns
    -------
    tuple of BaseGeometry
        The rounds as they are, and what each side treats of each lane. [m]

    Raises
    ------
    None
        Any passes can be driven like that.

    References
    ----------
    Our own derivation.
    """
    rounds = len(strips) - len(lanes)
    tree = shapely.STRtree(list(strips))
    opened: list[BaseGeometry] = list(strips[:rounds])
    for number, lane in enumerate(lanes, start=rounds):
        near = tree.query(strips[number], predicate="intersects")
        before = union_of([strips[index] for index in near.tolist() if index < number])
        new = ground_beside(strips_on(ground, np.array([strips[number]]))[0], before)
        for side in _sides_of(shapely.get_coordinates(lane), swath_m, sides):
            opened += _open_on(side, new, swath_m / sides)
    return tuple(opened)


def _sides_of(lane: Floats, swath_m: float, sides: int) -> Iterator[Floats]:
    """The middle line of each side of the boom along a lane."""
    along = lane[1] - lane[0]
    across = np.array((-along[1], along[0])) / np.hypot(*along)
    for number in range(sides):
        yield lane + across * swath_m * ((number + 0.5) / sides - 0.5)


def _open_on(side: Floats, new: BaseGeometry, width_m: float) -> list[Polygon]:
    """The ground that one side treats where it is open."""
    (strip,) = lane_strips(side[None], swath_m=width_m)
    parts = shapely.get_parts(strips_on(new, np.array([strip]))[0])
    spans = sorted(_span(part, side) for part in parts.tolist() if part.area > DUST_M2)
    runs: list[tuple[float, float]] = []
    for begin, finish in spans:
        if runs and begin - runs[-1][1] < THIN_M:
            runs[-1] = (runs[-1][0], max(finish, runs[-1][1]))
        else:
            runs.append((begin, finish))
    way = (side[1] - side[0]) / np.hypot(*(side[1] - side[0]))
    stretches = [(side[0] + way * begin, side[0] + way * finish) for begin, finish in runs]
    return list(lane_strips(np.array(stretches).reshape(-1, 2, 2), swath_m=width_m))


def _span(part: BaseGeometry, side: Floats) -> tuple[float, float]:
    """From where to where along a side some ground lies."""
    way = (side[1] - side[0]) / np.hypot(*(side[1] - side[0]))
    places = (shapely.get_coordinates(part) - side[0]) @ way
    return float(places.min()), float(places.max())
