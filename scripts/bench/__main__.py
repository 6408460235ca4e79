"""Measure invented properties in several ways and print how they compare.

``make bench`` takes 1,000 of them, ``BENCH_SIZE=100000 make bench`` as many as it says.
All ways are timed in one run on one machine, in turn, and the best time of each counts,
so that what else the machine does weighs little. Ratios are what to look at: of the time on
the wall, which tells the truth where nothing else runs, and of the time that processors
worked, which hardly changes when something does.
"""

import gc
import math
import os
from collections.abc import Callable, Iterator, Mapping, Sequence
from concurrent.futures import Executor
from contextlib import ExitStack
from dataclasses import dataclass
from functools import partial

from properties.core.batch import measure_many
from properties.core.free_ground import site_of
from properties.core.plane import cut
from properties.core.treatable import treat
from scripts.bench import floor, frames, pools, postgis, single
from scripts.bench.clock import Took, clocked
from scripts.bench.lots import Place, places
from scripts.bench.memory import rise_mb

#: Larger runs are timed once, smaller ones often.
_FEW = 10_000
#: So many properties are measured one by one, however many there are.
_SINGLE = 1_000
#: Workers beside the leader; with the last PostGIS was the quickest on two cores.
_WORKERS = (0, 1, 3, 2)
_FLOOR = "GEOS calls alone, plain arcs (the floor)"
_POSTGIS = "PostGIS, plain arcs"
_ALONE = "measure_many"
_POOLED = "measure_many, two processes"


@dataclass(frozen=True)
class Way:
    """A way to measure all properties: its name, the cores it may use, and its clock.

    ``share`` tells how many of the properties it measures.
    """

    name: str
    cores: int
    took: Callable[[], Took]
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
        pool = stack.enter_context(pools.two_processes())
        ways = [*_own(lots, pool), *_others(lots, stack)]
        times = 5 if size <= _FEW else 1
        best = dict.fromkeys((way.name for way in ways), Took(float("inf"), float("inf")))
        for _ in range(times):
            for way in ways:
                best[way.name] = best[way.name].best(way.took().times(1 / way.share))
        _print_table(ways, best)
        _print_checks(lots, pool)
    _print_single(lots[:_SINGLE])


def _own(lots: Sequence[Place], pool: Executor) -> Iterator[Way]:
    few = lots[:_SINGLE]
    yield Way(_FLOOR, 1, lambda: floor.took(floor.plain_m2, lots))
    yield Way("GEOS calls alone, safe arcs", 1, lambda: floor.took(floor.safe_m2, lots))
    yield Way("treat, one by one", 1, lambda: clocked(lambda: _alone(few)), len(few) / len(lots))
    yield Way(_ALONE, 1, lambda: clocked(lambda: _together(lots)))
    yield Way(_POOLED, 2, lambda: pools.clocked(lambda: _together(lots, pool), pool))
    yield Way("the same, its pool started on the clock", 2, lambda: pools.took_afresh(lots))


def _others(lots: Sequence[Place], stack: ExitStack) -> Iterator[Way]:
    programs = postgis.programs()
    if programs is None:
        print("PostGIS: not installed")
    else:
        server = stack.enter_context(postgis.server(programs))
        server.load(lots)
        for workers in _WORKERS if len(lots) <= _FEW else _WORKERS[-1:]:
            cores = 1 if workers == 0 else 2
            yield Way(f"{_POSTGIS}, {workers} workers", cores, partial(server.took, workers))
    if frames.is_installed():
        yield Way("geopandas, aligned difference", 1, frames.ready(lots))
    else:
        print("geopandas: not installed")


def _alone(lots: Sequence[Place]) -> list[float]:
    return [treat(*place).treatable_area_m2 for place in lots]


def _overlaid_m2(place: Place) -> float:
    """The treatable area by overlays, which share no sweep with the ways that are timed."""
    site = site_of(place[0])
    return site.area_of(cut(site.free, site.kept_by(site.zones(place[1])))[1])


def _together(lots: Sequence[Place], pool: Executor | None = None) -> list[float]:
    return [area for area in measure_many(lots, pool=pool) if isinstance(area, float)]


def _total_m2(lots: Sequence[Place], pool: Executor | None) -> float:
    """The sum as it comes, so that no list of answers weighs."""
    answers = measure_many(lots, pool=pool)
    return math.fsum(area for area in answers if isinstance(area, float))


def _print_table(ways: Sequence[Way], best: Mapping[str, Took]) -> None:
    asked = [best[way.name] for way in ways if way.name.startswith(_POSTGIS)]
    floor_took = best[_FLOOR]
    print(f"\n{'':44}{'cores':>6}{'time, of the floor':>20}{'processor, of the floor':>25}")
    for way in ways:
        took = best[way.name]
        of_time, of_cpu = took.wall_s / floor_took.wall_s, took.cpu_s / floor_took.cpu_s
        print(f"{way.name:44}{way.cores:6}{of_time:20.2f}{of_cpu:25.2f}")
    if asked:
        wall_s, cpu_s = (min(one.wall_s for one in asked), min(one.cpu_s for one in asked))
        for name in (_ALONE, _POOLED):
            took = best[name]
            print(
                f"{name}: {wall_s / took.wall_s:.2f} times as fast as the best PostGIS, "
                f"{cpu_s / took.cpu_s:.2f} times as much for each second of a processor"
            )


def _print_checks(lots: Sequence[Place], pool: Executor) -> None:
    few = lots[:_SINGLE]
    worst = max(
        abs(one - other) / max(other, 1.0)
        for one, other in zip(_together(few), map(_overlaid_m2, few), strict=True)
    )
    print(f"\nLargest relative difference of measure_many from overlays: {worst:.0e}")
    for name, workers in ((_ALONE, None), (_POOLED, pool)):
        rise = rise_mb(partial(_total_m2, lots, workers))
        told = "cannot be told here" if rise is None else f"{rise:.0f} MB"
        print(f"Memory over the input, {name}: {told}")
    print(f"The most that a worker's memory came to: {pools.most_mb(pool)}")


def _print_single(lots: Sequence[Place]) -> None:
    print(f"\n{'one property, times its own floor':44}{'p50':>8}{'p95':>8}{'max':>8}")
    for step in single.steps(lots):
        print(f"{step.name:44}{step.median:8.1f}{step.p95:8.1f}{step.most:8.1f}")


if __name__ == "__main__":
    main()
