"""What a machine puts down on its ground, measured in one of several ways.

Lengths in m, areas in m², volumes in L, times in s, output in L/m².
"""

from planner.core.calibration.course import course_length_m, course_output_l_per_m2
from planner.core.calibration.measurements import (
    Calibration,
    HandGunCourse,
    MeasuredCourse,
    SmallPlot,
    StatedOutput,
    TimedCatch,
    TimedCourse,
    TimedPasses,
    WayOfMeasuring,
)
from planner.core.calibration.nozzles import Nozzle, boom_output_l_per_m2, ground_speed_m_per_s
from planner.core.calibration.output import Output, output_of
from planner.core.calibration.runs import (
    RUNS_NEEDED,
    Reading,
    Run,
    is_far,
    judge_runs,
    variation_of,
)
from planner.core.calibration.spread import StandardError

__all__ = [
    "RUNS_NEEDED",
    "Calibration",
    "HandGunCourse",
    "MeasuredCourse",
    "Nozzle",
    "Output",
    "Reading",
    "Run",
    "SmallPlot",
    "StandardError",
    "StatedOutput",
    "TimedCatch",
    "TimedCourse",
    "TimedPasses",
    "WayOfMeasuring",
    "boom_output_l_per_m2",
    "course_length_m",
    "course_output_l_per_m2",
    "ground_speed_m_per_s",
    "is_far",
    "judge_runs",
    "output_of",
    "variation_of",
]
