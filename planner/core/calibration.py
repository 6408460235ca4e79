"""Output of a machine from a measured course, and how far its runs can be trusted.

Lengths in m, volumes in L, output in L/m².
"""

import statistics
from collections.abc import Sequence
from dataclasses import dataclass

from properties.core.errors import require_positive
from properties.core.units import Quantity

FLUKE_SHARE = 0.10
RUNS_NEEDED = 3
_SAME_SHARE = 1e-9  # a deviation of exactly a tenth is not more than a tenth


@dataclass(frozen=True)
class MeasuredCourse:
    """The spray used over a course of known length, run by run."""

    course_length: Quantity
    volumes_used: tuple[Quantity, ...]


@dataclass(frozen=True)
class StatedOutput:
    """An output that somebody states without showing a measurement."""

    output: Quantity


@dataclass(frozen=True)
class Run:
    """One run over the course, and how far it is from the median run (a share)."""

    number: int
    volume_l: float
    deviation: float
    kept: bool = True


@dataclass(frozen=True)
class Output:
    """Finished spray per area, and the runs behind it; without runs it was stated.

    ``variation`` is the coefficient of variation of the kept runs, as a share.
    """

    l_per_m2: float
    runs: tuple[Run, ...] = ()
    variation: float | None = None

    @property
    def kept(self) -> tuple[Run, ...]:
        """The runs that the output is the mean of."""
        return tuple(run for run in self.runs if run.kept)

    @property
    def flukes(self) -> tuple[Run, ...]:
        """The runs that were left out, because they are far from all others."""
        return tuple(run for run in self.runs if not run.kept)

    @property
    def is_scattered(self) -> bool:
        """Whether so many runs are far from the median that none can be called the fluke."""
        return not self.flukes and any(is_far(run.deviation) for run in self.runs)


def course_output_l_per_m2(
    *, volumes_l: Sequence[float], course_length_m: float, swath_m: float
) -> float:
    """Finished spray per area, from the mean volume used over a course.

    Parameters
    ----------
    volumes_l : Sequence[float]
        Spray used in each run that counts, > 0. [L]
    course_length_m : float
        Length of the course, > 0. [m]
    swath_m : float
        Effective width of one pass, > 0. [m]

    Returns
    -------
    float
        Output. [L/m²]

    Raises
    ------
    Refused
        If an argument is not a finite number above zero.

    References
    ----------
    Pesticide Environmental Stewardship (NC State), Spray Gun calibration page:
    output = catch / area of the course, area = length times swath.
    """
    mean_l = statistics.fmean(volumes_l)
    require_positive(volumes_l=mean_l, course_length_m=course_length_m, swath_m=swath_m)
    return mean_l / (course_length_m * swath_m)


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


def judge_runs(volumes_l: Sequence[float]) -> tuple[Run, ...]:
    """Set aside the runs far from the median, if the others are more than half of all.

    Where they are not, nobody can say which run is the odd one: all are kept.

    Parameters
    ----------
    volumes_l : Sequence[float]
        Spray used in each run, > 0. [L]

    Returns
    -------
    tuple[Run, ...]
        The runs in the order they were made. [L, share]

    Raises
    ------
    Nothing
        The values were checked at the door.

    References
    ----------
    Our own rule, after the limit for a single nozzle: 10 % from the others
    (Mississippi State University Extension, Turf Tips 3-16-09 and 2-4-13).
    """
    median_l = statistics.median(volumes_l)
    deviations = [volume_l / median_l - 1 for volume_l in volumes_l]
    far = sum(map(is_far, deviations))
    flukes_can_be_told = 2 * far < len(volumes_l)
    return tuple(
        Run(number, volume_l, deviation, kept=not (flukes_can_be_told and is_far(deviation)))
        for number, (volume_l, deviation) in enumerate(
            zip(volumes_l, deviations, strict=True), start=1
        )
    )


def output_of(calibration: MeasuredCourse | StatedOutput, *, swath_m: float) -> Output:
    """Work out a machine's output from what is known of it.

    Parameters
    ----------
    calibration : MeasuredCourse | StatedOutput
        The runs over a course, or an output that was only stated. [-]
    swath_m : float
        Effective width of one pass, > 0. [m]

    Returns
    -------
    Output
        The output with the runs behind it. [L/m²]

    Raises
    ------
    Refused
        If a measure is not a finite number above zero.

    References
    ----------
    See ``course_output_l_per_m2`` and ``judge_runs``.
    """
    if isinstance(calibration, StatedOutput):
        return Output(calibration.output.si)
    runs = judge_runs([volume.si for volume in calibration.volumes_used])
    kept_l = [run.volume_l for run in runs if run.kept]
    output = course_output_l_per_m2(
        volumes_l=kept_l, course_length_m=calibration.course_length.si, swath_m=swath_m
    )
    return Output(output, runs, variation_of(kept_l))


def is_far(deviation: float) -> bool:
    """Tell whether a run is more than a tenth from the median run.

    Parameters
    ----------
    deviation : float
        Volume of the run over the median volume, less one. [1]

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
