"""Lanes side by side over ground, evened out so that no sliver is left for the last one.

Metres, in the plane of the property's frame. Lanes are an array of shape (n, 2, 2): of
each lane the two ends, of each end x and y.
"""

from typing import Any

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import Polygon
from shapely.geometry.base import BaseGeometry

from properties.core.passes.headings import along_and_across
from properties.core.passes.overlay import strips_on
from properties.core.plane import DUST_M2

#: No pass is made for ground thinner than this.
THIN_M = 0.02
#: So far from its neighbour's ground a lane looks for ground of its own: an edge that
#: lies between two lanes, but for rounding, belongs to one of them.
_ROUNDING_M = 0.001

Floats = NDArray[np.float64]


def lanes_along(ground: BaseGeometry, *, heading_deg: float, swath_m: float) -> Floats:
    """Lanes of one heading that cover ground.

    Each connected piece of ground gets as few lanes as its width needs. The outer
    lanes are flush with its edges and the others are spread evenly between them, so
    the overlap is shared out. A lane runs as far as the band between the middles of
    its neighbours holds ground, even if its own middle line has left the ground, and
    is broken where the band holds none.

    Parameters
    ----------
    ground : BaseGeometry
        Polygons, valid. [m]
    heading_deg : float
        Bearing of the lanes, clockwise from the y axis. [degree]
    swath_m : float
        Width that one lane treats, > 0. [m]

    Returns
    -------
    array of shape (n, 2, 2)
        The lanes piece by piece, from side to side. [m]

    Raises
    ------
    None
        Ground without area gets no lane.

    References
    ----------
    Our own derivation; the number of lanes is the width over the swath, rounded up.
    """
    rotation = along_and_across(heading_deg)
    turned = shapely.get_parts(shapely.transform(ground, lambda places: places @ rotation))
    lanes = [_lanes_of_piece(piece, swath_m) for piece in turned.tolist()]
    return np.concatenate([np.empty((0, 2, 2)), *lanes]) @ rotation.T


def lane_strips(lanes: Floats, *, swath_m: float) -> "NDArray[Any]":
    """The ground that each lane treats: a strip as long as the lane, square at its ends.

    Parameters
    ----------
    lanes : array of shape (n, 2, 2)
        Ends of the lanes, never one place twice. [m]
    swath_m : float
        Width that one lane treats, > 0. [m]

    Returns
    -------
    array of Polygon
        The strips. [m]

    Raises
    ------
    None
        Every lane has a strip.

    References
    ----------
    Our own derivation.
    """
    start, end = lanes[:, 0], lanes[:, 1]
    along = end - start
    across = np.stack((-along[:, 1], along[:, 0]), axis=1)
    side = across * (swath_m / 2 / np.hypot(across[:, 0], across[:, 1]))[:, None]
    corners = np.stack((start - side, end - side, end + side, start + side), axis=1)
    return np.asarray(shapely.polygons(corners))


def _lanes_of_piece(piece: Polygon, swath_m: float) -> Floats:
    """Lanes along the first axis over one connected piece."""
    west, low, east, high = piece.bounds
    width = high - low
    count = max(1, int(np.ceil((width - THIN_M / 2) / swath_m)))
    first = (low + high) / 2 if count == 1 else low + swath_m / 2
    middles = first + np.arange(count) * (width - swath_m) / max(1, count - 1)
    edges = np.concatenate(((low,), (middles[1:] + middles[:-1]) / 2, (high,)))
    play = min(_ROUNDING_M, width / count / 4)
    west_of, east_of = np.full(count, west - 1), np.full(count, east + 1)
    bands = shapely.box(west_of, edges[:-1] + play, east_of, edges[1:] - play)
    held, lane = shapely.get_parts(strips_on(piece, bands), return_index=True)
    real = shapely.area(held) > DUST_M2
    held, lane = held[real], lane[real]
    begin, _, finish, _ = shapely.bounds(held).T
    return _runs(middles, lane, np.stack((begin, finish), axis=1))


def _runs(middles: Floats, lane: NDArray[np.int64], spans: Floats) -> Floats:
    """Join the spans of each lane that overlap, and put them on its middle line."""
    runs: list[tuple[int, float, float]] = []
    for index in np.lexsort((spans[:, 1], spans[:, 0], lane)).tolist():
        number, (begin, finish) = int(lane[index]), spans[index].tolist()
        if runs and runs[-1][0] == number and begin - runs[-1][2] < THIN_M:
            runs[-1] = (number, runs[-1][1], max(finish, runs[-1][2]))
        else:
            runs.append((number, begin, finish))
    ends = [((a, middles[n]), (b, middles[n])) for n, a, b in runs]
    return np.array(ends).reshape(-1, 2, 2)
