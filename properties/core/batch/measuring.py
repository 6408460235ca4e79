"""Treatable areas of any number of properties, a few hundred at a time."""

from collections import deque
from collections.abc import Iterable, Iterator, Mapping, Sequence
from concurrent.futures import Future, ThreadPoolExecutor
from itertools import islice

import numpy as np

from properties.core.batch.gathering import Place, gathered
from properties.core.errors import Refused, require_positive
from properties.core.features import Role
from properties.core.free_ground import require_setbacks
from properties.core.outlines import Drawing
from properties.core.sweep import treatable_ground
from properties.core.treatable import treat
from properties.core.zones import Setback

#: So many at a time keep the memory flat and the share of Python small.
AT_ONCE = 500

Answer = float | Refused


def measure_many(
    places: Iterable[Place], *, threads: int = 1, at_once: int = AT_ONCE
) -> Iterator[Answer]:
    """Measure the treatable area of many properties, the same as ``treat`` finds for each.

    What can be done in one pass over hundreds of properties is done so; the few that are
    not plain, or whose answer fails a check, are handed to ``treat``. Properties are
    taken from the source as they are needed, and their answers given as they are ready.

    Parameters
    ----------
    places : Iterable of Place
        A drawing with its setbacks by ref, as for ``treat``, for each property. [degree and m]
    threads : int
        How many to work with at a time, one at least; they share the memory. [-]
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
        If the number of threads or of properties at once is not above zero.

    References
    ----------
    Our own derivation, see ``sweep``.
    """
    require_positive(threads=threads, at_once=at_once)
    source = iter(places)
    passes = iter(lambda: list(islice(source, at_once)), [])
    return _in_turn(passes) if threads == 1 else _side_by_side(passes, threads)


def _in_turn(passes: Iterator[list[Place]]) -> Iterator[Answer]:
    for some in passes:
        yield from _measured(some)


def _side_by_side(passes: Iterator[list[Place]], threads: int) -> Iterator[Answer]:
    """As many passes under way as there are threads and one more, so that none waits."""
    with ThreadPoolExecutor(threads) as pool:
        under_way: deque[Future[list[Answer]]] = deque()
        for some in passes:
            under_way.append(pool.submit(_measured, some))
            if len(under_way) > threads:
                yield from under_way.popleft().result()
        while under_way:
            yield from under_way.popleft().result()


def _measured(places: Sequence[Place]) -> list[Answer]:
    answers: dict[int, Answer] = {}
    turfed = []
    for number, (drawing, setbacks) in enumerate(places):
        try:
            require_setbacks(drawing, setbacks)
        except Refused as refused:
            answers[number] = refused
        else:
            if any(shape.kind.role is Role.TURF for shape in drawing.shapes):
                turfed.append(number)
    if turfed:
        laid = gathered([places[number] for number in turfed])
        ground = treatable_ground(laid.rows)
        area_m2 = np.bincount(laid.place, ground.area_m2 * laid.factor)
        doubtful = set(laid.place[~ground.is_sound].tolist())
        answers |= {
            turfed[place]: area
            for place, area in enumerate(area_m2.tolist())
            if place not in doubtful
        }
    return [
        answers[number] if number in answers else _alone(*place)
        for number, place in enumerate(places)
    ]


def _alone(drawing: Drawing, setbacks: Mapping[str, Setback]) -> Answer:
    try:
        return treat(drawing, setbacks).treatable_area_m2
    except Refused as refused:
        return refused
