"""Reading days: a day of every year, a number of whole days."""

import re
from datetime import date

from planner.core.label.limits import MonthDay
from planner.core.request.reader import Believable, Members
from properties.core.units import Dimension, Quantity

LONGEST_WAIT = Believable(Quantity(0, "day"), Quantity(1500, "day"))
#: Nobody works earlier or later; a slip of the hand does.
FIRST_YEAR, LAST_YEAR = 1950, 2199
_MONTH_DAY = re.compile(r"([0-9]{2})-([0-9]{2})")


def working_day(members: Members, name: str) -> date | None:
    """Read a day on which somebody could work, if it is there.

    Parameters
    ----------
    members : Members
        Where it stands. [-]
    name : str
        The member's name. [-]

    Returns
    -------
    date or None
        The day. [-]

    Raises
    ------
    Nothing
        Faults are noted.

    References
    ----------
    Our own format, docs/plan-request.md.
    """
    day = members.day(name)
    if day is None or FIRST_YEAR <= day.year <= LAST_YEAR:
        return day
    remedy = f"Write a day of the years {FIRST_YEAR} to {LAST_YEAR}."
    members.faults.add(members.path_of(name), f"{day} cannot be right.", remedy)
    return None


def month_day(members: Members, name: str) -> MonthDay | None:
    """Read a day of every year that may be missing.

    Parameters
    ----------
    members : Members
        Where it stands. [-]
    name : str
        The member's name. [-]

    Returns
    -------
    MonthDay or None
        The day. [-]

    Raises
    ------
    Nothing
        Faults are noted.

    References
    ----------
    Our own format, docs/plan-request.md.
    """
    value = members.values.get(name)
    if not members.has(name):
        return None
    found = _MONTH_DAY.fullmatch(value) if isinstance(value, str) else None
    if found is not None:
        month, day = (int(digits) for digits in found.groups())
        if (month, day) == (2, 29):
            problem, remedy = "Most years have no February 29.", "Write 02-28 or 03-01."
            members.faults.add(members.path_of(name), problem, remedy)
            return None
        if _is_day(month, day):
            return MonthDay(month, day)
    remedy = "Write the month and the day, for example 03-01."
    members.faults.add(members.path_of(name), "This is not a day of the year.", remedy)
    return None


def whole_days(members: Members, name: str) -> int | None:
    """Read a number of days that may be missing.

    Parameters
    ----------
    members : Members
        Where it stands. [-]
    name : str
        The member's name. [-]

    Returns
    -------
    int or None
        The days. [day]

    Raises
    ------
    Nothing
        Faults are noted.

    References
    ----------
    Our own format, docs/plan-request.md.
    """
    time = members.quantity(name, Dimension.TIME, believable=LONGEST_WAIT)
    if time is None:
        return None
    days = round(time.to("day").value, 9)
    if days.is_integer():
        return int(days)
    remedy = "Write the next whole number of days."
    members.faults.add(members.path_of(name), f"{time} is not a number of whole days.", remedy)
    return None


def _is_day(month: int, day: int) -> bool:
    try:
        date(2001, month, day)
    except ValueError:
        return False
    return True
