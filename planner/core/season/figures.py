"""How the figures of a season came about: what a year leaves, and degree days."""

from planner.core.season.degree_days import Formula, Scale
from planner.core.season.readings import Count
from planner.core.season.rooms import RoomLeft, YearlyRoom
from planner.core.shown import day_said, listed
from properties.core.units import quantity_of_si
from properties.core.working import Figure, Input

AVERAGING_SOURCE = (
    "Mean of the highest and the lowest less the base, none where that is below zero (Midwestern "
    "Regional Climate Center, Growing Degree Days)."
)
MODIFIED_SOURCE = (
    "Temperatures outside base and upper temperature count as these (Iowa State University, "
    "Agronomy 541, lesson 2b)."
)
_MODIFIED = "before + (min(max(highest, base), upper) + min(max(lowest, base), upper)) / 2 − base"


def room_figure(room: YearlyRoom, place: RoomLeft) -> Figure | None:
    """Derive what a year leaves of a limit on some ground.

    Parameters
    ----------
    room : YearlyRoom
        The limit. [-]
    place : RoomLeft
        The ground. [L or kg/m²]

    Returns
    -------
    Figure or None
        The derivation, None where something is not known. [unit of the room]

    Raises
    ------
    Nothing
        What is not known has no derivation.

    References
    ----------
    The derivation names its own.
    """
    if place.used is None or place.planned is None or place.left is None:
        return None
    told = {"limit": place.limit, "used": place.used, "planned": place.planned}
    return Figure(
        "season.left",
        f"{room.what} left for {listed(list(place.lawns))}",
        "max(0, limit − used − planned)",
        tuple(Input(name, quantity_of_si(amount, room.unit)) for name, amount in told.items()),
        quantity_of_si(place.left, room.unit),
        f"At most {room.rule}. Used is what the records hold, planned what the rounds would add.",
    )


def count_figure(count: Count, scale: Scale, *, unit: str) -> Figure | None:
    """Derive degree days from those until the day before and the temperatures of the day.

    Parameters
    ----------
    count : Count
        The degree days. [°C day]
    scale : Scale
        The base, the formula and its upper temperature. [°C]
    unit : str
        The unit of temperatures to show, ``deg F`` or ``deg C``. [-]

    Returns
    -------
    Figure or None
        The derivation, None before a day could be counted. [unit day]

    Raises
    ------
    Nothing
        What is not known has no derivation.

    References
    ----------
    The derivation names its own.
    """
    if not count.days:
        return None
    last = count.days[-1]
    high_c, low_c = last.reading.high_c or 0.0, last.reading.low_c or 0.0
    degrees = {"highest": high_c, "lowest": low_c, "base": scale.base_c}
    is_modified = scale.formula is Formula.MODIFIED
    if is_modified:
        degrees["upper"] = scale.cut_off_c
    before = quantity_of_si(last.total - last.degree_days, f"{unit} day")
    inputs = (Input(name, quantity_of_si(value, unit)) for name, value in degrees.items())
    return Figure(
        "season.degree_days",
        f"Degree days from {day_said(count.since)} to {day_said(last.reading.on)}",
        _MODIFIED if is_modified else "before + max(0, (highest + lowest) / 2 − base)",
        (Input("before", before), *inputs),
        quantity_of_si(last.total, f"{unit} day"),
        MODIFIED_SOURCE if is_modified else AVERAGING_SOURCE,
    )
