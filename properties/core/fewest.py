"""The fewest gains that together reach a sum, where neighbours on a ring share a part.

Measuring a side again places both its corners anew; the next side shares one of
them. So the largest sides one after another are not always the fewest: of corners
worth 1, 3, 3, 1 in a row the middle side takes 6, yet the two outer ones take all.
The gains are in any one unit.
"""

from collections.abc import Sequence

#: A side of a ring or a shape: the number of its group, and its number in the group.
Pick = tuple[int, int]
#: The largest gain of some number of picks, and the picks.
Best = tuple[float, tuple[Pick, ...]]

_NEVER: Best = (-1.0, ())


def fewest_reaching(
    rings: Sequence[Sequence[float]], singles: Sequence[float], *, needed: float
) -> Best | None:
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
    table = _best_of_singles(singles, group=len(rings))
    for group, gains in enumerate(rings):
        table = _joined(table, _best_of_ring(gains, group=group))
    return next((best for best in table if best[0] >= needed), None)


def _best_of_singles(gains: Sequence[float], *, group: int) -> list[Best]:
    table: list[Best] = [(0.0, ())]
    for number in sorted(range(len(gains)), key=lambda number: -gains[number]):
        gain, picks = table[-1]
        table.append((gain + gains[number], (*picks, (group, number))))
    return table


def _best_of_ring(gains: Sequence[float], *, group: int) -> list[Best]:
    """The best of each number of sides, with the side that closes the ring and without it."""
    most = (len(gains) + 1) // 2
    first_and_last = gains[0] + gains[-1]
    closed = _best_along([0.0, *gains[1:-1], 0.0], group=group, most=most - 1)
    closing = (group, len(gains) - 1)
    table = _best_along(gains, group=group, most=most)
    for number, (gain, picks) in enumerate(closed):
        with_closing = (gain + first_and_last, (*picks, closing))
        table[number + 1] = max(table[number + 1], with_closing)
    return table


def _best_along(gains: Sequence[float], *, group: int, most: int) -> list[Best]:
    """The best of each number of sides of a line of corners, up to the most."""
    # Of each number of sides so far: the best if the last side is passed over, and if it is taken.
    passed: list[Best] = [(0.0, ())] + [_NEVER] * most
    taken: list[Best] = [_NEVER] * (most + 1)
    for side in range(len(gains) - 1):
        both, next_only = gains[side] + gains[side + 1], gains[side + 1]
        now = [_NEVER] + [
            max(
                _with(passed[number], both, (group, side)),
                _with(taken[number], next_only, (group, side)),
            )
            for number in range(most)
        ]
        passed = [max(pair) for pair in zip(passed, taken, strict=True)]
        taken = now
    return [max(pair) for pair in zip(passed, taken, strict=True)]


def _with(best: Best, gain: float, pick: Pick) -> Best:
    return _NEVER if best is _NEVER else (best[0] + gain, (*best[1], pick))


def _joined(one: list[Best], other: list[Best]) -> list[Best]:
    table = [_NEVER] * (len(one) + len(other) - 1)
    for i, (gain, picks) in enumerate(one):
        for j, (more, further) in enumerate(other):
            table[i + j] = max(table[i + j], (gain + more, picks + further))
    return table
