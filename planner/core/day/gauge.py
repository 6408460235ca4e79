"""What readings of the gauge at every stop say: all alike is the machine, one alone is a lawn.

Volumes in L, areas in m², outputs in L/m².
"""

import statistics
from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum
from itertools import pairwise

#: A stop this far from what is planned, or from the other stops, stands out, as a share.
STANDS_OUT = 0.05
#: With fewer stops nobody can tell which one is the odd one.
STOPS_NEEDED = 3
_SAME_SHARE = 1e-9


class Cause(StrEnum):
    """What the readings point to."""

    AS_PLANNED = "as_planned"
    CALIBRATION = "calibration"
    AREA = "area"
    GROWING = "growing"
    UNCLEAR = "unclear"


@dataclass(frozen=True)
class StopUse:
    """What one stop used, against what was planned for it."""

    stop: int
    used_l: float
    planned_l: float

    @property
    def deviation(self) -> float:
        """How far off it is, as a share of the plan."""
        return self.used_l / self.planned_l - 1


@dataclass(frozen=True)
class Diagnosis:
    """What each stop used, what that points to, and of which stop, where one is meant."""

    uses: tuple[StopUse, ...]
    cause: Cause
    stop: int | None = None


def diagnosed(uses: Sequence[StopUse]) -> Diagnosis:
    """Judge what the stops of a load used.

    Parameters
    ----------
    uses : Sequence[StopUse]
        What each stop used, in the order they were sprayed; at least one. [L]

    Returns
    -------
    Diagnosis
        The cause that explains all of them. [-]

    Raises
    ------
    Nothing
        What explains nothing is unclear.

    References
    ----------
    Our own rule: the output of a machine is the same on every lawn, so a shortfall that all
    share is its calibration, and one that a single lawn has is that lawn's area. What grows
    from stop to stop is pace, wear or pressure.
    """
    deviations = [use.deviation for use in uses]
    if not any(map(_stands_out, deviations)):
        return Diagnosis(tuple(uses), Cause.AS_PLANNED)
    # A gauge that does not fall from one lawn to the next was not read right.
    if len(uses) < STOPS_NEEDED or any(use.used_l <= 0 for use in uses):
        return Diagnosis(tuple(uses), Cause.UNCLEAR)
    middle = statistics.median(deviations)
    odd = [use for use in uses if _stands_out((1 + use.deviation) / (1 + middle) - 1)]
    if not odd:
        return Diagnosis(tuple(uses), Cause.CALIBRATION)
    if _goes_one_way(deviations):
        return Diagnosis(tuple(uses), Cause.GROWING)
    if len(odd) == 1 and not _stands_out(middle):
        return Diagnosis(tuple(uses), Cause.AREA, odd[0].stop)
    return Diagnosis(tuple(uses), Cause.UNCLEAR)


def _stands_out(deviation: float) -> bool:
    return abs(deviation) > STANDS_OUT + _SAME_SHARE


def _goes_one_way(deviations: Sequence[float]) -> bool:
    steps = [after - before for before, after in pairwise(deviations)]
    least = STANDS_OUT / len(steps)
    return all(step >= least for step in steps) or all(step <= -least for step in steps)
