"""What is fitted to a sprayer: nozzles, sides, pump and hose, and what follows from them.

Lengths in m, volumes in L, speeds in m/s, output in L/m².
"""

import math
from dataclasses import dataclass
from enum import StrEnum

from planner.core.calibration import Calibration, TimedCatch, TimedCourse, ground_speed_m_per_s
from planner.core.findings import Finding, Findings
from planner.core.machine.tips import TIP_UNTOLD, Tip, tip_findings
from planner.core.shown import Shown, said
from properties.core.errors import require_positive
from properties.core.units import Quantity, quantity_of_si

L_PER_M3 = 1000.0
#: A speed or a swath this far from what was measured is another one.
UNLIKE_SHARE = 0.05
_SAME_SHARE = 1e-9


class Pump(StrEnum):
    """Whether the flow follows the ground speed."""

    FIXED = "fixed"
    SPEED_TIED = "speed_tied"


@dataclass(frozen=True)
class Hose:
    """A hose from the tank to the gun, full of spray."""

    length: Quantity
    bore: Quantity

    @property
    def volume_l(self) -> float:
        """What it holds."""
        return hose_volume_l(length_m=self.length.si, bore_m=self.bore.si)


@dataclass(frozen=True)
class Fittings:
    """What is fitted; each is None where nobody told.

    ``sides`` is how many parts of the boom shut off on their own.
    """

    nozzles: int | None = None
    nozzle_spacing: Quantity | None = None
    sides: int | None = None
    pump: Pump | None = None
    hose: Hose | None = None
    tip: Tip = TIP_UNTOLD


FITTINGS_UNTOLD = Fittings()


def hose_volume_l(*, length_m: float, bore_m: float) -> float:
    """Spray that a hose holds.

    Parameters
    ----------
    length_m : float
        Length, > 0. [m]
    bore_m : float
        Inner diameter, > 0. [m]

    Returns
    -------
    float
        Volume of the cylinder. [L]

    Raises
    ------
    Refused
        If an argument is not a finite number above zero.

    References
    ----------
    Common practice: π / 4 × bore² × length.
    """
    require_positive(length_m=length_m, bore_m=bore_m)
    return math.pi / 4 * bore_m**2 * length_m * L_PER_M3


def fitting_findings(
    fittings: Fittings,
    calibration: Calibration,
    *,
    swath: Quantity,
    speed: Quantity | None,
    shown: Shown,
    pressure: Quantity | None = None,
) -> Findings:
    """Say where a calibration does not go with what is fitted or with the working speed.

    Parameters
    ----------
    fittings : Fittings
        What is fitted. [-]
    calibration : Calibration
        What was measured. [-]
    swath : Quantity
        Effective width of one pass. [length]
    speed : Quantity or None
        Working speed, None where nobody told. [speed]
    shown : Shown
        The units to say numbers in. [-]
    pressure : Quantity or None
        What the tips work at, None where nobody told. [Pa]

    Returns
    -------
    Findings
        Warnings. [-]

    Raises
    ------
    Nothing
        What is found is returned.

    References
    ----------
    NC State Extension, The Calibration of Turfgrass Boom Sprayers and Spreaders: at a
    fixed pressure output goes as one over the speed.
    """
    spacing = fittings.nozzle_spacing
    tips = tip_findings(fittings.tip, calibration, spacing=spacing, pressure=pressure, shown=shown)
    if not isinstance(calibration, TimedCatch):
        return tips
    found = (
        *_not_all_caught(fittings, calibration),
        *_other_swath(calibration, swath, shown),
        *_other_speed(fittings, calibration, speed, shown),
    )
    return Findings(found) + tips


def _not_all_caught(fittings: Fittings, catch: TimedCatch) -> tuple[Finding, ...]:
    caught = len(catch.catches)
    if fittings.nozzles in (None, caught):
        return ()
    message = (
        f"{caught} nozzles were caught, and the boom has {fittings.nozzles}. Catch every one: a "
        "single bad nozzle leaves a stripe, even where the mean is right."
    )
    return (Finding("nozzles_not_all_caught", message),)


def _other_swath(catch: TimedCatch, swath: Quantity, shown: Shown) -> tuple[Finding, ...]:
    wetted_m = len(catch.catches) * catch.nozzle_spacing.si
    if len(catch.catches) == 1 or abs(wetted_m / swath.si - 1) <= UNLIKE_SHARE + _SAME_SHARE:
        return ()
    message = (
        f"{len(catch.catches)} nozzles {said(catch.nozzle_spacing)} apart wet "
        f"{said(quantity_of_si(wetted_m, shown.length))}, and the swath is {said(swath)}. Check "
        "the spacing, the number of nozzles and the swath."
    )
    return (Finding("swath_unlike_nozzles", message),)


def _other_speed(
    fittings: Fittings, catch: TimedCatch, speed: Quantity | None, shown: Shown
) -> tuple[Finding, ...]:
    """With a fixed pump another speed is another output."""
    if speed is None or fittings.pump is Pump.SPEED_TIED:
        return ()
    measured_m_per_s = pace_of(catch)
    share = measured_m_per_s / speed.si
    if abs(share - 1) <= UNLIKE_SHARE + _SAME_SHARE:
        return ()
    measured = said(quantity_of_si(measured_m_per_s, speed.unit))
    message = (
        f"It was calibrated at {measured}, and the working speed is {said(speed)}. With a pump "
        f"that does not follow the speed the output is then {share:.2f} times as much. Drive as "
        "it was calibrated, or calibrate at the working speed."
    )
    return (Finding("speed_unlike_calibration", message),)


def pace_of(catch: TimedCatch) -> float:
    """How fast the machine went in a timed catch.

    Parameters
    ----------
    catch : TimedCatch
        The catch, with a timed course or a speed. [-]

    Returns
    -------
    float
        The speed; of a course that of its mean time. [m/s]

    Raises
    ------
    Refused
        If a measure is not a finite number above zero.

    References
    ----------
    See ``ground_speed_m_per_s``.
    """
    if not isinstance(catch.pace, TimedCourse):
        return catch.pace.si
    times_s = [time.si for time in catch.pace.times]
    mean_s = math.fsum(times_s) / len(times_s)
    return ground_speed_m_per_s(course_length_m=catch.pace.course_length.si, time_s=mean_s)
