"""What a label allows on one piece of ground: each time, in a year, how often, how soon.

Rates are L/m² or kg/m² of ground. Days are whole, and the day of an application is day 0.
"""

from dataclasses import dataclass, field
from datetime import date, timedelta
from enum import StrEnum

from properties.core.units import Quantity


class YearKind(StrEnum):
    """When the year of a yearly limit begins."""

    CALENDAR = "calendar"
    ROLLING = "rolling"
    SEASON = "season"


@dataclass(frozen=True)
class MonthDay:
    """A day that every year has; February 29 is none."""

    month: int = 1
    day: int = 1

    def in_year(self, year: int) -> date:
        """The day of one year."""
        return date(year, self.month, self.day)

    def next_after(self, day: date) -> date:
        """The first such day after a day."""
        this_year = self.in_year(day.year)
        return this_year if day < this_year else self.in_year(day.year + 1)

    def __str__(self) -> str:
        return f"{self.month:02}-{self.day:02}"


NEW_YEAR = MonthDay()
#: A leap day in between makes twelve months so long.
_DAYS_OF_A_YEAR = 366


def a_year_after(day: date) -> date:
    """Find the day on which twelve months are over.

    Parameters
    ----------
    day : date
        Any day. [-]

    Returns
    -------
    date
        The same day of the next year; March 1 for February 29, the later of the two
        days that could be meant. [-]

    Raises
    ------
    Nothing
        Every day has one.

    References
    ----------
    Our own rule: the safe side.
    """
    if (day.month, day.day) == (2, 29):
        return date(day.year + 1, 3, 1)
    return day.replace(year=day.year + 1)


@dataclass(frozen=True)
class Year:
    """The year that a yearly limit is counted in."""

    kind: YearKind = YearKind.CALENDAR
    season_from: MonthDay = NEW_YEAR

    def counts(self, applied_on: date, *, on: date) -> bool:
        """Whether an application still counts against the limit on a day."""
        return applied_on <= on < self.released_on(applied_on)

    def released_on(self, applied_on: date) -> date:
        """The first day on which an application counts no more."""
        if self.kind is YearKind.ROLLING:
            return a_year_after(applied_on)
        begins = self.season_from if self.kind is YearKind.SEASON else NEW_YEAR
        return begins.next_after(applied_on)

    def first_day(self, on: date) -> date:
        """The first day of the year that a day lies in."""
        if self.kind is YearKind.ROLLING:
            return on - timedelta(days=_DAYS_OF_A_YEAR)
        begins = self.season_from if self.kind is YearKind.SEASON else NEW_YEAR
        this_year = begins.in_year(on.year)
        return this_year if this_year <= on else begins.in_year(on.year - 1)

    @property
    def words(self) -> str:
        """The year inside a sentence."""
        return {
            YearKind.CALENDAR: "in a calendar year",
            YearKind.ROLLING: "in twelve months",
            YearKind.SEASON: f"in a season from {self.season_from}",
        }[self.kind]


CALENDAR_YEAR = Year()


@dataclass(frozen=True)
class UseLimits:
    """The most that one piece of ground may get of something. What is None nobody copied."""

    per_application: Quantity | None = None
    per_year: Quantity | None = None
    year: Year = CALENDAR_YEAR
    uses_per_year: int | None = None
    interval_days: int | None = None

    @property
    def needs_history(self) -> bool:
        """Whether it matters what the ground has had before."""
        told = (self.per_year, self.uses_per_year, self.interval_days)
        return any(limit is not None for limit in told)

    @property
    def is_set(self) -> bool:
        """Whether anything is limited."""
        return self.needs_history or self.per_application is not None

    def looks_back_to(self, on: date) -> date:
        """The first day whose applications matter on a day."""
        days = [on]
        if self.per_year is not None or self.uses_per_year is not None:
            days.append(self.year.first_day(on))
        if self.interval_days:
            days.append(on - timedelta(days=self.interval_days - 1))
        return min(days)

    def open_again_on(self, applied_on: date) -> date:
        """The first day on which the interval since an application is over."""
        return applied_on + timedelta(days=self.interval_days or 0)


@dataclass(frozen=True)
class ActiveIngredient:
    """What works in a product, how much of it is in there, and what its label allows of it.

    ``content`` is weight per volume of the product, or a share of its weight; so is
    ``acid_equivalent``, which a label gives beside it. The limits count the content,
    whatever product it came in.
    """

    name: str
    content: Quantity
    limits: UseLimits = field(default_factory=UseLimits)
    acid_equivalent: Quantity | None = None


@dataclass(frozen=True)
class SeedingWait:
    """Days that a label asks for between an application and sowing, either way round."""

    after_days: int | None = None
    before_days: int | None = None
