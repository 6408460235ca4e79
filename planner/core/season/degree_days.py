"""Degree days from the highest and the lowest temperature of each day. °C and °C day."""

import math
from dataclasses import dataclass
from enum import StrEnum

from properties.core.errors import Refused


class Formula(StrEnum):
    """How the degree days of one day are worked out."""

    AVERAGING = "averaging"
    MODIFIED = "modified"


@dataclass(frozen=True)
class Scale:
    """What is counted: warmth above a base, by a formula; cut off above where it asks for it."""

    base_c: float
    formula: Formula = Formula.AVERAGING
    cut_off_c: float = math.inf

    def check(self) -> "Scale":
        """Refuse a scale on which nothing could be counted."""
        if self.formula is Formula.MODIFIED and math.isinf(self.cut_off_c):
            problem = "The modified formula has an upper temperature too."
            raise Refused("cut_off", problem, "Enter it, or choose the averaging formula.")
        if self.cut_off_c <= self.base_c:
            problem = "The upper temperature is not above the base."
            raise Refused("cut_off", problem, "Correct one of the two.")
        return self


def degree_days_of(*, high_c: float, low_c: float, scale: Scale) -> float:
    """Work out the degree days of one day.

    Parameters
    ----------
    high_c : float
        The highest temperature of the day. [°C]
    low_c : float
        The lowest temperature of the day. [°C]
    scale : Scale
        The base, the formula and its upper temperature. [°C]

    Returns
    -------
    float
        The degree days, never below 0. [°C day]

    Raises
    ------
    Refused
        If the highest is below the lowest.

    References
    ----------
    Averaging: mean of the two less the base, none where that is below zero (Midwestern
    Regional Climate Center, Growing Degree Days). Modified: a temperature above the upper
    one counts as that, one below the base as the base, then as before (Iowa State
    University, Agronomy 541, lesson 2b: 86 and 50 °F for corn).
    """
    if high_c < low_c:
        raise Refused("high", "The highest temperature is below the lowest.", "Exchange the two.")
    if scale.formula is Formula.MODIFIED:
        high_c = _between(high_c, scale)
        low_c = _between(low_c, scale)
    return max(0.0, (high_c + low_c) / 2 - scale.base_c)


def _between(temperature_c: float, scale: Scale) -> float:
    return min(max(temperature_c, scale.base_c), scale.cut_off_c)
