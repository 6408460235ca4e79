"""Readings of the same thing, run by run, and which of them stand apart."""

import statistics
from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum

FLUKE_SHARE = 0.10
RUNS_NEEDED = 3
_SAME_SHARE = 1e-9  # a deviation of exactly a tenth is not more than a tenth


class Reading(StrEnum):
    """What is read in each run: the spray it used, or the time it took."""

    SPRAY = "volume"
    TIME = "time"


@dataclass(frozen=True)
class Run:
    """One run, what was read, and how far it is from the median run (a share)."""

    number: int
    read: float
    deviation: float
    kept: bool = True


class OfRuns:
    """Something that is the mean of runs, without those that stand apart."""

    runs: tuple[Run, ...]

    @property
    def kept(self) -> tuple[Run, ...]:
        """The runs that it is the mean of."""
        return tuple(run for run in self.runs if run.kept)

    @property
    def flukes(self) -> tuple[Run, ...]:
        """The runs that were left out, because they are far from all others."""
        return tuple(run for run in self.runs if not run.kept)

    @property
    def is_scattered(self) -> bool:
        """Whether so many runs are far from the median that none can be called the fluke."""
        return not self.flukes and any(is_far(run.deviation) for run in self.runs)


def variation_of(values: Sequence[float]) -> float:
    """Coefficient of variation: sample standard deviation (n − 1) over the mean.

    Holds in any consistent units.

    Parameters
    ----------
    values : Sequence[float]
        Two values or more, with a mean above zero. [any unit]

    Returns
    -------
    float
        The coefficient as a share. [1]

    Raises
    ------
    Nothing
        The values were checked at the door.

    References
    ----------
    Common practice. With n − 1, as a few runs stand for all that could be made.
    """
    return statistics.stdev(values) / statistics.fmean(values)


def judge_runs(readings: Sequence[float]) -> tuple[Run, ...]:
    """Set aside the runs far from the median, if the others are more than half of all.

    Where they are not, nobody can say which run is the odd one: all are kept.

    Parameters
    ----------
    readings : Sequence[float]
        What was read in each run, > 0. [any unit]

    Returns
    -------
    tuple[Run, ...]
        The runs in the order they were made. [as read, share]

    Raises
    ------
    Nothing
        The values were checked at the door.

    References
    ----------
    Our own rule, after the limit for a single nozzle: 10 % from the others
    (Mississippi State University Extension, Turf Tips 3-16-09 and 2-4-13).
    """
    median = statistics.median(readings)
    deviations = [reading / median - 1 for reading in readings]
    far = sum(map(is_far, deviations))
    flukes_can_be_told = 2 * far < len(readings)
    return tuple(
        Run(number, reading, deviation, kept=not (flukes_can_be_told and is_far(deviation)))
        for number, (reading, deviation) in enumerate(
            zip(readings, deviations, strict=True), start=1
        )
    )


def is_far(deviation: float) -> bool:
    """Tell whether a run is more than a tenth from the median run.

    Parameters
    ----------
    deviation : float
        Reading of the run over the median reading, less one. [1]

    Returns
    -------
    bool
        Whether it is far. [-]

    Raises
    ------
    Nothing
        Any number is far or not.

    References
    ----------
    See ``judge_runs``.
    """
    return abs(deviation) > FLUKE_SHARE + _SAME_SHARE
