"""Reading how fast a machine went in its calibration, on level ground and on slopes."""

from collections.abc import Mapping

from planner.core.calibration import Calibration, TimedCatch
from planner.core.machine.fittings import pace_of
from planner.core.machine.machines import DRIVEN_KINDS
from planner.core.machine.slope_speeds import (
    SlopeSpeed,
    SlopeSpeeds,
    repeated_slopes,
    rise_over_run,
)
from planner.core.request.reader import Believable, Faults, Members, open_object
from properties.core.errors import FaultsFound
from properties.core.units import Dimension, Quantity, quantity_of_si

KNOWN = ("level_speed", "slope_speeds")
KNOWN_OF_PAIR = ("slope", "speed")

MOST_SLOPES = 20
SPEEDS = Believable(Quantity(0.1, "m/s"), Quantity(20, "m/s"))
#: Twice as steep as it is far.
STEEPEST = 2.0
UNTOLD = SlopeSpeeds()


def read_slope_speeds(
    machine: Members, *, kind: str | None, calibration: Calibration | None, speed: Quantity | None
) -> SlopeSpeeds:
    """Read the speeds that are told with a calibration; what is not told is unknown.

    Parameters
    ----------
    machine : Members
        The members of the machine; its calibration may be missing. [-]
    kind : str or None
        What kind of machine it is, None where that cannot be read. [-]
    calibration : Calibration or None
        What was measured: a timed catch tells its own speed. [-]
    speed : Quantity or None
        The working speed, which stands for that of the calibration where nobody told it. [-]

    Returns
    -------
    SlopeSpeeds
        The speeds. [as written]

    Raises
    ------
    Nothing
        Faults are noted; that the calibration is no object is noted where it is read.

    References
    ----------
    Our own format, docs/plan-request.md.
    """
    value = machine.values.get("calibration")
    if not isinstance(value, dict):
        return SlopeSpeeds(speed)
    inner = Members(machine.faults, machine.path_of("calibration"), value)
    _only_driven(inner, kind)
    level = _level(inner, calibration, speed)
    measured = _pairs(inner)
    if inner.has("slope_speeds") and level is None and not inner.has("level_speed"):
        inner.faults.add(
            inner.path_of("level_speed"),
            "Nobody says how fast it went on level ground when it was calibrated.",
            "Write that speed, for example 4 mph.",
        )
    return SlopeSpeeds(level, measured)


def slope_speeds_of(told: Mapping[str, object]) -> SlopeSpeeds:
    """Read the speeds of a calibration outside of a request.

    Parameters
    ----------
    told : Mapping of str to object
        Its members. [as written]

    Returns
    -------
    SlopeSpeeds
        The speeds on slopes, and the one on level ground where it is told by itself.
        [as written]

    Raises
    ------
    FaultsFound
        If they cannot be read: every fault with the member it is in.

    References
    ----------
    Our own format, docs/plan-request.md.
    """
    faults = Faults()
    inner = Members(faults, "", told)
    level = inner.quantity("level_speed", Dimension.SPEED, believable=SPEEDS)
    found = SlopeSpeeds(level, _pairs(inner))
    if faults.found:
        raise FaultsFound(faults.found)
    return found


def _only_driven(inner: Members, kind: str | None) -> None:
    if kind in (None, *DRIVEN_KINDS):
        return
    for name in filter(inner.has, KNOWN):
        inner.faults.add(
            inner.path_of(name),
            "This tool is not driven in passes.",
            "Leave it out: speeds on slopes are for a boom or boomless sprayer.",
        )


def _level(
    inner: Members, calibration: Calibration | None, speed: Quantity | None
) -> Quantity | None:
    told = inner.quantity("level_speed", Dimension.SPEED, believable=SPEEDS)
    if not isinstance(calibration, TimedCatch):
        return told or speed
    if inner.has("level_speed"):
        inner.faults.add(
            inner.path_of("level_speed"),
            "This calibration tells its speed already.",
            "Leave it out: the catch was worked out with that speed.",
        )
    m_per_s = pace_of(calibration)
    unit = "m/s" if speed is None else speed.unit
    return (
        calibration.pace
        if isinstance(calibration.pace, Quantity)
        else quantity_of_si(m_per_s, unit)
    )


def _pairs(inner: Members) -> tuple[SlopeSpeed, ...]:
    found = [
        pair
        for path, item in inner.items("slope_speeds", most=MOST_SLOPES)
        if (pair := _pair(inner.faults, path, item)) is not None
    ]
    if repeated_slopes(found):
        inner.faults.add(
            inner.path_of("slope_speeds"),
            "Two speeds are told for one slope.",
            "Keep one for each slope, and the one on level ground as level_speed.",
        )
    return tuple(found)


def _pair(faults: Faults, path: str, item: object) -> SlopeSpeed | None:
    pair = open_object(faults, path, item, KNOWN_OF_PAIR)
    if pair is None:
        return None
    pair.want("slope", "Write how steep it was, for example 20 %.")
    slope = pair.quantity("slope", Dimension.SHARE, Dimension.ANGLE)
    pair.want("speed", "Write how fast it drove there, for example 3.4 mph.")
    speed = pair.quantity("speed", Dimension.SPEED, believable=SPEEDS)
    if slope is not None and not _is_driven_on(slope):
        faults.add(
            pair.path_of("slope"),
            f"{slope} is not a slope that a machine drives on.",
            "A slope is more than 0, and rises at most twice as far as it runs.",
        )
        return None
    return None if slope is None or speed is None else SlopeSpeed(slope, speed)


def _is_driven_on(slope: Quantity) -> bool:
    is_angle = slope.dimension is Dimension.ANGLE
    return slope.si > 0 and (not is_angle or slope.si < 90) and rise_over_run(slope) <= STEEPEST
