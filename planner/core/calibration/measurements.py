"""What was measured of a machine, as it was written down; one class for each way."""

from dataclasses import dataclass
from enum import StrEnum
from typing import ClassVar

from properties.core.units import Quantity


class WayOfMeasuring(StrEnum):
    """The ways in which an output comes to be known."""

    STATED = "stated"
    MEASURED_COURSE = "measured_course"
    TIMED_CATCH = "timed_catch"
    SMALL_PLOT = "small_plot"
    HAND_GUN_COURSE = "hand_gun_course"


@dataclass(frozen=True)
class StatedOutput:
    """An output that somebody states without showing a measurement."""

    way: ClassVar = WayOfMeasuring.STATED
    output: Quantity


@dataclass(frozen=True)
class MeasuredCourse:
    """The spray used over a course of known length, run by run."""

    way: ClassVar = WayOfMeasuring.MEASURED_COURSE
    course_length: Quantity
    volumes_used: tuple[Quantity, ...]


@dataclass(frozen=True)
class TimedCourse:
    """A course of known length and the time of each run over it."""

    course_length: Quantity
    times: tuple[Quantity, ...]


@dataclass(frozen=True)
class TimedCatch:
    """What each nozzle of a boom gives in a time, and how fast the machine goes.

    The speed is that of a timed course, or one that somebody read off.
    """

    way: ClassVar = WayOfMeasuring.TIMED_CATCH
    nozzle_spacing: Quantity
    catch_time: Quantity
    catches: tuple[Quantity, ...]
    pace: TimedCourse | Quantity


@dataclass(frozen=True)
class TimedPasses:
    """How long the same ground took, time by time, and what the tip gives meanwhile.

    Without ``catch_time`` each catch was made in the mean time of the passes.
    """

    times: tuple[Quantity, ...]
    catches: tuple[Quantity, ...]
    catch_time: Quantity | None = None


@dataclass(frozen=True)
class HandGunCourse:
    """A course that somebody walks, spraying its swath from end to end."""

    way: ClassVar = WayOfMeasuring.HAND_GUN_COURSE
    course_length: Quantity
    passes: TimedPasses


@dataclass(frozen=True)
class SmallPlot:
    """A small plot, such as 1/128 acre, that somebody sprays evenly."""

    way: ClassVar = WayOfMeasuring.SMALL_PLOT
    area: Quantity | tuple[Quantity, Quantity]
    passes: TimedPasses

    @property
    def area_m2(self) -> float:
        """Its area, of its sides where they are told."""
        if isinstance(self.area, Quantity):
            return self.area.si
        length, width = self.area
        return length.si * width.si


Calibration = MeasuredCourse | TimedCatch | HandGunCourse | SmallPlot | StatedOutput
