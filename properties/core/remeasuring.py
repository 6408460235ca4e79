"""Which sides and shapes to measure again so that an area is known better.

To measure a side again is to place both its corners anew. Metres and m², in the
plane of the property's frame.
"""

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import chain

from shapely import LineString

from properties.core.accuracy import (
    SIGMAS_OF_95_PERCENT,
    Measured,
    PartSpread,
    Spread,
    corner_variances_m4,
    corners_of,
    require_not_negative,
    treatable_spread,
)
from properties.core.fewest import fewest_reaching
from properties.core.frame import Floats

#: Halving is reached if no more than this share of the variance is missing, by rounding.
_ROUNDING = 1e-9


@dataclass(frozen=True)
class Gain:
    """What it brings to measure one shape, or one side of a turf outline, again."""

    ref: str
    side: LineString | None
    variance_fall_m4: float
    half_width_after_m2: float


@dataclass(frozen=True)
class Remeasuring:
    """What to measure again to halve the half-width of an area, largest gain first.

    If it cannot be halved, ``gains`` is empty and ``half_width_after_m2`` what is left
    when everything is measured again.
    """

    halves: bool
    gains: tuple[Gain, ...]
    half_width_m2: float
    half_width_after_m2: float


def edge_gains(
    turf: Sequence[Measured], removed: Sequence[Measured], *, sigma_better_m: float
) -> tuple[Gain, ...]:
    """What it brings to measure each shape, and each side of the turf, again.

    Bias and scale are taken to stay as they are.

    Parameters
    ----------
    turf : sequence of Measured
        The turf. [m]
    removed : sequence of Measured
        Obstacles and no-spray zones. [m]
    sigma_better_m : float
        Standard deviation of a corner measured again, >= 0. [m]

    Returns
    -------
    tuple of Gain
        Shapes and sides, largest fall of the variance first; none falls below nought. [m⁴]

    Raises
    ------
    Refused
        If the error is negative or not a finite number.

    References
    ----------
    Our own derivation: the variance that a corner adds goes with the square of its error.
    """
    require_not_negative(sigma_better_m=sigma_better_m)
    spread = treatable_spread(turf, removed)
    shapes = [
        _gain(spread, shape.ref, None, fall)
        for shape, fall in zip(
            (*turf, *removed),
            _falls_m4(spread.parts, (*turf, *removed), sigma_better_m),
            strict=True,
        )
    ]
    sides = [
        _gain_of_side(spread, ring, number)
        for ring in _rings(turf, sigma_better_m)
        for number in range(len(ring.corners))
    ]
    return _largest_first((*shapes, *sides))


def halving_edges(
    turf: Sequence[Measured], removed: Sequence[Measured], *, sigma_better_m: float
) -> Remeasuring:
    """The fewest sides of the turf and other shapes whose new measuring halves the half-width.

    Bias and scale are taken to stay as they are.

    Parameters
    ----------
    turf : sequence of Measured
        The turf. [m]
    removed : sequence of Measured
        Obstacles and no-spray zones. [m]
    sigma_better_m : float
        Standard deviation of a corner measured again, >= 0. [m]

    Returns
    -------
    Remeasuring
        What to measure, and the half-width before and after. [m²]

    Raises
    ------
    Refused
        If the error is negative or not a finite number.

    References
    ----------
    Our own derivation: half of a half-width h with bias b is reached when the variance
    has come down to ((h/2 - b)/1.96)².
    """
    require_not_negative(sigma_better_m=sigma_better_m)
    spread = treatable_spread(turf, removed)
    rings = list(_rings(turf, sigma_better_m))
    falls = _falls_m4(spread.parts[len(turf) :], removed, sigma_better_m)
    corners = [ring.falls_m4 for ring in rings]
    best = fewest_reaching(corners, falls, needed=_fall_that_halves_m4(spread))
    fall, picks = best or (math.fsum(chain(falls, *corners)), ())
    gains = (
        _gain_of_side(spread, rings[group], number)
        if group < len(rings)
        else _gain(spread, removed[number].ref, None, falls[number])
        for group, number in picks
    )
    return Remeasuring(
        halves=best is not None,
        gains=_largest_first(gains),
        half_width_m2=spread.half_width_m2,
        half_width_after_m2=_half_width_after_m2(spread, fall),
    )


@dataclass(frozen=True, eq=False)
class _Ring:
    """The corners of one ring of turf, and what the variance falls by at each."""

    ref: str
    corners: Floats
    falls_m4: list[float]


def _rings(turf: Sequence[Measured], sigma_better_m: float) -> Iterator[_Ring]:
    for shape in turf:
        sigma_m = shape.position.sigma_m
        better = _share_saved(sigma_m, sigma_better_m)
        for corners in corners_of(shape.outline, sigma_m=sigma_m):
            falls = better * corner_variances_m4(corners, sigma_m)
            yield _Ring(shape.ref, corners, falls.tolist())


def _falls_m4(
    parts: Sequence[PartSpread], shapes: Sequence[Measured], sigma_better_m: float
) -> list[float]:
    return [
        part.corner_variance_m4 * _share_saved(shape.position.sigma_m, sigma_better_m)
        for part, shape in zip(parts, shapes, strict=True)
    ]


def _share_saved(sigma_m: float, sigma_better_m: float) -> float:
    """The share of a variance that a better measurement takes away; none if it is no better."""
    return 1 - (sigma_better_m / sigma_m) ** 2 if sigma_better_m < sigma_m else 0.0


def _gain_of_side(spread: Spread, ring: _Ring, number: int) -> Gain:
    after = (number + 1) % len(ring.corners)
    side = LineString(ring.corners[[number, after]])
    return _gain(spread, ring.ref, side, ring.falls_m4[number] + ring.falls_m4[after])


def _gain(spread: Spread, ref: str, side: LineString | None, fall_m4: float) -> Gain:
    return Gain(ref, side, fall_m4, _half_width_after_m2(spread, fall_m4))


def _half_width_after_m2(spread: Spread, fall_m4: float) -> float:
    left_m4 = max(0.0, spread.variance_m4 - fall_m4)
    return SIGMAS_OF_95_PERCENT * math.sqrt(left_m4) + spread.bias_m2


def _fall_that_halves_m4(spread: Spread) -> float:
    """By how much the variance must fall; without end if the bias alone is too much."""
    by_chance_m2 = spread.half_width_m2 / 2 - spread.bias_m2
    if by_chance_m2 < 0:
        return math.inf
    allowed_m4 = (by_chance_m2 / SIGMAS_OF_95_PERCENT) ** 2
    return (spread.variance_m4 - allowed_m4) * (1 - _ROUNDING)


def _largest_first(gains: Iterable[Gain]) -> tuple[Gain, ...]:
    return tuple(sorted(gains, key=lambda gain: -gain.variance_fall_m4))
