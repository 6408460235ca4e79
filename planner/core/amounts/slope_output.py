"""What a machine puts down on each slope of its ground, where it drives at another speed.

A pump that keeps its flow puts down more where the machine drives slower. The tank has one
mix, so each product comes down in the same measure: × calibrated speed / speed there.
Areas in m², speeds in m/s.
"""

import math
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from planner.core.ground.ground import ToolGround
from planner.core.label.labels import SAME_NUMBER
from planner.core.limits import Faces
from planner.core.limits.rooms import Tightest, tightest_under
from planner.core.machine.fittings import Pump
from planner.core.machine.machines import DRIVEN_KINDS, Machine
from planner.core.machine.slope_speeds import (
    SAME_SLOPE,
    SpeedThere,
    output_times,
    rise_over_run,
    speed_on,
)
from planner.core.mix.products import Product
from properties.core.features import Role
from properties.core.free_ground import Site
from properties.core.outlines import Shape
from properties.core.plane import DUST_M2, Area, cut
from properties.core.units import Quantity


@dataclass(frozen=True)
class SlopeGround:
    """Ground of one slope under a machine.

    ``speed`` is None where nobody measured it. ``times`` is how many times the calibrated
    output comes down there, 1 with a pump that follows the speed; None where it is unknown.
    """

    slope: Quantity
    shapes: tuple[Shape, ...]
    ground: Area
    area_m2: float
    speed: SpeedThere | None
    times: float | None

    @property
    def counted(self) -> float:
        """How many times its area counts in the amounts: once where nobody knows."""
        return 1.0 if self.times is None else self.times

    @property
    def is_other(self) -> bool:
        """Whether another output than the calibrated one comes down there."""
        return abs(self.counted - 1) > SAME_NUMBER


def slopes_under(sprayer: Machine, own: ToolGround, site: Site) -> tuple[SlopeGround, ...]:
    """Find the slopes on the ground of a machine, and what comes down on each.

    Parameters
    ----------
    sprayer : Machine
        The machine, with its pump and its speeds. [-]
    own : ToolGround
        The ground it sprays. [m]
    site : Site
        The turf with its slopes. [-]

    Returns
    -------
    tuple[SlopeGround, ...]
        Each slope, the gentlest first; none for a tool that is not driven, and where
        neither the pump nor a speed on a slope is told. [m²]

    Raises
    ------
    Nothing
        What is not known is None.

    References
    ----------
    See ``output_times``. Where turf of two slopes overlaps the gentler counts, as for areas.
    """
    fittings, speeds = sprayer.fittings, sprayer.slope_speeds
    if sprayer.kind not in DRIVEN_KINDS or not (fittings.pump or speeds.measured):
        return ()
    return tuple(_slopes(sprayer, own, site))


def _slopes(sprayer: Machine, own: ToolGround, site: Site) -> Iterator[SlopeGround]:
    by_factor: dict[float, list[Shape]] = {}
    for shape in site.drawing.of_role(Role.TURF):
        if shape.slope is not None and rise_over_run(shape.slope) > SAME_SLOPE:
            by_factor.setdefault(site.slope_factors[shape.ref], []).append(shape)
    for factor, piece in site.ground.pieces if by_factor else ():
        shapes = by_factor.get(factor, [])
        here = cut(own.ground, piece)[0] if shapes else None
        if here is None or here.area <= DUST_M2:
            continue
        slope = next(shape.slope for shape in shapes if shape.slope is not None)
        under = [shape for shape in shapes if _lies_on(site, shape, here)]
        speed = speed_on(slope, sprayer.slope_speeds)
        yield SlopeGround(
            slope, tuple(under), here, factor * here.area, speed, _times(sprayer, speed)
        )


def _lies_on(site: Site, shape: Shape, here: Area) -> bool:
    return bool(site.plane[shape.ref].intersection(here).area > DUST_M2)


def _times(sprayer: Machine, there: SpeedThere | None) -> float | None:
    if sprayer.fittings.pump is Pump.SPEED_TIED:
        return 1.0
    if sprayer.fittings.pump is None or there is None:
        return None
    return output_times(calibrated_m_per_s=there.level.si, driven_m_per_s=there.m_per_s)


def level_area_m2(area_m2: float, slopes: Iterable[SlopeGround]) -> float:
    """Find the level ground that takes as much spray as some ground with its slopes.

    Parameters
    ----------
    area_m2 : float
        The ground, ≥ 0. [m²]
    slopes : Iterable[SlopeGround]
        The slopes on it. [m²]

    Returns
    -------
    float
        Each slope's area × how many times the calibrated output comes down there, and the
        rest. [m²]

    Raises
    ------
    Nothing
        Any ground takes some.

    References
    ----------
    Our own derivation: spray = calibrated output × ∑ area × times.
    """
    return math.fsum((area_m2, *(each.area_m2 * (each.counted - 1) for each in slopes)))


def times_on(area_m2: float, slopes: Sequence[SlopeGround]) -> tuple[float, ...]:
    """List how many times the calibrated output comes down somewhere on some ground.

    Parameters
    ----------
    area_m2 : float
        The ground, ≥ 0. [m²]
    slopes : Sequence[SlopeGround]
        The slopes on it. [m²]

    Returns
    -------
    tuple[float, ...]
        Each number once; 1 where some of the ground is level, or there is none. [1]

    Raises
    ------
    Nothing
        Any ground gets some.

    References
    ----------
    Our own derivation.
    """
    level_m2 = area_m2 - math.fsum(each.area_m2 for each in slopes)
    others = {each.counted for each in slopes}
    return tuple(sorted({1.0, *others} if level_m2 > DUST_M2 or not others else others))


def tightest_on(
    own: ToolGround, slopes: Sequence[SlopeGround], faces: Faces, rates: Mapping[str, float]
) -> tuple[Tightest, ...]:
    """Find the least room under a tool, where slopes get more than level ground.

    Parameters
    ----------
    own : ToolGround
        The ground of the tool. [m]
    slopes : Sequence[SlopeGround]
        The slopes on it. [m]
    faces : Faces
        What the ground has had. [m]
    rates : Mapping of str to float
        What level ground gets of each product. [L or kg/m²]

    Returns
    -------
    tuple[Tightest, ...]
        One for each limit that is known to leave some room. [-]

    Raises
    ------
    Nothing
        Ground without limits has none.

    References
    ----------
    See ``tightest_under``: with one tank the ground with the least room for what it gets
    decides.
    """
    found = list(_tightest(own, slopes, faces, rates))
    by_limit = ([each for each in found if each.ceiling is one] for one in faces.ceilings)
    return tuple(min(each, key=lambda one: one.share) for each in by_limit if each)


def _tightest(
    own: ToolGround, slopes: Sequence[SlopeGround], faces: Faces, rates: Mapping[str, float]
) -> Iterator[Tightest]:
    yield from tightest_under(own.ground, faces, rates)
    for slope in slopes:
        if slope.is_other:
            there = {name: rate * slope.counted for name, rate in rates.items()}
            yield from (
                replace(each, times=slope.counted)
                for each in tightest_under(slope.ground, faces, there)
            )


def caps_of(products: Sequence[Product], times: float) -> dict[str, float]:
    """Find the highest rates that keep every slope inside the labels.

    Parameters
    ----------
    products : Sequence[Product]
        The mix. [-]
    times : float
        How many times the calibrated output comes down somewhere at most, ≥ 1. [1]

    Returns
    -------
    dict of str to float
        The rate on level ground by the product's name, where a slope gets more. [L or kg/m²]

    Raises
    ------
    Nothing
        A label whose highest rate is not known caps nothing.

    References
    ----------
    Our own derivation: rate on level ground × times ≤ the label's highest.
    """
    return {
        product.name: product.label.rate.highest.si / times
        for product in products
        if times > 1 + SAME_NUMBER and product.by_area and product.label.rate.highest is not None
    }
