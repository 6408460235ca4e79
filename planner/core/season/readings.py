"""What was read at a station, day by day, and what is missing between. °C and °C day."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date, timedelta

from planner.core.season.degree_days import Scale, degree_days_of

_DAY = timedelta(days=1)


@dataclass(frozen=True)
class Reading:
    """What was read on a day; None is what nobody read."""

    on: date
    high_c: float | None = None
    low_c: float | None = None
    soil_c: float | None = None


@dataclass(frozen=True)
class CountedDay:
    """One day on which degree days were counted: its own, and all until then."""

    reading: Reading
    degree_days: float
    total: float


@dataclass(frozen=True)
class Count:
    """Degree days from a day on, as far as every day is known.

    ``missing`` are days that nobody read, though a later one was read. No total is known
    from the first of them on.
    """

    since: date
    days: tuple[CountedDay, ...]
    missing: tuple[date, ...]

    @property
    def total(self) -> float:
        """All degree days as far as they are known."""
        return self.days[-1].total if self.days else 0.0

    @property
    def known_until(self) -> date | None:
        """The last day that could be counted, None before there is one."""
        return self.days[-1].reading.on if self.days else None

    def first_day_at(self, degree_days: float) -> date | None:
        """The first day on which so many were reached; None where it is not known to be."""
        reached = (day.reading.on for day in self.days if day.total >= degree_days)
        return next(reached, None)


def counted(readings: Iterable[Reading], *, scale: Scale, since: date, until: date) -> Count:
    """Add up the degree days from one day to another.

    Parameters
    ----------
    readings : Iterable[Reading]
        What was read, in any order. [°C]
    scale : Scale
        The base, the formula and its upper temperature. [°C]
    since : date
        The day to begin with. [-]
    until : date
        The last day. [-]

    Returns
    -------
    Count
        Each day with the total until then, up to the first day that nobody read. [°C day]

    Raises
    ------
    Refused
        If the highest temperature of a day is below the lowest.

    References
    ----------
    See ``degree_days_of``. Our own rule: a day that nobody read is unknown, not cold, so
    nothing is known after it.
    """
    read = _complete(readings, since=since, until=until)
    last = max(read, default=since - _DAY)
    missing = tuple(day for day in _days(since, last) if day not in read)
    stop = missing[0] if missing else last + _DAY
    days: list[CountedDay] = []
    total = 0.0
    for day in _days(since, stop - _DAY):
        high_c, low_c = read[day]
        added = degree_days_of(high_c=high_c, low_c=low_c, scale=scale)
        total += added
        days.append(CountedDay(Reading(day, high_c, low_c), added, total))
    return Count(since, tuple(days), missing)


@dataclass(frozen=True)
class SoilRule:
    """Soil that has risen, or fallen, to a temperature and kept it for some days."""

    at_c: float
    days: int
    is_falling: bool = False

    def holds(self, soil_c: float) -> bool:
        """Whether a reading is warm, or cool, enough."""
        return soil_c <= self.at_c if self.is_falling else soil_c >= self.at_c


@dataclass(frozen=True)
class Held:
    """Whether soil kept a temperature: the day it was so, and what is not known.

    ``run`` is how many days it has kept it by the last reading. ``missing`` are days that
    nobody read and that could have made it so earlier, or already.
    """

    reached_on: date | None
    run: int
    known_until: date | None
    missing: tuple[date, ...]


def held(readings: Iterable[Reading], *, rule: SoilRule, since: date, until: date) -> Held:
    """Find when soil had kept a temperature for as many days as asked.

    Parameters
    ----------
    readings : Iterable[Reading]
        What was read, in any order. [°C]
    rule : SoilRule
        The temperature, the way it is reached and the days. [°C]
    since : date
        The day to begin with. [-]
    until : date
        The last day. [-]

    Returns
    -------
    Held
        The first day on which it had, as far as somebody read. [-]

    Raises
    ------
    Nothing
        What nobody read is named.

    References
    ----------
    The days are in a row, as in Ohio State University Extension, Crabgrass prevention in
    your lawn, April 7, 2023 (54 °F for seven days). Our own rule: a day that nobody read
    ends the row, and is not taken for a cold one either.
    """
    read = {
        each.on: each.soil_c
        for each in readings
        if each.soil_c is not None and since <= each.on <= until
    }
    last = max(read, default=None)
    run, missing = 0, []
    for day in () if last is None else _days(since, last):
        soil_c = read.get(day)
        if soil_c is None:
            missing.append(day)
        run = run + 1 if soil_c is not None and rule.holds(soil_c) else 0
        if run == rule.days:
            return Held(day, run, last, tuple(missing))
    return Held(None, run, last, tuple(missing))


def _complete(
    readings: Iterable[Reading], *, since: date, until: date
) -> Mapping[date, tuple[float, float]]:
    return {
        each.on: (each.high_c, each.low_c)
        for each in readings
        if each.high_c is not None and each.low_c is not None and since <= each.on <= until
    }


def _days(first: date, last: date) -> Iterable[date]:
    return (first + timedelta(days=n) for n in range((last - first).days + 1))
