"""The spread pattern of one pass, caught in a row of pans, and how passes overlap.

Distances from the centre line in m, to the right above zero; catches in any one unit.
"""

import math
import statistics
from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum
from functools import cached_property

from properties.core.errors import Refused, require_positive

#: The usual ceiling for feeds with nitrogen; 0.25 for those of low analysis.
USUAL_CEILING = 0.15
FEWEST_PANS, MOST_PANS = 5, 101
#: A pan at the edge with more than this share of the middle says the row was too short.
EDGE_SHARE = 0.10
_SAME_SHARE = 1e-9


class Mode(StrEnum):
    """How one pass follows the other: each in the other direction, or all in the same."""

    BACK_AND_FORTH = "back_and_forth"
    ROUND_AND_ROUND = "round_and_round"


@dataclass(frozen=True)
class Pattern:
    """What a row of pans caught of one pass, evenly apart, the middle pan on the centre line."""

    pan_spacing_m: float
    catches: tuple[float, ...]

    @property
    def reach_m(self) -> float:
        """How far the outermost pans are from the centre line."""
        return self.pan_spacing_m * (len(self.catches) - 1) / 2

    def at(self, distance_m: float) -> float:
        """What falls at a distance from the centre line: straight between pans, nothing beyond."""
        place = (distance_m + self.reach_m) / self.pan_spacing_m
        if not -_SAME_SHARE <= place <= len(self.catches) - 1 + _SAME_SHARE:
            return 0.0
        place = min(max(place, 0.0), float(len(self.catches) - 1))
        left = min(int(place), len(self.catches) - 2)
        share = place - left
        return self.catches[left] * (1 - share) + self.catches[left + 1] * share

    @property
    def centre(self) -> float:
        """What the middle pan caught."""
        return self.catches[len(self.catches) // 2]

    @property
    def edge_share(self) -> float:
        """The larger catch at an end of the row, as a share of the middle one."""
        return max(self.catches[0], self.catches[-1]) / self.centre

    @property
    def is_cut_off(self) -> bool:
        """Whether the row of pans was too short to hold the pattern."""
        return self.edge_share > EDGE_SHARE

    @cached_property
    def half_widths_m(self) -> tuple[float, float]:
        """How far left and right the catch falls to half of that in the middle."""
        return self._half_width_m(-1), self._half_width_m(1)

    def _half_width_m(self, side: int) -> float:
        middle, half = len(self.catches) // 2, self.centre / 2
        for step in range(middle):
            inner = self.catches[middle + side * step]
            outer = self.catches[middle + side * (step + 1)]
            if outer <= half:
                return (step + (inner - half) / (inner - outer)) * self.pan_spacing_m
        return self.reach_m

    @property
    def half_rate_swath_m(self) -> float:
        """The swath by the rule of the half rate."""
        return math.fsum(self.half_widths_m)


@dataclass(frozen=True)
class Overlap:
    """Passes at a spacing: what falls on average, and how it varies, as a share."""

    spacing_m: float
    mode: Mode
    mean: float
    variation: float


def pattern_of(*, pan_spacing_m: float, catches: Sequence[float]) -> Pattern:
    """Take the catches of a row of pans as a pattern.

    Parameters
    ----------
    pan_spacing_m : float
        Distance from the middle of a pan to the next, > 0. [m]
    catches : Sequence[float]
        What each pan caught, from the left, ≥ 0. [any one unit]

    Returns
    -------
    Pattern
        The pattern. [m, unit of the catches]

    Raises
    ------
    Refused
        If there are too few or an even number of pans, if one caught less than nothing, or
        if the middle one caught nothing.

    References
    ----------
    Ohio State University Extension, Bulletin 817-00, section on granule distribution
    pattern: a row of boxes a foot apart, across the way, 1.5 to 2 times the swath wide.
    """
    require_positive(pan_spacing_m=pan_spacing_m)
    if not FEWEST_PANS <= len(catches) <= MOST_PANS or len(catches) % 2 == 0:
        raise Refused(
            "catches",
            f"{len(catches)} pans were told.",
            f"An odd number from {FEWEST_PANS} to {MOST_PANS} is needed, with the middle pan on "
            "the centre line. Write 0 for a pan that caught nothing.",
        )
    for number, catch in enumerate(catches, start=1):
        if not (math.isfinite(catch) and catch >= 0):
            raise Refused(
                "catches", f"Pan {number} cannot have caught {catch:g}.", "Weigh it again."
            )
    pattern = Pattern(pan_spacing_m, tuple(catches))
    if not pattern.centre > 0:
        raise Refused(
            "catches",
            "The middle pan caught nothing.",
            "List the pans from the left, so that the middle one is that of the centre line.",
        )
    return pattern


def overlapped(pattern: Pattern, *, spacing_m: float, mode: Mode) -> tuple[float, ...]:
    """Add up what neighbouring passes put down, at points a pan apart over one period.

    Round and round the left side of a pass always meets the right side of the next, and one
    spacing is a period. Back and forth left meets left and right meets right, and the period
    is two spacings.

    Parameters
    ----------
    pattern : Pattern
        The pattern of one pass. [m]
    spacing_m : float
        Distance from one pass to the next, > 0. [m]
    mode : Mode
        How one pass follows the other. [-]

    Returns
    -------
    tuple[float, ...]
        What falls at each point; points are a pan apart, or a little less so that a whole
        number of them makes a period. [unit of the catches]

    Raises
    ------
    Refused
        If the spacing is not a finite number above zero.

    References
    ----------
    Ohio State University Extension, Bulletin 817-00, section on operating modes, figures 21
    and 22; R. L. Parish on ASAE S341.2: overlapped patterns are judged by their coefficient
    of variation.
    """
    require_positive(spacing_m=spacing_m)
    passes = 2 if mode is Mode.BACK_AND_FORTH else 1
    points = passes * max(math.ceil(spacing_m / pattern.pan_spacing_m - _SAME_SHARE), 1)
    reach = math.ceil(pattern.reach_m / spacing_m) + passes
    return tuple(
        math.fsum(
            pattern.at((place - number * spacing_m) * (-1 if passes == 2 and number % 2 else 1))
            for number in range(-reach, reach + passes + 1)
        )
        for place in (passes * spacing_m * point / points for point in range(points))
    )


def overlap_of(pattern: Pattern, *, spacing_m: float, mode: Mode) -> Overlap:
    """Work out how evenly passes at a spacing cover the ground.

    Parameters
    ----------
    pattern : Pattern
        The pattern of one pass. [m]
    spacing_m : float
        Distance from one pass to the next, > 0. [m]
    mode : Mode
        How one pass follows the other. [-]

    Returns
    -------
    Overlap
        The mean, and the coefficient of variation (sample, n − 1). [unit of the catches, 1]

    Raises
    ------
    Refused
        If the spacing is not a finite number above zero, or less than two pans wide.

    References
    ----------
    See ``overlapped``. With n − 1, as the pans are a sample of the ground.
    """
    falls = overlapped(pattern, spacing_m=spacing_m, mode=mode)
    if len(falls) < 2:
        raise Refused("spacing", "Passes are less than two pans apart.", "Use narrower pans.")
    mean = statistics.fmean(falls)
    return Overlap(spacing_m, mode, mean, statistics.stdev(falls) / mean)


def overlaps_of(pattern: Pattern, *, mode: Mode) -> tuple[Overlap, ...]:
    """Work out every spacing from two pans to the whole width of the pattern, a pan at a time.

    Parameters
    ----------
    pattern : Pattern
        The pattern of one pass. [m]
    mode : Mode
        How one pass follows the other. [-]

    Returns
    -------
    tuple[Overlap, ...]
        The overlaps, the narrowest first. [m]

    Raises
    ------
    Nothing
        Every spacing of these can be worked out.

    References
    ----------
    See ``overlap_of``.
    """
    return tuple(
        overlap_of(pattern, spacing_m=number * pattern.pan_spacing_m, mode=mode)
        for number in range(2, len(pattern.catches))
    )


def widest_swath(overlaps: Sequence[Overlap], *, ceiling: float) -> Overlap | None:
    """Find the widest spacing up to which no spacing varies more than is allowed.

    A wider one that happens to be even again is not taken: a pass that is driven a little
    closer would leave stripes. Very narrow spacings are always even.

    Parameters
    ----------
    overlaps : Sequence[Overlap]
        The overlaps, the narrowest first. [m]
    ceiling : float
        The largest coefficient of variation, as a share, > 0. [1]

    Returns
    -------
    Overlap or None
        The widest, or None where even the narrowest varies more. [m]

    Raises
    ------
    Nothing
        Any overlaps can be judged.

    References
    ----------
    LandWISE (New Zealand), On-Farm Fertiliser Applicator Calibration, citing Lawrence (2007):
    15 % for feeds with nitrogen, 25 % for those of low analysis.
    """
    widest = None
    for overlap in overlaps:
        if overlap.variation > ceiling + _SAME_SHARE:
            break
        widest = overlap
    return widest
