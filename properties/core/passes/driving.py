"""In which order and direction passes are driven: always on to the nearest end.

Metres, in the plane of the property's frame.
"""

from collections.abc import Sequence

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import LineString

Floats = NDArray[np.float64]


def driving_order(lanes: Floats) -> Floats:
    """Order and turn lanes so that each begins near the end of the one before.

    From the end of a lane the machine goes to the nearest end of a lane not yet
    driven. It begins at an end of the first or the last lane, whichever leads to
    the shortest way between lanes.

    Parameters
    ----------
    lanes : array of shape (n, 2, 2)
        Ends of the lanes, from side to side. [m]

    Returns
    -------
    array of shape (n, 2, 2)
        The lanes in driving order, each from its beginning to its end. [m]

    Raises
    ------
    None
        Any lanes can be driven.

    References
    ----------
    Common practice; the nearest-neighbour rule, not the shortest of all orders.
    """
    if len(lanes) < 2:
        return lanes
    starts = [(lane, end) for lane in (0, len(lanes) - 1) for end in (0, 1)]
    orders = [_nearest_first(lanes, lane, end) for lane, end in starts]
    return min(orders, key=lambda order: round(between_m(order), 6))


def between_m(passes: Floats) -> float:
    """Straight way from the end of each pass to the beginning of the next.

    Parameters
    ----------
    passes : array of shape (n, 2, 2)
        Beginning and end of each pass in driving order. [m]

    Returns
    -------
    float
        Its length. [m]

    Raises
    ------
    None
        No pass, no way.

    References
    ----------
    Our own derivation.
    """
    ways = passes[1:, 0] - passes[:-1, 1]
    return float(np.hypot(ways[:, 0], ways[:, 1]).sum())


def rings_before(rings: Sequence[LineString], lanes: Floats) -> list[LineString]:
    """Order rings so that each ends near the beginning of the next, the last near the lanes.

    A ring may be entered anywhere, so each is turned to begin and end at its corner
    nearest to what follows.

    Parameters
    ----------
    rings : Sequence of LineString
        Closed lines, the outer round first. [m]
    lanes : array of shape (n, 2, 2)
        What is driven afterwards, in driving order; may be empty. [m]

    Returns
    -------
    list of LineString
        The rings in driving order. [m]

    Raises
    ------
    None
        Any rings can be driven.

    References
    ----------
    Our own derivation.
    """
    left = list(rings)
    order: list[LineString] = []
    following = lanes[0, 0] if len(lanes) else None
    while left:
        if following is None:
            following = shapely.get_coordinates(left[-1])[0]
        next_to = shapely.distance(left, shapely.points(following)).round(6)
        ring = left.pop(len(left) - 1 - int(np.argmin(next_to[::-1])))
        corners = shapely.get_coordinates(ring)[:-1]
        nearest = int(np.argmin(np.hypot(*(corners - following).T).round(6)))
        corners = np.roll(corners, -nearest, axis=0)
        order.append(LineString(np.concatenate((corners, corners[:1]))))
        following = corners[0]
    return order[::-1]


def _nearest_first(lanes: Floats, lane: int, end: int) -> Floats:
    """The lanes in order, beginning with one end of one of them."""
    driven = np.zeros(len(lanes), dtype=bool)
    order = []
    for _ in range(len(lanes)):
        driven[lane] = True
        order.append(lanes[lane] if end == 0 else lanes[lane, ::-1])
        ways = np.hypot(*np.moveaxis(lanes - order[-1][1], -1, 0))
        ways[driven] = np.inf
        lane, end = divmod(int(np.argmin(ways.round(6))), 2)
    return np.array(order)
