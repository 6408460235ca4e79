"""How far the mean of a few readings may be from the mean of all that could be made."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

from planner.core.calibration.runs import variation_of

CONFIDENCE = 0.95


@dataclass(frozen=True)
class StandardError:
    """Standard error of a mean, as a share of it, and its degrees of freedom."""

    share: float
    freedom: int

    @property
    def half_width(self) -> float:
        """The mean is within this share of itself 95 times in 100."""
        return t_of_95_percent(self.freedom) * self.share


def standard_error_of(readings: Sequence[float]) -> StandardError:
    """Work out the standard error of a mean: standard deviation over the root of the number.

    Parameters
    ----------
    readings : Sequence[float]
        Two readings or more of the same thing, > 0. [any unit]

    Returns
    -------
    StandardError
        As a share of the mean, with n − 1 degrees of freedom. [1]

    Raises
    ------
    Nothing
        The readings were checked at the door.

    References
    ----------
    NIST/SEMATECH e-Handbook of Statistical Methods, section 1.3.5.2, confidence limits for
    the mean.
    """
    share = variation_of(readings) / math.sqrt(len(readings))
    return StandardError(share, len(readings) - 1)


def joined(errors: Sequence[StandardError]) -> StandardError:
    """Join the errors of factors that do not depend on one another.

    Shares of a product add by their squares. The degrees of freedom are those of
    Welch and Satterthwaite, rounded down, so that the band is never too narrow for it.

    Parameters
    ----------
    errors : Sequence[StandardError]
        The error of each factor, at least one. [1]

    Returns
    -------
    StandardError
        The error of the product. [1]

    Raises
    ------
    Nothing
        Any errors can be joined.

    References
    ----------
    JCGM 100:2008, Guide to the expression of uncertainty in measurement, 5.1.6 and
    equation G.2b.
    """
    share = math.hypot(*(error.share for error in errors))
    fewest = min(error.freedom for error in errors)
    if not share:
        return StandardError(0.0, fewest)
    weights = math.fsum((error.share / share) ** 4 / error.freedom for error in errors)
    return StandardError(share, max(fewest, math.floor(1 / weights + 1e-9)))


@lru_cache(maxsize=1024)
def t_of_95_percent(freedom: int) -> float:
    """Find within how many standard errors 95 of 100 means lie, to the three decimals of tables.

    Parameters
    ----------
    freedom : int
        Degrees of freedom, at least 1. [-]

    Returns
    -------
    float
        Student's t for two sides. [1]

    Raises
    ------
    Nothing
        Every number of degrees has its t.

    References
    ----------
    Abramowitz and Stegun, Handbook of Mathematical Functions, 26.7.3 and 26.7.4, solved by
    halving; NIST/SEMATECH e-Handbook, section 1.3.6.7.2, prints the table.
    """
    low, high = 0.0, 20.0
    while high - low > 1e-9:
        middle = (low + high) / 2
        if _share_within(middle, freedom) < CONFIDENCE:
            low = middle
        else:
            high = middle
    return round(high, 3)


def _share_within(t: float, freedom: int) -> float:
    angle = math.atan(t / math.sqrt(freedom))
    sine, cosine = math.sin(angle), math.cos(angle)
    is_odd = freedom % 2
    term = total = (cosine if freedom > 1 else 0.0) if is_odd else 1.0
    for power in range(2 + is_odd, freedom, 2):
        term *= (power - 1) / power * cosine**2
        total += term
    return 2 / math.pi * (angle + sine * total) if is_odd else sine * total
