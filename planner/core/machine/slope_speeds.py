"""How fast a machine drives on a slope, from speeds that were measured on some.

Slopes are rise over run, speeds in m/s.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from properties.core.errors import require_positive
from properties.core.units import Dimension, Quantity

#: Two slopes that differ by less than this are one slope, written in two ways.
SAME_SLOPE = 1e-6


@dataclass(frozen=True)
class SlopeSpeed:
    """A speed that was measured on ground of one slope."""

    slope: Quantity
    speed: Quantity

    @property
    def rise(self) -> float:
        """The slope as rise over run."""
        return rise_over_run(self.slope)


@dataclass(frozen=True)
class SlopeSpeeds:
    """The speed of a calibration on level ground, and those measured on slopes.

    ``level`` is None where nobody told; then nothing was measured on slopes either.
    """

    level: Quantity | None = None
    measured: tuple[SlopeSpeed, ...] = ()

    @property
    def steepest(self) -> Quantity | None:
        """The steepest slope that was measured; None where none was."""
        return max(self.measured, key=lambda each: each.rise).slope if self.measured else None


@dataclass(frozen=True)
class SpeedThere:
    """The speed on a slope, on the straight line between the two measured ones either side.

    ``level`` is the one on level ground.
    """

    rise: float
    level: Quantity
    gentler: SlopeSpeed
    steeper: SlopeSpeed

    @property
    def m_per_s(self) -> float:
        """The speed."""
        low, high = self.gentler, self.steeper
        share = (self.rise - low.rise) / (high.rise - low.rise)
        return low.speed.si + share * (high.speed.si - low.speed.si)


def rise_over_run(slope: Quantity) -> float:
    """Write a slope as rise over run.

    Parameters
    ----------
    slope : Quantity
        A share, or an angle from 0 to below 90 deg. [% or degree]

    Returns
    -------
    float
        The rise over a run of one, ≥ 0. [m/m]

    Raises
    ------
    Nothing
        The slope was checked when it was read.

    References
    ----------
    Common practice: a slope in percent is rise over run.
    """
    if slope.dimension is Dimension.ANGLE:
        return math.tan(math.radians(slope.si))
    return slope.si


def speed_on(slope: Quantity, speeds: SlopeSpeeds) -> SpeedThere | None:
    """Find how fast a machine drives on a slope.

    Parameters
    ----------
    slope : Quantity
        The slope. [% or degree]
    speeds : SlopeSpeeds
        What was measured. [-]

    Returns
    -------
    SpeedThere or None
        The speed; None on a slope that is steeper than all that were measured. [m/s]

    Raises
    ------
    Nothing
        What was not measured is None.

    References
    ----------
    Our own rule: a straight line between two measured speeds, nothing beyond them.
    """
    if speeds.level is None:
        return None
    rise = rise_over_run(slope)
    known = sorted(speeds.measured, key=lambda each: each.rise)
    for low, high in pairwise((SlopeSpeed(Quantity(0, "%"), speeds.level), *known)):
        if low.rise - SAME_SLOPE <= rise <= high.rise + SAME_SLOPE:
            return SpeedThere(min(rise, high.rise), speeds.level, low, high)
    return None


def output_times(*, calibrated_m_per_s: float, driven_m_per_s: float) -> float:
    """Find how many times the calibrated output a fixed pump puts down at another speed.

    Parameters
    ----------
    calibrated_m_per_s : float
        The speed it was calibrated at, > 0. [m/s]
    driven_m_per_s : float
        The speed it drives at, > 0. [m/s]

    Returns
    -------
    float
        Output over calibrated output: above one where it drives slower. [1]

    Raises
    ------
    Refused
        If a speed is not a finite number above zero.

    References
    ----------
    NC State Extension, The Calibration of Turfgrass Boom Sprayers and Spreaders: at a fixed
    pressure output goes as one over the speed.
    """
    require_positive(calibrated_m_per_s=calibrated_m_per_s, driven_m_per_s=driven_m_per_s)
    return calibrated_m_per_s / driven_m_per_s


def repeated_slopes(measured: Sequence[SlopeSpeed]) -> bool:
    """Say whether two speeds are told for one slope, or one for level ground.

    Parameters
    ----------
    measured : Sequence[SlopeSpeed]
        The speeds on slopes. [-]

    Returns
    -------
    bool
        Whether there is one that nobody could choose between. [-]

    Raises
    ------
    Nothing
        Any speeds can be compared.

    References
    ----------
    Our own rule.
    """
    rises = sorted((0.0, *(each.rise for each in measured)))
    return any(high - low <= SAME_SLOPE for low, high in pairwise(rises))
