"""The fewest gains that together reach a sum, where neighbours on a ring share a part.

Measuring a side again places both its corners anew; the next side shares one of
them. So the largest sides one after another are not always the fewest: of corners
worth 1, 3, 3, 1 in a row the middle side takes 6, yet the two outer ones take all.
The gains are in any one unit.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np

from properties.core.frame import Floats

#: A side of a ring or a shape: the number of its group, and its number in the group.
Pick = tuple[int, int]


@dataclass(frozen=True, eq=False)
class _Table:
    """The largest gain of each number of picks of some groups, and the picks of that number."""

    gains: Floats
    picks: Callable[[int], tuple[Pick, ...]]


def fewest_reaching(
    rings: Sequence[Sequence[float]], singles: Sequence[float], *, needed: float
) -> tuple[float, tuple[Pick, ...]] | None:
    """The fewest sides of rings and single gains that reach a sum.

    Parameters
    ----------
    rings : sequence of sequences of float
        The gain at each corner of each ring, >= 0; side i joins corner i to the next. [any unit]
    singles : sequence of float
        Gains that share nothing, >= 0. [as the rings]
    needed : float
        The sum to reach. [as the rings]

    Returns
    -------
    tuple of the sum and the picks, or None
        For each side its ring and its number; for each single gain ``len(rings)`` and its
        number; of equally many the ones that gain most. None if all do not reach it.
        [as the rings, -]

    Raises
    ------
    None
        Any gains have an answer.

    References
    ----------
    Bellman, R. (1957), Dynamic Programming, Princeton University Press: along a ring the
    best choice up to a side depends only on how many were chosen and on the last one.
    """
    table = _best_of_singles(np.array(singles, dtype=np.float64), group=len(rings))
    for group, gains in enumerate(rings):
        ring = np.array(gains, dtype=np.float64)
        table = _joined(table, _best_of_ring(ring, group=group))
    reached = np.flatnonzero(table.gains >= needed)
    if not len(reached):
        return None
    fewest = int(reached[0])
    return float(table.gains[fewest]), table.picks(fewest)


def _best_of_singles(gains: Floats, *, group: int) -> _Table:
    order = np.argsort(-gains, kind="stable")
    return _Table(
        gains=np.concatenate(([0.0], np.cumsum(gains[order]))),
        picks=lambda count: tuple((group, int(number)) for number in order[:count]),
    )


def _best_of_ring(gains: Floats, *, group: int) -> _Table:
    """The best of each number of sides, with the side that closes the ring and without it."""
    most = (len(gains) + 1) // 2
    inner = gains.copy()
    inner[[0, -1]] = 0
    opened = _best_along(gains, group=group, most=most)
    closed = _best_along(inner, group=group, most=most - 1)
    with_closing = np.concatenate(([-np.inf], closed.gains + gains[0] + gains[-1]))
    closing = (group, len(gains) - 1)

    def picks(count: int) -> tuple[Pick, ...]:
        if with_closing[count] > opened.gains[count]:
            return (*closed.picks(count - 1), closing)
        return opened.picks(count)

    return _Table(gains=np.maximum(with_closing, opened.gains), picks=picks)


def _best_along(gains: Floats, *, group: int, most: int) -> _Table:
    """The best of each number of sides of a line of corners, up to the most."""
    sides = len(gains) - 1
    # Of each number of sides so far: the best if the last one is passed over, and if it is taken.
    passed, taken = np.full((2, most + 1), -np.inf)
    passed[0] = 0
    # Whether the side before was taken, for a side passed over and for a side taken.
    before = np.zeros((sides + 1, 2, most + 1), dtype=np.bool_)
    for side in range(sides):
        anew, next_to = passed + gains[side : side + 2].sum(), taken + gains[side + 1]
        before[side, 0] = taken > passed
        before[side, 1, 1:] = (next_to > anew)[:-1]
        passed, taken = (
            np.maximum(passed, taken),
            np.concatenate(([-np.inf], np.maximum(anew, next_to)[:-1])),
        )
    before[sides, 0] = taken > passed

    def picks(count: int) -> tuple[Pick, ...]:
        chosen: list[Pick] = []
        is_taken = bool(before[sides, 0, count])
        for side in reversed(range(sides)):
            was_taken = bool(before[side, int(is_taken), count])
            if is_taken:
                chosen.append((group, side))
                count -= 1
            is_taken = was_taken
        return tuple(reversed(chosen))

    return _Table(gains=np.maximum(passed, taken), picks=picks)


def _joined(one: _Table, other: _Table) -> _Table:
    """The best of each number of picks from two groups."""
    gains = np.full(len(one.gains) + len(other.gains) - 1, -np.inf)
    from_one = np.zeros(len(gains), dtype=np.intp)
    for count, gain in enumerate(one.gains):
        reach = slice(count, count + len(other.gains))
        better = gain + other.gains > gains[reach]
        from_one[reach][better] = count
        gains[reach] = np.maximum(gain + other.gains, gains[reach])

    def picks(count: int) -> tuple[Pick, ...]:
        of_one = int(from_one[count])
        return one.picks(of_one) + other.picks(count - of_one)

    return _Table(gains=gains, picks=picks)
