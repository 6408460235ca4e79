"""Treatable areas of any number of properties, a few hundred at a time."""

from collections import deque
from collections.abc import Iterable, Iterator, Mapping, Sequence
from concurrent.futures import Executor, Future
from dataclasses import dataclass
from itertools import islice

import numpy as np

from properties.core.batch.gathering import Gathered, Place, gathered
from properties.core.errors import Refused, require_positive
from properties.core.features import Role
from properties.core.frame import Flags, Floats
from properties.core.free_ground import require_setbacks
from properties.core.outlines import Drawing
from properties.core.sweep import Rows, treatable_ground
from properties.core.treatable import treat
from properties.core.zones import Setback

#: So many at a time keep the memory flat and the share of Python small.
AT_ONCE = 250
#: So many passes keep two workers busy while the next is laid out.
UNDER_WAY = 4
#: Once a block of this size has been freed, the C library keeps twice as much for the next
#: pass instead of giving each array back (mallopt(3), M_MMAP_THRESHOLD): a fifth of the time.
_KEPT_BYTES = 28 * 2**20

Answer = float | Refused


def measure_many(
    places: Iterable[Place],
    *,
    pool: Executor | None = None,
    under_way: int = UNDER_WAY,
    at_once: int = AT_ONCE,
) -> Iterator[Answer]:
    """Measure the treatable area of many properties, the same as ``treat`` finds for each.

    What can be done in one pass over hundreds of properties is done so; the few that are
    not plain, or whose answer fails a check, are handed to ``treat``. Properties are
    taken from the source as they are needed, and their answers given as they are ready.

    Parameters
    ----------
    places : Iterable of Place
        A drawing with its setbacks by ref, as for ``treat``, for each property. [degree and m]
    pool : Executor, optional
        Whose workers sweep; the caller's own, who opens and closes it. Processes share the
        work best, since the quick engine keeps other threads waiting. None are started
        here: without a pool all is done by the one who asks. [-]
    under_way : int
        How many passes the pool has in hand at a time, one at least; more than it has
        workers. [-]
    at_once : int
        How many properties make one pass, one at least. [-]

    Yields
    ------
    float or Refused
        The treatable area on the ground of each property in order, slope applied, or
        why it has none. [m²]

    Returns
    -------
    Iterator of float or Refused
        The same. [m²]

    Raises
    ------
    Refused
        If the number of passes or of properties at once is not above zero.

    References
    ----------
    Our own derivation, see ``sweep``.
    """
    require_positive(under_way=under_way, at_once=at_once)
    source = iter(places)
    passes = iter(lambda: list(islice(source, at_once)), [])
    return _in_turn(passes) if pool is None else _handed_out(passes, pool, under_way)


def _in_turn(passes: Iterator[list[Place]]) -> Iterator[Answer]:
    for places in passes:
        some = _laid_out(places)
        yield from some.answers(_swept(some.laid.rows))


def _handed_out(passes: Iterator[list[Place]], pool: Executor, under_way: int) -> Iterator[Answer]:
    """Answers in order, while the pool has so many passes in hand."""
    waiting: deque[tuple[_Pass, Future[_Areas]]] = deque()
    for places in passes:
        some = _laid_out(places)
        waiting.append((some, pool.submit(_swept, some.laid.rows)))
        if len(waiting) >= under_way:
            some, areas = waiting.popleft()
            yield from some.answers(areas.result())
    for some, areas in waiting:
        yield from some.answers(areas.result())


_Areas = tuple[Floats, Flags]


def _swept(rows: Rows) -> _Areas:
    """The treatable area of each row, and whether it can be trusted."""
    np.empty(_KEPT_BYTES, dtype=np.uint8)
    ground = treatable_ground(rows)
    return ground.area_m2, ground.is_sound


@dataclass(frozen=True)
class _Pass:
    """Some properties, those of them with turf laid out, and the answers known already."""

    places: Sequence[Place]
    turfed: Sequence[int]
    laid: Gathered
    known: Mapping[int, Answer]

    def answers(self, areas: _Areas) -> Iterator[Answer]:
        """The answer for each property, from the area of each row and whether it is sound."""
        area_m2, is_sound = areas
        found_m2 = np.bincount(self.laid.place, area_m2 * self.laid.factor).tolist()
        doubtful = set(self.laid.place[~is_sound].tolist())
        found = {
            self.turfed[place]: area_m2
            for place, area_m2 in enumerate(found_m2)
            if place not in doubtful
        }
        for number, place in enumerate(self.places):
            answer = self.known.get(number, found.get(number))
            yield _alone(*place) if answer is None else answer


def _laid_out(places: Sequence[Place]) -> _Pass:
    """Lay properties out for one pass; one that is refused or has no turf takes no part."""
    refused: dict[int, Answer] = {}
    turfed = []
    for number, (drawing, setbacks) in enumerate(places):
        try:
            require_setbacks(drawing, setbacks)
        except Refused as why:
            refused[number] = why
        else:
            if any(shape.kind.role is Role.TURF for shape in drawing.shapes):
                turfed.append(number)
    return _Pass(places, turfed, gathered([places[number] for number in turfed]), refused)


def _alone(drawing: Drawing, setbacks: Mapping[str, Setback]) -> Answer:
    try:
        return treat(drawing, setbacks).treatable_area_m2
    except Refused as refused:
        return refused
