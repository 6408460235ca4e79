"""First passes round the edge of the ground, and round what stands in it.

Metres, in the plane of the property's frame.
"""

import math
from collections.abc import Sequence
from itertools import pairwise

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import LineString, MultiPolygon, Polygon
from shapely.geometry.base import BaseGeometry

from properties.core.passes.lanes import THIN_M
from properties.core.passes.overlay import ground_beside
from properties.core.plane import polygons_of

_EDGES_PER_QUARTER = 16
#: A sharper bend is a corner: the machine drives through to the edge and turns.
_CORNER_DEG = 30.0
#: A side that has bent by more ends, so that it never comes back over its own ground.
_SIDE_BEND_DEG = 60.0

Area = Polygon | MultiPolygon
Floats = NDArray[np.float64]


def headland_rings(ground: BaseGeometry, *, swath_m: float, rounds: int) -> list[LineString]:
    """Closed lines that a machine follows round the edges of the ground.

    The first round runs half a swath from every edge, the next a swath further in.
    Where the ground is no wider than the swath there is no room to go round.

    Parameters
    ----------
    ground : BaseGeometry
        Polygons, valid. [m]
    swath_m : float
        Width that the machine treats, > 0. [m]
    rounds : int
        Rounds from the edge inward, 0 for none. [-]

    Returns
    -------
    list of LineString
        The rings, the outer round first. [m]

    Raises
    ------
    None
        Ground without room has no ring.

    References
    ----------
    Common practice: one or two rounds before the lanes.
    """
    rings: list[LineString] = []
    for turn in range(rounds):
        inward_m = (turn + 0.5) * swath_m + THIN_M / 2
        room = ground.buffer(-inward_m, quad_segs=_EDGES_PER_QUARTER)
        middle = room.buffer(THIN_M / 2, join_style="mitre", quad_segs=_EDGES_PER_QUARTER)
        lines = shapely.get_rings(shapely.get_parts(polygons_of(middle))).tolist()
        rings.extend(LineString(line.coords) for line in lines)
    return rings


def ring_strips(ring: LineString, *, swath_m: float) -> list[Area]:
    """The ground that a ring treats, side by side.

    At a corner the machine drives on until the corner is treated, and opens the boom
    on the next side where the last one ended: a side never treats the ground of the
    side before it again. It may treat that of another, where the ring comes back
    through a narrow place.

    Parameters
    ----------
    ring : LineString
        A closed line. [m]
    swath_m : float
        Width that the machine treats, > 0. [m]

    Returns
    -------
    list of Polygon or MultiPolygon
        One strip for each side that treats ground. [m]

    Raises
    ------
    None
        Every ring has sides.

    References
    ----------
    Our own derivation.
    """
    lines = [LineString(side) for side in _sides(shapely.get_coordinates(ring), swath_m)]
    whole = shapely.buffer(
        lines, swath_m / 2, cap_style="flat", join_style="mitre", quad_segs=_EDGES_PER_QUARTER
    ).tolist()
    strips: list[Area] = [whole[0]]
    for before, strip in pairwise(whole):
        strips.append(ground_beside(strip, before))
    strips[-1] = ground_beside(strips[-1], whole[0])
    return [strip for strip in strips if strip.area > 0]


def _sides(closed: Floats, swath_m: float) -> list[Floats]:
    """Cut a ring at its corners and make each side so long that the corner is treated."""
    corners = closed[:-1]
    bends = _bends_deg(corners)
    start = int(np.argmax(np.abs(bends).round(6)))
    corners = np.roll(corners, -start, axis=0)
    bends = np.roll(bends, -start)
    cuts = [*_cuts(bends.tolist()), len(corners)]
    corners = np.concatenate((corners, corners[:1]))
    reach_m = swath_m / 2 * np.tan(np.radians(np.minimum(np.abs(bends), 90)) / 2)
    reach_m = np.append(reach_m, reach_m[0])
    return [
        _longer(corners[first : last + 1], float(reach_m[first]), float(reach_m[last]))
        for first, last in pairwise(cuts)
    ]


def _bends_deg(corners: Floats) -> Floats:
    """How far the line turns at each corner of a ring, left positive."""
    steps = np.roll(corners, -1, axis=0) - corners
    headings = np.degrees(np.arctan2(steps[:, 1], steps[:, 0]))
    return (headings - np.roll(headings, 1) + 180) % 360 - 180


def _cuts(bends_deg: Sequence[float]) -> list[int]:
    """Where a side ends: at a corner, or where it has bent too far."""
    cuts, bent = [0], 0.0
    for index, bend in enumerate(bends_deg[1:], start=1):
        bent += bend
        if abs(bend) > _CORNER_DEG or abs(bent) > _SIDE_BEND_DEG:
            cuts.append(index)
            bent = 0.0
    return cuts


def _longer(side: Floats, before_m: float, after_m: float) -> Floats:
    """A line with its first and last edge made longer."""
    longer = side.copy()
    first, last = side[0] - side[1], side[-1] - side[-2]
    longer[0] += first * (before_m / math.hypot(*first))
    longer[-1] += last * (after_m / math.hypot(*last))
    return longer
