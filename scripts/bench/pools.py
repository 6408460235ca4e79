"""Two processes that sweep, and what their processors worked."""

import os
from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import Executor, ProcessPoolExecutor, wait
from contextlib import contextmanager
from multiprocessing import get_context
from pathlib import Path

from properties.core.batch import measure_many
from scripts.bench.clock import Took
from scripts.bench.clock import clocked as clocked_here
from scripts.bench.lots import Place

_WORKERS = 2
_MIB = 2**20


@contextmanager
def two_processes() -> Iterator[Executor]:
    """A pool whose processes have started and read what they need."""
    with _pool() as pool:
        wait([pool.submit(_ready) for _ in range(_WORKERS)])
        yield pool


def clocked(work: Callable[[], object], pool: Executor) -> Took:
    """Do some work with a pool; its processors count too."""
    before_s = _cpu_s(pool)
    took = clocked_here(work)
    return Took(took.wall_s, took.cpu_s + _cpu_s(pool) - before_s)


def took_afresh(lots: Sequence[Place]) -> Took:
    """How long all properties take with a pool that is started for them."""
    before = os.times()
    took = clocked_here(lambda: _afresh(lots))
    after = os.times()
    children_s = after.children_user + after.children_system
    return Took(
        took.wall_s, took.cpu_s + children_s - before.children_user - before.children_system
    )


def most_mb(pool: Executor) -> str:
    """The most memory that one of the processes has had."""
    peaks = [_peak_kb(pid) for pid in _pids(pool)]
    return f"{max(peaks) / 1000:.0f} MB"


def _pool() -> ProcessPoolExecutor:
    return ProcessPoolExecutor(_WORKERS, mp_context=get_context("fork"))


def _ready() -> None:
    measure_many([])


def _afresh(lots: Sequence[Place]) -> None:
    with _pool() as pool:
        for _ in measure_many(lots, pool=pool):
            pass


def _pids(pool: Executor) -> list[int]:
    return list(getattr(pool, "_processes", {}))


def _cpu_s(pool: Executor) -> float:
    """Processor time of the processes, to a millionth of a second."""
    return sum(
        int(Path(f"/proc/{pid}/schedstat").read_text().split()[0]) / 1e9 for pid in _pids(pool)
    )


def _peak_kb(pid: int) -> int:
    lines = Path(f"/proc/{pid}/status").read_text().splitlines()
    return next(int(line.split()[1]) for line in lines if line.startswith("VmHWM"))
