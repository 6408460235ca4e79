"""The passes of a machine over its ground, and what overlaps.

Metres and m², in the plane of the property's frame.
"""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import shapely
from shapely import LineString

from planner.core.amounts.slope_output import SlopeGround
from planner.core.findings import Finding, Findings
from planner.core.machine.machines import DRIVEN_KINDS, Machine
from planner.core.machine.slope_speeds import SpeedThere
from planner.core.shown import Shown, said
from properties.core.passes import Passes, plan_passes
from properties.core.passes.coverage import Coverage, cover
from properties.core.passes.sides import with_sides_shut
from properties.core.plane import Area
from properties.core.units import Quantity

#: A larger share of ground sprayed twice is told.
OVERLAP_TOLD_SHARE = 0.15
#: Corners of the ground times swaths across it: the work of planning passes goes with this.
#: So much takes about 50 ms and is done unasked, so much about a second.
QUICK_WORK = 6_000
MOST_WORK = 100_000
#: Wider ground is not driven in one go.
MOST_SWATHS_ACROSS = 1_000


@dataclass(frozen=True)
class SlopeWay:
    """The part of the rounds and lanes that lies on one slope, and the speed driven there."""

    way_m: float
    there: SpeedThere

    def more_s(self, speed_m_per_s: float) -> float:
        """How much longer it takes than at another speed; below zero where it is driven faster."""
        return self.way_m / self.there.m_per_s - self.way_m / speed_m_per_s


@dataclass(frozen=True)
class Drive:
    """The passes of a machine, or why none were planned.

    ``on_slopes`` is what of them lies on slopes where another speed was measured, ``shut``
    where the spray lands if each side of the boom is open only over new ground; None for a
    boom that shuts off as a whole, and where nobody told.
    """

    passes: Passes | None
    why_not: str = ""
    on_slopes: tuple[SlopeWay, ...] = ()
    speed: Quantity | None = None
    shut: Coverage | None = None

    @property
    def work_s(self) -> float | None:
        """The time on the ground; None where no passes were planned or nobody told a speed."""
        if self.passes is None or self.passes.work_s is None or self.speed is None:
            return None
        return self.passes.work_s + math.fsum(way.more_s(self.speed.si) for way in self.on_slopes)


def drive_of(
    machine: Machine, ground: Area, slopes: Sequence[SlopeGround] = (), *, wanted: bool | None
) -> Drive | None:
    """Plan the passes of a machine.

    Parameters
    ----------
    machine : Machine
        The machine. [-]
    ground : area
        Where its swath fits. [m]
    slopes : Sequence[SlopeGround], optional
        The slopes on it, where their speeds count. [m]
    wanted : bool or None
        Whether passes are asked for, None where nobody said. [-]

    Returns
    -------
    Drive or None
        The passes, or why there are none; None for a tool that is not driven, and where
        nobody wants them. [m, m², s and degree]

    Raises
    ------
    Nothing
        A request that was read can be planned.

    References
    ----------
    See ``plan_passes``.
    """
    if wanted is False or machine.kind not in DRIVEN_KINDS:
        return None
    why_not = _why_not(ground, machine.swath.si, asked_for=wanted is True)
    if why_not:
        return Drive(None, why_not)
    driving = machine.driving
    passes = plan_passes(
        ground,
        swath_m=machine.swath.si,
        headlands=driving.headlands,
        speed_m_per_s=None if driving.speed is None else driving.speed.si,
        turn_s=0 if driving.turn_time is None else driving.turn_time.si,
    )
    return Drive(
        passes,
        on_slopes=tuple(_on_slopes(passes, slopes)),
        speed=driving.speed,
        shut=_with_sides_shut(passes, ground, machine),
    )


def _with_sides_shut(passes: Passes, ground: Area, machine: Machine) -> Coverage | None:
    sides = machine.fittings.sides
    if sides is None or sides == 1:
        return None
    opened = with_sides_shut(
        ground, passes.strips, passes.lanes, swath_m=machine.swath.si, sides=sides
    )
    return cover(ground, opened)


def _on_slopes(passes: Passes, slopes: Sequence[SlopeGround]) -> Iterator[SlopeWay]:
    lines = [*passes.headlands, *passes.lanes]
    driven = [(_way_on(slope.ground, lines), slope.speed) for slope in slopes if slope.speed]
    yield from (SlopeWay(way_m, speed) for way_m, speed in driven if way_m)


def _way_on(ground: Area, lines: Sequence[LineString]) -> float:
    return float(shapely.length(shapely.intersection(lines, ground)).sum())


def _why_not(ground: Area, swath_m: float, *, asked_for: bool) -> str:
    if ground.is_empty:
        return "The machine’s swath fits nowhere on this ground."
    west, south, east, north = ground.bounds
    across = math.hypot(east - west, north - south) / swath_m
    work = across * int(shapely.get_num_coordinates(ground))
    if across > MOST_SWATHS_ACROSS or work > MOST_WORK:
        return (
            "The ground is too large or has too many corners for its passes to be planned in one "
            "go. Plan it in parts."
        )
    if work > QUICK_WORK and not asked_for:
        return "The ground has many corners. Ask for its passes: planning them takes a second."
    return ""


def pass_findings(drive: Drive | None, *, shown: Shown, sides: int | None = None) -> Findings:
    """Say where passes spray much ground twice.

    Parameters
    ----------
    drive : Drive or None
        The passes of a tool. [m²]
    shown : Shown
        The units to say numbers in. [-]
    sides : int or None
        How many parts of the boom shut off on their own, None where nobody told. [-]

    Returns
    -------
    Findings
        A warning where more than 15 % of the ground is sprayed twice. [-]

    Raises
    ------
    Nothing
        What is found is returned.

    References
    ----------
    Our own limit.
    """
    passes = None if drive is None else drive.passes
    if drive is None or passes is None or passes.double_share <= OVERLAP_TOLD_SHARE:
        return Findings()
    share = said(Quantity(100 * passes.double_share, "%"), digits=3)
    message = (
        f"In these passes {share} of the machine’s ground "
        f"({said(shown.area_of(passes.double_m2))}) are sprayed twice, which is not in the amounts "
        f"of this plan. {_narrower(sides, drive, shown)}"
    )
    return Findings((Finding("passes_overlap", message),))


def _narrower(sides: int | None, drive: Drive, shown: Shown) -> str:
    if sides is None:
        return "Shut the part of the boom that overlaps, or do the narrow ground by hand."
    if sides == 1:
        return "It shuts off only as a whole: do the narrow ground by hand."
    left = ""
    if drive.shut is not None:
        left = f" With each shut in time {said(shown.area_of(drive.shut.double_m2))} remain."
    return f"Shut those of its {sides} sides that overlap, or do the narrow ground by hand.{left}"
