"""The window of a round: the days of a year from its first to its last."""

import re
from dataclasses import dataclass
from datetime import date

from planner.core.label.limits import MonthDay
from planner.core.shown import day_said
from properties.core.errors import Refused

LEAP_DAY = "02-29"
_MONTH_DAY = re.compile("[0-9]{2}-[0-9]{2}")


@dataclass(frozen=True)
class Window:
    """Days from the first to the last, both included."""

    first: date
    last: date

    def __str__(self) -> str:
        return f"{day_said(self.first)} to {day_said(self.last)}"

    def holds(self, day: date) -> bool:
        """Whether a day lies in it."""
        return self.first <= day <= self.last

    @property
    def days(self) -> int:
        """How many days it has."""
        return (self.last - self.first).days + 1


def day_of_every_year(text: str, *, field: str) -> MonthDay:
    """Read a month and a day.

    Parameters
    ----------
    text : str
        Such as ``03-15``. [-]
    field : str
        Where it stands. [-]

    Returns
    -------
    MonthDay
        The day. [-]

    Raises
    ------
    Refused
        If most years have no such day.

    References
    ----------
    Our own rule: February 29 is no day of a window, since three years of four lack it.
    """
    if text == LEAP_DAY:
        remedy = "Choose February 28 or March 1."
        raise Refused(field, "Most years have no February 29.", remedy)
    try:
        day = date.fromisoformat(f"2001-{text if _MONTH_DAY.fullmatch(text) else ''}")
    except ValueError:
        remedy = "Write the month and the day, for example 03-15."
        raise Refused(field, f"“{text}” is no day of the year.", remedy) from None
    return MonthDay(day.month, day.day)


def window_in(year: int, *, first: MonthDay, last: MonthDay, over_new_year: bool = False) -> Window:
    """Find the days of a window in a year.

    Parameters
    ----------
    year : int
        The year that the window begins in. [-]
    first : MonthDay
        Its first day. [-]
    last : MonthDay
        Its last day, included. [-]
    over_new_year : bool
        Whether it is meant to go on into the next year. [-]

    Returns
    -------
    Window
        The days. [-]

    Raises
    ------
    Refused
        If it ends before it begins and nobody said that it goes over the new year, or
        would be longer than a year.

    References
    ----------
    Our own rule: what may be a slip of the hand is asked about.
    """
    begins, ends = first.in_year(year), last.in_year(year + int(over_new_year))
    if ends < begins:
        problem = "The last day lies before the first."
        remedy = "Correct one of the two, or say that it goes on into the next year."
        raise Refused("to_day", problem, remedy)
    if over_new_year and last.in_year(year) >= begins:
        problem = "This window would be longer than a year."
        remedy = "Take back that it goes on into the next year, or correct the days."
        raise Refused("over_new_year", problem, remedy)
    return Window(begins, ends)
