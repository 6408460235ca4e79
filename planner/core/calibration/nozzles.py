"""What the nozzles of a boom give, each against the mean of all.

Volumes in L, times in s, lengths in m, output in L/m².
"""

import statistics
from collections.abc import Sequence
from dataclasses import dataclass

from properties.core.errors import require_positive

#: A nozzle this far from the mean of all is to be cleaned or swapped.
NOZZLE_SHARE = 0.10
_SAME_SHARE = 1e-9


@dataclass(frozen=True)
class Nozzle:
    """One nozzle, counted from the left, what it gave and how far it is from the mean of all."""

    number: int
    catch_l: float
    deviation: float

    @property
    def is_off(self) -> bool:
        """Whether it is more than a tenth from the mean."""
        return abs(self.deviation) > NOZZLE_SHARE + _SAME_SHARE


def nozzles_of(catches_l: Sequence[float]) -> tuple[Nozzle, ...]:
    """Hold each nozzle against the mean of all.

    Parameters
    ----------
    catches_l : Sequence[float]
        What each gave in the same time, from the left, > 0. [L]

    Returns
    -------
    tuple[Nozzle, ...]
        The nozzles in their order. [L, share]

    Raises
    ------
    Nothing
        The catches were checked at the door.

    References
    ----------
    University of Georgia, Special Bulletin 16: each nozzle within 10 % of the mean.
    Mississippi State University Extension, Turf Tips 3-16-09 and 2-4-13: replace a tip
    that is 10 % above or below the others.
    """
    mean_l = statistics.fmean(catches_l)
    return tuple(
        Nozzle(number, catch_l, catch_l / mean_l - 1)
        for number, catch_l in enumerate(catches_l, start=1)
    )


def ground_speed_m_per_s(*, course_length_m: float, time_s: float) -> float:
    """How fast a machine goes that takes a time for a course.

    Parameters
    ----------
    course_length_m : float
        Length of the course, > 0. [m]
    time_s : float
        Time over it, at speed from line to line, > 0. [s]

    Returns
    -------
    float
        Speed. [m/s]

    Raises
    ------
    Refused
        If an argument is not a finite number above zero.

    References
    ----------
    Oklahoma State University Turf Program, fact sheet Sprayer Calibration:
    mph = 60 × feet / (88 × seconds).
    """
    require_positive(course_length_m=course_length_m, time_s=time_s)
    return course_length_m / time_s


def boom_output_l_per_m2(
    *, nozzle_flow_l_per_s: float, speed_m_per_s: float, nozzle_spacing_m: float
) -> float:
    """Finished spray per area from a boom with evenly spaced nozzles.

    One nozzle wets a strip as wide as the nozzle spacing, so each second its flow is
    spread over ``speed * spacing``.

    Parameters
    ----------
    nozzle_flow_l_per_s : float
        Mean flow of a nozzle, > 0. [L/s]
    speed_m_per_s : float
        Ground speed, > 0. [m/s]
    nozzle_spacing_m : float
        Distance between neighbouring nozzles, > 0. [m]

    Returns
    -------
    float
        Output. [L/m²]

    Raises
    ------
    Refused
        If an argument is not a finite number above zero.

    References
    ----------
    University of Florida IFAS Extension, WG013, equation 1: the same relation in
    gal/acre, gal/min, mph and inches. Its 5940 is 43,560 × 12 / 88.
    """
    require_positive(
        nozzle_flow_l_per_s=nozzle_flow_l_per_s,
        speed_m_per_s=speed_m_per_s,
        nozzle_spacing_m=nozzle_spacing_m,
    )
    return nozzle_flow_l_per_s / (speed_m_per_s * nozzle_spacing_m)
