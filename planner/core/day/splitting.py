"""Where a route is split into loads, so that each ends empty where the tank may be filled.

Volumes in any one unit. Stops are counted from 0; a stretch is the first of its stops
and the one after its last.
"""

from collections.abc import Collection, Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import fsum

#: A load that is over by less than this share is the rounding of the machine.
SAME_VOLUME = 1e-9


@dataclass(frozen=True, order=True)
class _Split:
    """The best way to come to a stop: by number of loads, then by how even they are."""

    loads: int
    squares: float
    cuts: tuple[int, ...]


def fewest_loads(
    volumes: Sequence[float], *, reload_before: Collection[int], most: float
) -> tuple[tuple[int, int], ...] | None:
    """Split the stops into the fewest loads, and of those into the most even ones.

    Parameters
    ----------
    volumes : Sequence[float]
        What each stop needs, ≥ 0. [any unit]
    reload_before : Collection[int]
        The stops before which the tank may be filled; the first always is. [-]
    most : float
        What one load can spray, > 0. [same unit]

    Returns
    -------
    tuple of (int, int), or None
        The stretches in order; None where one does not fit. [-]

    Raises
    ------
    Nothing
        What does not fit is None.

    References
    ----------
    Our own derivation: the best split of the first stops is a best split of fewer of them
    and one load more; equally many loads with the same sum are most even where the sum of
    their squares is least.
    """
    points = _points(volumes, reload_before)
    best: dict[int, _Split] = {0: _Split(0, 0.0, (0,))}
    for position, end in enumerate(points[1:], start=1):
        ways = [
            _Split(before.loads + 1, before.squares + load**2, (*before.cuts, end))
            for start in points[:position]
            if (before := best.get(start)) is not None
            and (load := fsum(volumes[start:end])) <= most * (1 + SAME_VOLUME)
        ]
        if ways:
            best[end] = min(ways)
    found = best.get(len(volumes))
    return None if found is None else tuple(pairwise(found.cuts))


def too_long(
    volumes: Sequence[float], *, reload_before: Collection[int], most: float
) -> tuple[tuple[int, int], ...]:
    """Find the stretches without a reload point that need more than a load.

    Parameters
    ----------
    volumes : Sequence[float]
        What each stop needs, ≥ 0. [any unit]
    reload_before : Collection[int]
        The stops before which the tank may be filled. [-]
    most : float
        What one load can spray. [same unit]

    Returns
    -------
    tuple of (int, int)
        Those stretches in order; none where the route can be split. [-]

    Raises
    ------
    Nothing
        Any route has stretches.

    References
    ----------
    Our own derivation: a split exists if and only if each stretch between neighbouring
    reload points fits.
    """
    points = _points(volumes, reload_before)
    return tuple(
        (start, end)
        for start, end in pairwise(points)
        if fsum(volumes[start:end]) > most * (1 + SAME_VOLUME)
    )


def reloads_missing(
    volumes: Sequence[float], *, stretch: tuple[int, int], most: float
) -> tuple[int, ...]:
    """Find the stops of a stretch before which it would have to be reloaded at the latest.

    Parameters
    ----------
    volumes : Sequence[float]
        What each stop needs, ≥ 0. [any unit]
    stretch : tuple of (int, int)
        The stretch. [-]
    most : float
        What one load can spray. [same unit]

    Returns
    -------
    tuple of int
        The stops in order. A stop that needs more than a load by itself is among them
        unless it comes first. [-]

    Raises
    ------
    Nothing
        Any stretch can be gone through.

    References
    ----------
    Our own derivation: going on as far as each load lasts needs the fewest reloads.
    """
    missing, load = [], 0.0
    for stop in range(*stretch):
        load += volumes[stop]
        if load > most * (1 + SAME_VOLUME) and stop > stretch[0]:
            missing.append(stop)
            load = volumes[stop]
    return tuple(missing)


def _points(volumes: Sequence[float], reload_before: Collection[int]) -> list[int]:
    inside = {stop for stop in reload_before if 0 < stop < len(volumes)}
    return sorted({0, len(volumes)} | inside)
