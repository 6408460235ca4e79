"""Output of a sprayer from what was measured, and how far it can be trusted.

Lengths in m, volumes in L, times in s, output in L/m².
"""

import statistics
from dataclasses import dataclass

from planner.core.calibration.course import course_output_l_per_m2
from planner.core.calibration.measurements import (
    Calibration,
    HandGunCourse,
    MeasuredCourse,
    SmallPlot,
    TimedCatch,
    TimedCourse,
    TimedPasses,
    WayOfMeasuring,
)
from planner.core.calibration.nozzles import (
    Nozzle,
    boom_output_l_per_m2,
    ground_speed_m_per_s,
    nozzles_of,
)
from planner.core.calibration.runs import OfRuns, Reading, Run, judge_runs, variation_of
from planner.core.calibration.spread import StandardError, joined, standard_error_of


@dataclass(frozen=True)
class Output(OfRuns):
    """Finished spray per area, and the readings behind it.

    ``runs`` are of what ``reading`` says, and ``variation`` is the coefficient of variation
    of the kept ones, as a share. ``nozzles`` are those of a timed catch. ``error`` is None
    where nothing tells how well the mean is known.
    """

    l_per_m2: float
    runs: tuple[Run, ...] = ()
    variation: float | None = None
    way: WayOfMeasuring = WayOfMeasuring.STATED
    reading: Reading = Reading.SPRAY
    nozzles: tuple[Nozzle, ...] = ()
    error: StandardError | None = None

    @property
    def is_stated(self) -> bool:
        """Whether somebody only states it."""
        return self.way is WayOfMeasuring.STATED


def output_of(calibration: Calibration, *, swath_m: float) -> Output:
    """Work out a machine's output from what is known of it.

    Parameters
    ----------
    calibration : Calibration
        What was measured, or an output that was only stated. [-]
    swath_m : float
        Effective width of one pass, > 0. [m]

    Returns
    -------
    Output
        The output with the readings behind it. [L/m²]

    Raises
    ------
    Refused
        If a measure is not a finite number above zero.

    References
    ----------
    See ``course_output_l_per_m2``, ``boom_output_l_per_m2`` and ``judge_runs``.
    """
    match calibration:
        case MeasuredCourse():
            return _of_course(calibration, swath_m)
        case TimedCatch():
            return _of_catch(calibration)
        case HandGunCourse(course_length=length, passes=passes):
            return _of_passes(passes, length.si * swath_m, calibration.way)
        case SmallPlot(passes=passes):
            return _of_passes(passes, calibration.area_m2, calibration.way)
        case _:
            return Output(calibration.output.si)


def _of_course(course: MeasuredCourse, swath_m: float) -> Output:
    runs = judge_runs([volume.si for volume in course.volumes_used])
    kept_l = [run.read for run in runs if run.kept]
    output = course_output_l_per_m2(
        volumes_l=kept_l, course_length_m=course.course_length.si, swath_m=swath_m
    )
    error = standard_error_of(kept_l)
    return Output(output, runs, variation_of(kept_l), course.way, error=error)


def _of_catch(catch: TimedCatch) -> Output:
    """The swath is not asked: each nozzle wets a strip as wide as the spacing."""
    catches_l = [each.si for each in catch.catches]
    flow_l_per_s = statistics.fmean(catches_l) / catch.catch_time.si
    runs: tuple[Run, ...] = ()
    variation = error = None
    if isinstance(catch.pace, TimedCourse):
        runs = judge_runs([time.si for time in catch.pace.times])
        kept_s = [run.read for run in runs if run.kept]
        variation = variation_of(kept_s)
        if len(catches_l) > 1:
            error = joined([standard_error_of(kept_s), standard_error_of(catches_l)])
        speed_m_per_s = ground_speed_m_per_s(
            course_length_m=catch.pace.course_length.si, time_s=statistics.fmean(kept_s)
        )
    else:
        speed_m_per_s = catch.pace.si
    output = boom_output_l_per_m2(
        nozzle_flow_l_per_s=flow_l_per_s,
        speed_m_per_s=speed_m_per_s,
        nozzle_spacing_m=catch.nozzle_spacing.si,
    )
    return Output(
        output, runs, variation, catch.way, Reading.TIME, nozzles_of(catches_l), error=error
    )


def _of_passes(passes: TimedPasses, area_m2: float, way: WayOfMeasuring) -> Output:
    """Finished spray per area: what the tip gives in the mean time of the passes."""
    runs = judge_runs([time.si for time in passes.times])
    kept_s = [run.read for run in runs if run.kept]
    time_s, catches_l = statistics.fmean(kept_s), [catch.si for catch in passes.catches]
    catch_time_s = time_s if passes.catch_time is None else passes.catch_time.si
    used_l = statistics.fmean(catches_l) * time_s / catch_time_s
    error = None
    if len(catches_l) > 1:
        error = joined([standard_error_of(kept_s), standard_error_of(catches_l)])
    return Output(
        used_l / area_m2, runs, variation_of(kept_s), way, reading=Reading.TIME, error=error
    )
