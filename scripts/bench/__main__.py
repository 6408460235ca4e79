"""Measure invented properties in several ways and print how they compare.

``make bench`` takes 1,000 of them, ``BENCH_SIZE=100000 make bench`` as many as it says.
All ways are timed in one run on one machine, in turn, and the best time of each counts,
so that what else the machine does weighs little. Ratios are what to look at.
"""

import gc
import math
import os
import time
from collections.abc import Callable, Iterator, Sequence
from contextlib import ExitStack
from dataclasses import dataclass
from functools import partial

from properties.core.batch import measure_many
from properties.core.treatable import treat
from scripts.bench import floor, frames, postgis, single
from scripts.bench.lots import Place, places
from scripts.bench.memory import rise_mb

#: Larger runs are timed once or twice, smaller ones often.
_FEW = 10_000
#: So many properties are measured one by one, however many there are.
_SINGLE = 1_000
_WORKERS = (0, 1, 2, 3)
_FLOOR = "GEOS calls alone, plain arcs (the floor)"
_POSTGIS = "PostGIS, plain arcs"


@dataclass(frozen=True)
class Way:
    """A way to measure all properties: its name, the cores it may use, and its clock."""

    name: str
    cores: int
    seconds: Callable[[], float]
    share: float = 1.0


def main() -> None:
    """Measure, compare, print."""
    size = int(os.environ.get("BENCH_SIZE", "1000"))
    lots = list(places(size))
    # A service does not hold a million shapes while it measures, so they are not swept for either.
    gc.collect()
    gc.freeze()
    print(f"{size:,} properties, {sum(len(one.shapes) for one, _ in lots) / size:.1f} shapes each")
    with ExitStack() as stack:
        ways = [*_own(lots), *_others(lots, stack)]
        times = 5 if size <= _FEW else 2
        best_s = dict.fromkeys((way.name for way in ways), float("inf"))
        for _ in range(times):
            for way in ways:
                best_s[way.name] = min(best_s[way.name], way.seconds() / way.share)
    _print_table(ways, best_s)
    _print_checks(lots)
    _print_single(lots[:_SINGLE])


def _own(lots: Sequence[Place]) -> Iterator[Way]:
    few = lots[:_SINGLE]
    yield Way(_FLOOR, 1, lambda: floor.seconds(floor.plain_m2, lots))
    yield Way("GEOS calls alone, safe arcs", 1, lambda: floor.seconds(floor.safe_m2, lots))
    yield Way("treat, one by one", 1, _clock(lambda: _alone(few)), len(few) / len(lots))
    yield Way("measure_many, one thread", 1, _clock(lambda: _together(lots, 1)))
    yield Way("measure_many, two threads", 2, _clock(lambda: _together(lots, 2)))


def _others(lots: Sequence[Place], stack: ExitStack) -> Iterator[Way]:
    programs = postgis.programs()
    if programs is None:
        print("PostGIS: not installed")
    else:
        server = stack.enter_context(postgis.server(programs))
        server.load(lots)
        for workers in _WORKERS:
            cores = 1 if workers == 0 else 2
            yield Way(f"{_POSTGIS}, {workers} workers", cores, partial(server.seconds, workers))
    if frames.is_installed():
        yield Way("geopandas, aligned difference", 1, frames.ready(lots))
    else:
        print("geopandas: not installed")


def _clock(work: Callable[[], object]) -> Callable[[], float]:
    def seconds() -> float:
        start = time.perf_counter()
        work()
        return time.perf_counter() - start

    return seconds


def _alone(lots: Sequence[Place]) -> list[float]:
    return [treat(*place).treatable_area_m2 for place in lots]


def _together(lots: Sequence[Place], threads: int) -> list[float]:
    return [area for area in measure_many(lots, threads=threads) if isinstance(area, float)]


def _total_m2(lots: Sequence[Place], threads: int) -> float:
    """The sum as it comes, so that no list of answers weighs."""
    answers = measure_many(lots, threads=threads)
    return math.fsum(area for area in answers if isinstance(area, float))


def _print_table(ways: Sequence[Way], best_s: dict[str, float]) -> None:
    asked_s = [best_s[way.name] for way in ways if way.name.startswith(_POSTGIS)]
    print(f"\n{'':44}{'cores':>6}{'of the floor':>14}{'of PostGIS':>12}")
    for way in ways:
        took_s = best_s[way.name]
        of_postgis = f"{took_s / min(asked_s):.2f}" if asked_s else "-"
        of_floor = f"{took_s / best_s[_FLOOR]:.2f}"
        print(f"{way.name:44}{way.cores:6}{of_floor:>14}{of_postgis:>12}")
    if asked_s:
        for name in ("measure_many, one thread", "measure_many, two threads"):
            print(f"{name} is {min(asked_s) / best_s[name]:.2f} times as fast as the best PostGIS")


def _print_checks(lots: Sequence[Place]) -> None:
    few = lots[:_SINGLE]
    worst = max(
        abs(one - other) / max(other, 1.0)
        for one, other in zip(_together(few, 1), _alone(few), strict=True)
    )
    print(f"\nLargest relative difference of measure_many from treat: {worst:.0e}")
    for threads in (1, 2):
        rise = rise_mb(partial(_total_m2, lots, threads))
        told = "cannot be told here" if rise is None else f"{rise:.0f} MB"
        print(f"Memory over the input, {threads} thread(s): {told}")


def _print_single(lots: Sequence[Place]) -> None:
    print(f"\n{'one property, times its own floor':44}{'p50':>8}{'p95':>8}{'max':>8}")
    for step in single.steps(lots):
        print(f"{step.name:44}{step.median:8.1f}{step.p95:8.1f}{step.most:8.1f}")


if __name__ == "__main__":
    main()
