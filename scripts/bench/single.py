"""One property at a time: from GeoJSON that was parsed to GeoJSON of its treatable ground."""

import time
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from properties.core.outlines import read_drawing, write_areas, write_drawing
from properties.core.treatable import treat
from scripts.bench.floor import each_took, laid, plain_m2
from scripts.bench.lots import Place

#: Each property is timed so often, on the clock of the processor, and its best time counts.
_TIMES = 3


@dataclass(frozen=True)
class Step:
    """A step and how many times the floor of the same property it takes."""

    name: str
    median: float
    p95: float
    most: float


def steps(places: Sequence[Place]) -> list[Step]:
    """Time each step for each property against its floor."""
    collections = [write_drawing(drawing) for drawing, _ in places]
    ready = [laid(place) for place in places]
    floor_s = np.min(
        [[one.cpu_s for one in each_took(plain_m2, ready)] for _ in range(_TIMES)], axis=0
    )
    took_s = np.min(
        [
            [_timed(one, place) for one, place in zip(collections, places, strict=True)]
            for _ in range(_TIMES)
        ],
        axis=0,
    )
    parts = (took_s / floor_s[:, None]).T
    names = ("reading and checking", "treat", "writing", "text to text")
    return [
        Step(name, *np.percentile(part, [50, 95, 100]).tolist())
        for name, part in zip(names, (*parts, parts.sum(axis=0)), strict=True)
    ]


def _timed(collection: object, place: Place) -> tuple[float, float, float]:
    start = time.process_time()
    drawing = read_drawing(collection)
    read = time.process_time()
    treatment = treat(drawing, place[1])
    treated = time.process_time()
    write_areas(treatment.treatable_degrees())
    return read - start, treated - read, time.process_time() - treated
