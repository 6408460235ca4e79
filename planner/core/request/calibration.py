"""Reading how a machine was calibrated: one list of members for each way of measuring."""

from collections.abc import Callable, Mapping

from planner.core.calibration import (
    RUNS_NEEDED,
    Calibration,
    HandGunCourse,
    MeasuredCourse,
    SmallPlot,
    TimedCatch,
    TimedCourse,
    TimedPasses,
    WayOfMeasuring,
)
from planner.core.request.reader import Believable, Faults, Members, quantity_at
from planner.core.request.set_up import KNOWN_OF_MADE
from planner.core.request.slope_speeds import KNOWN as KNOWN_OF_SPEEDS
from properties.core.errors import FaultsFound
from properties.core.units import Dimension, Quantity

MOST_RUNS = 100
MOST_NOZZLES = 200

COURSES = Believable(Quantity(1, "m"), Quantity(10, "km"))
VOLUMES = Believable(Quantity(1, "mL"), Quantity(100_000, "L"))
TIMES = Believable(Quantity(0.5, "s"), Quantity(10, "h"))
SPACINGS = Believable(Quantity(1, "cm"), Quantity(20, "m"))
PACES = Believable(Quantity(0.05, "m/s"), Quantity(20, "m/s"))
SIDES = Believable(Quantity(0.1, "m"), Quantity(10, "km"))
PLOTS = Believable(Quantity(0.1, "m2"), Quantity(100, "ha"))

RUNS_ADVICE = (
    "Run the course with water at least three times, at the same pace and pressure, and list the "
    "spray used in each run (100 runs at most)."
)
TIMES_ADVICE = (
    "Time the same ground at least three times, at the pace you work at, and list each time "
    "(100 at most)."
)
CATCHES_ADVICE = "List what was caught from each nozzle, from the left (200 at most)."

#: What each way of measuring a sprayer is told with, beside its method.
MEMBERS: Mapping[str, tuple[str, ...]] = {
    WayOfMeasuring.MEASURED_COURSE: ("course_length", "volumes_used"),
    WayOfMeasuring.TIMED_CATCH: (
        *("nozzle_spacing", "catch_time", "catches"),
        *("course_length", "times", "speed"),
    ),
    WayOfMeasuring.SMALL_PLOT: (
        *("plot_area", "plot_length", "plot_width"),
        *("times", "catches", "catch_time"),
    ),
    WayOfMeasuring.HAND_GUN_COURSE: ("course_length", "times", "catches", "catch_time"),
}
METHODS = tuple(map(str, MEMBERS))
#: What is told with any of them.
ALWAYS = (*KNOWN_OF_MADE, *KNOWN_OF_SPEEDS)
KNOWN = (
    "method",
    *ALWAYS,
    *dict.fromkeys(name for names in MEMBERS.values() for name in names),
)


def read_calibration(machine: Members) -> Calibration | None:
    """Read the calibration of a sprayer.

    Parameters
    ----------
    machine : Members
        The members of the machine. [-]

    Returns
    -------
    Calibration or None
        What was measured, or None where nothing is told or there are faults. [as written]

    Raises
    ------
    Nothing
        Faults are noted.

    References
    ----------
    Our own format, docs/plan-request.md.
    """
    inner = machine.within("calibration", None)
    if inner is None:
        return None
    inner.want("method", f"Write one of: {', '.join(METHODS)}.")
    method = inner.choice("method", METHODS)
    known = KNOWN if method is None else ("method", *MEMBERS[method], *ALWAYS)
    inner = machine.within("calibration", known)
    if inner is None or method is None:
        return None
    return _READERS[method](inner)


def calibration_of(told: Mapping[str, object]) -> Calibration:
    """Read what was told of a calibration outside of a request.

    Parameters
    ----------
    told : Mapping of str to object
        Its members. [as written]

    Returns
    -------
    Calibration
        What was measured. [as written]

    Raises
    ------
    FaultsFound
        If it cannot be read: every fault with the member it is in.

    References
    ----------
    Our own format, docs/plan-request.md.
    """
    faults = Faults()
    measured = read_calibration(Members(faults, "", {"calibration": dict(told)}))
    if measured is None or faults.found:
        raise FaultsFound(
            fault.at(fault.field.removeprefix("calibration").lstrip(".")) for fault in faults.found
        )
    return measured


def _measured_course(inner: Members) -> MeasuredCourse | None:
    length = _course_length(inner)
    inner.want("volumes_used", "List the spray used in each of at least three runs.")
    volumes = _runs(inner, "volumes_used", Dimension.VOLUME, VOLUMES, advice=RUNS_ADVICE)
    return MeasuredCourse(length, volumes) if length is not None and volumes else None


def _timed_catch(inner: Members) -> TimedCatch | None:
    inner.want("nozzle_spacing", "Write how far the nozzles are apart, for example 20 in.")
    spacing = inner.quantity("nozzle_spacing", Dimension.LENGTH, believable=SPACINGS)
    inner.want("catch_time", "Write how long each catch lasted, for example 30 s.")
    time = inner.quantity("catch_time", Dimension.TIME, believable=TIMES)
    catches = _catches(inner, most=MOST_NOZZLES)
    pace = _pace(inner)
    if spacing is None or time is None or not catches or pace is None:
        return None
    return TimedCatch(spacing, time, catches, pace)


def _pace(inner: Members) -> TimedCourse | Quantity | None:
    speed = inner.quantity("speed", Dimension.SPEED, believable=PACES)
    timed = inner.has("times") or inner.has("course_length")
    if inner.has("speed") and timed:
        inner.faults.add(
            inner.path_of("speed"),
            "Both a speed and a timed course are given.",
            "Keep the timed course, or the speed if nothing was timed.",
        )
    if inner.has("speed"):
        return speed
    if not timed:
        remedy = "Give course_length and times of three runs or more, or a speed such as 4 mph."
        inner.faults.add(inner.path_of("times"), "Nothing says how fast the machine goes.", remedy)
        return None
    length, times = _course_length(inner), _times(inner)
    return TimedCourse(length, times) if length is not None and times else None


def _small_plot(inner: Members) -> SmallPlot | None:
    area = inner.quantity("plot_area", Dimension.AREA, believable=PLOTS)
    length = inner.quantity("plot_length", Dimension.LENGTH, believable=SIDES)
    width = inner.quantity("plot_width", Dimension.LENGTH, believable=SIDES)
    told = [inner.has(name) for name in ("plot_area", "plot_length", "plot_width")]
    if told not in ([True, False, False], [False, True, True]):
        inner.faults.add(
            inner.path_of("plot_area"),
            "The size of the plot must be told in one way.",
            "Write plot_area, or plot_length and plot_width, for example 18.5 ft by 18.5 ft.",
        )
        return None
    sides = None if length is None or width is None else (length, width)
    passes = _passes(inner)
    size = area or sides
    return None if size is None or passes is None else SmallPlot(size, passes)


def _hand_gun_course(inner: Members) -> HandGunCourse | None:
    length, passes = _course_length(inner), _passes(inner)
    return None if length is None or passes is None else HandGunCourse(length, passes)


def _passes(inner: Members) -> TimedPasses | None:
    times, catches = _times(inner), _catches(inner, most=MOST_RUNS)
    catch_time = inner.quantity("catch_time", Dimension.TIME, believable=TIMES)
    return TimedPasses(times, catches, catch_time) if times and catches else None


def _course_length(inner: Members) -> Quantity | None:
    inner.want("course_length", "Write how long the course is, for example 100 ft.")
    return inner.quantity("course_length", Dimension.LENGTH, believable=COURSES)


def _times(inner: Members) -> tuple[Quantity, ...]:
    inner.want("times", "List how long each of at least three runs took.")
    return _runs(inner, "times", Dimension.TIME, TIMES, advice=TIMES_ADVICE)


def _runs(
    inner: Members, name: str, kind: Dimension, believable: Believable, *, advice: str
) -> tuple[Quantity, ...]:
    read = [
        quantity_at(inner.faults, path, item, kind, believable=believable)
        for path, item in inner.items(name, most=MOST_RUNS, least=RUNS_NEEDED, advice=advice)
    ]
    return tuple(each for each in read if each is not None)


def _catches(inner: Members, *, most: int) -> tuple[Quantity, ...]:
    inner.want("catches", "List what was caught.")
    read = [
        quantity_at(inner.faults, path, item, Dimension.VOLUME, believable=VOLUMES)
        for path, item in inner.items("catches", most=most, advice=CATCHES_ADVICE)
    ]
    return tuple(each for each in read if each is not None)


_READERS: Mapping[str, Callable[[Members], Calibration | None]] = {
    WayOfMeasuring.MEASURED_COURSE: _measured_course,
    WayOfMeasuring.TIMED_CATCH: _timed_catch,
    WayOfMeasuring.SMALL_PLOT: _small_plot,
    WayOfMeasuring.HAND_GUN_COURSE: _hand_gun_course,
}
