"""The passes of a machine over its ground: which way, how many, how far, how long.

Metres, in the plane of the property's frame: x east, y north.
"""

import math
from dataclasses import dataclass
from itertools import chain

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import LineString, MultiPolygon, Polygon
from shapely.geometry.base import BaseGeometry

from properties.core.errors import Refused, require_positive
from properties.core.passes.coverage import cover
from properties.core.passes.driving import between_m, driving_order, rings_before
from properties.core.passes.headings import edge_headings
from properties.core.passes.headlands import headland_rings, ring_strips
from properties.core.passes.lanes import THIN_M, lane_strips, lanes_along
from properties.core.passes.overlay import ground_beside
from properties.core.plane import polygons_of, union_of

_HEADINGS_TRIED = 8
#: Of the headings tried so many are driven in thought, those with the least to drive.
_HEADINGS_DRIVEN = 3
#: A turn costs as much as driving so many swaths.
_TURN_IN_SWATHS = 2
#: A patch smaller than this share of a square as wide as the swath gets no pass: most of
#: its spray would fall beside the patch.
_PATCH_SHARE = 0.05
_MOST_LANES_ABREAST = 2000

Area = Polygon | MultiPolygon
Floats = NDArray[np.float64]


@dataclass(frozen=True)
class Passes:
    """Passes over the ground of a machine, in driving order: the rings, then the lanes.

    ``strips`` is the ground under each swath, ``swept_m2`` the sum of their areas. It
    is ``covered_area_m2`` + ``double_m2`` + ``outside_m2``, and the ground is
    ``covered_area_m2`` + ``missed_m2``. A turn is the change from one pass or ring to
    the next. ``driven_m`` has the passes, the rings and the straight ways between.
    """

    heading_deg: float
    headlands: tuple[LineString, ...]
    lanes: tuple[LineString, ...]
    strips: tuple[Area, ...]
    turns: int
    driven_m: float
    area_m2: float
    swept_m2: float
    covered_area_m2: float
    double_m2: float
    missed_m2: float
    outside_m2: float
    work_s: float | None

    @property
    def passes(self) -> int:
        """Number of lanes; the rings round the edge come on top."""
        return len(self.lanes)

    @property
    def double_share(self) -> float:
        """Spray that falls on ground already sprayed, as a share of the ground."""
        return self._share(self.double_m2)

    @property
    def missed_share(self) -> float:
        """Ground that no swath reaches, as a share of the ground."""
        return self._share(self.missed_m2)

    @property
    def outside_share(self) -> float:
        """Spray that falls beside the ground, as a share of the ground."""
        return self._share(self.outside_m2)

    def _share(self, part_m2: float) -> float:
        return part_m2 / self.area_m2 if self.area_m2 else 0.0


def plan_passes(
    machine_area: BaseGeometry,
    *,
    swath_m: float,
    headlands: int = 1,
    speed_m_per_s: float | None = None,
    turn_s: float = 0,
    heading_deg: float | None = None,
) -> Passes:
    """Plan the passes of a machine: round the edge first, then lanes to and fro.

    Unless a heading is asked for, the eight headings along which most of the outline
    runs are compared by the way to drive, with two swaths more for each turn. The
    lanes cover what the rings leave, but for what is thinner than 2 cm and patches
    smaller than a twentieth of a square as wide as the swath. The boom is shut between
    passes.

    Ways between passes are drawn straight and may cross an obstacle or a bed: there
    the machine goes round, and the true way is longer. Without a ring, a lane at a
    slanting edge leaves the ground; what it sprays there is in ``outside_m2``.

    Parameters
    ----------
    machine_area : BaseGeometry
        Ground that the machine can pass, valid; may be empty. [m]
    swath_m : float
        Width treated in one pass, > 0. [m]
    headlands : int, optional
        Rounds along the edge before the lanes: 0, 1 or 2. [-]
    speed_m_per_s : float or None, optional
        Speed on the passes and between them, > 0, if known. [m/s]
    turn_s : float, optional
        Time lost at each turn, >= 0. [s]
    heading_deg : float or None, optional
        Bearing of the lanes, clockwise from the y axis, if it is not to be chosen.
        [degree]

    Returns
    -------
    Passes
        The passes and where their spray lands; the time if the speed is known.
        [m, m², s and degree]

    Raises
    ------
    Refused
        If an argument is not such a number, or the ground is more than 2,000 swaths
        wide.

    References
    ----------
    Common practice: one or two rounds, then lanes along the longest edge. The number
    of lanes is the width over the swath, rounded up.
    """
    _check(swath_m, headlands, speed_m_per_s, turn_s, heading_deg)
    ground = polygons_of(machine_area)
    _check_size(ground, swath_m)
    rings = headland_rings(ground, swath_m=swath_m, rounds=headlands)
    round_strips = list(chain.from_iterable(ring_strips(ring, swath_m=swath_m) for ring in rings))
    left = ground_beside(ground, union_of(round_strips))
    rest = _worth_a_pass(left, swath_m)
    heading, lanes = _best_lanes(ground, rest, swath_m, heading_deg)
    rings = rings_before(rings, lanes)
    strips = (*round_strips, *lane_strips(lanes, swath_m=swath_m).tolist())
    coverage = cover(ground, strips)
    turns = max(0, len(rings) + len(lanes) - 1)
    driven_m = _driven_m(rings, lanes)
    return Passes(
        heading_deg=heading,
        headlands=tuple(rings),
        lanes=tuple(LineString(lane) for lane in lanes),
        strips=strips,
        turns=turns,
        driven_m=driven_m,
        area_m2=coverage.ground_m2,
        swept_m2=coverage.swept_m2,
        covered_area_m2=coverage.covered_m2,
        double_m2=coverage.double_m2,
        missed_m2=coverage.missed_m2,
        outside_m2=coverage.outside_m2,
        work_s=None if speed_m_per_s is None else driven_m / speed_m_per_s + turns * turn_s,
    )


def _check(
    swath_m: float,
    headlands: int,
    speed_m_per_s: float | None,
    turn_s: float,
    heading_deg: float | None,
) -> None:
    require_positive(swath_m=swath_m)
    if headlands not in (0, 1, 2):
        raise Refused(
            "headlands", f"{headlands} rounds are not possible.", "Choose no round, one or two."
        )
    if speed_m_per_s is not None:
        require_positive(speed_m_per_s=speed_m_per_s)
    if not (math.isfinite(turn_s) and turn_s >= 0):
        raise Refused("turn_s", f"{turn_s:g} is not a time of zero or more.", "Time a turn again.")
    if heading_deg is not None and not math.isfinite(heading_deg):
        raise Refused(
            "heading_deg", f"{heading_deg:g} is not a bearing.", "Enter degrees from north."
        )


def _check_size(ground: Area, swath_m: float) -> None:
    if ground.is_empty:
        return
    west, south, east, north = ground.bounds
    if math.hypot(east - west, north - south) > _MOST_LANES_ABREAST * swath_m:
        raise Refused(
            "swath_m",
            f"The ground is more than {_MOST_LANES_ABREAST:,} swaths of {swath_m:g} m across.",
            "Check the swath, or plan the ground in parts.",
        )


def _worth_a_pass(ground: BaseGeometry, swath_m: float) -> MultiPolygon:
    """The ground without what is too thin or too small for a pass."""
    thick = ground.buffer(-THIN_M / 2, join_style="mitre").buffer(THIN_M / 2, join_style="mitre")
    pieces = shapely.get_parts(polygons_of(thick))
    return MultiPolygon(pieces[shapely.area(pieces) >= _PATCH_SHARE * swath_m**2].tolist())


def _best_lanes(
    ground: Area, rest: Area, swath_m: float, asked_deg: float | None
) -> tuple[float, Floats]:
    """The heading with the least to drive and turn, and its lanes in driving order."""
    if asked_deg is not None:
        headings = [asked_deg % 180]
    else:
        headings = [0.0] if ground.is_empty else edge_headings(ground, most=_HEADINGS_TRIED)
    tried = [(deg, lanes_along(rest, heading_deg=deg, swath_m=swath_m)) for deg in headings]
    tried.sort(key=lambda trial: _least_cost_m(trial[1], swath_m))
    driven = [(deg, driving_order(lanes)) for deg, lanes in tried[:_HEADINGS_DRIVEN]]
    return min(driven, key=lambda trial: _cost_m(trial[1], swath_m))


def _least_cost_m(lanes: Floats, swath_m: float) -> float:
    """What the lanes cost at least: from each to the next it is a swath, or nearly."""
    return _lengths_m(lanes) + len(lanes) * (_TURN_IN_SWATHS + 1) * swath_m


def _cost_m(lanes: Floats, swath_m: float) -> float:
    way_m = _lengths_m(lanes) + between_m(lanes) + len(lanes) * _TURN_IN_SWATHS * swath_m
    return round(way_m, 6)


def _lengths_m(lanes: Floats) -> float:
    ways = lanes[:, 1] - lanes[:, 0]
    return float(np.hypot(ways[:, 0], ways[:, 1]).sum())


def _driven_m(rings: list[LineString], lanes: Floats) -> float:
    corners = [shapely.get_coordinates(ring)[[0, -1]] for ring in rings]
    ends = np.concatenate((np.array(corners).reshape(-1, 2, 2), lanes))
    return float(shapely.length(rings).sum()) + _lengths_m(lanes) + between_m(ends)
