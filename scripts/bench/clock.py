"""Time on the wall and time of the processor, for a machine that has other work too."""

import time
from collections.abc import Callable
from dataclasses import dataclass


@dataclass(frozen=True)
class Took:
    """How long some work took, and how long processors worked at it, all cores together."""

    wall_s: float
    cpu_s: float

    def best(self, other: "Took") -> "Took":
        """The better of each."""
        return Took(min(self.wall_s, other.wall_s), min(self.cpu_s, other.cpu_s))

    def times(self, factor: float) -> "Took":
        """So many times as long."""
        return Took(self.wall_s * factor, self.cpu_s * factor)


def clocked(work: Callable[[], object]) -> Took:
    """Do some work in this process and tell how long it took."""
    wall_s, cpu_s = time.perf_counter(), time.process_time()
    work()
    return Took(time.perf_counter() - wall_s, time.process_time() - cpu_s)
