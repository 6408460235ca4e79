"""Whether the window of a round is open on a day: by dates, by warm soil or by degree days."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta
from enum import StrEnum

from planner.core.season.degree_days import Scale
from planner.core.season.readings import Count, Held, Reading, SoilRule, counted, held
from planner.core.season.windows import Window
from planner.core.shown import day_said, listed

_DAY = timedelta(days=1)
MOST_NAMED = 4
#: Yesterday's readings come in today, over a weekend on Monday.
_FRESH = timedelta(days=3)


class State(StrEnum):
    """How a window stands on a day."""

    NOT_YET = "not_yet"
    OPEN = "open"
    OVER = "over"
    UNKNOWN = "unknown"


@dataclass(frozen=True)
class Opening:
    """A window on a day: how it stands, on which days to expect it, and why in words.

    ``count`` is the degree days that it went by, where it did.
    """

    state: State
    expected: Window
    words: str
    count: Count | None = None


@dataclass(frozen=True)
class SoilTrigger:
    """A window that soil of a temperature opens."""

    rule: SoilRule
    since: date


@dataclass(frozen=True)
class DegreeDayTrigger:
    """A window from some degree days to others."""

    scale: Scale
    since: date
    first: float
    last: float


Trigger = SoilTrigger | DegreeDayTrigger


def opening_of(
    usual: Window, trigger: Trigger | None, readings: Sequence[Reading], *, on: date
) -> Opening:
    """Find how a window stands on a day.

    Parameters
    ----------
    usual : Window
        Its dates; for a window that is opened by warmth, the usual ones. [-]
    trigger : Trigger or None
        What opens it, None where its dates do. [°C or °C day]
    readings : Sequence[Reading]
        What was read, in any order. [°C]
    on : date
        The day that is asked about. [-]

    Returns
    -------
    Opening
        How it stands, and the days to expect it on. [-]

    Raises
    ------
    Refused
        If the highest temperature of a day is below the lowest.

    References
    ----------
    Our own rule: usual dates stand until the readings tell; a gap in them leaves it unknown.
    """
    if trigger is None:
        return _by_dates(usual, on=on)
    if isinstance(trigger, SoilTrigger):
        found = held(readings, rule=trigger.rule, since=trigger.since, until=on)
        return _by_soil(usual, found, trigger.rule, on=on)
    count = counted(readings, scale=trigger.scale.check(), since=trigger.since, until=on)
    return _by_degree_days(usual, count, trigger, on=on)


def _by_dates(usual: Window, *, on: date) -> Opening:
    if on < usual.first:
        return Opening(State.NOT_YET, usual, f"opens on {day_said(usual.first)}")
    if on > usual.last:
        return Opening(State.OVER, usual, f"was over on {day_said(usual.last)}")
    return Opening(State.OPEN, usual, f"open until {day_said(usual.last)}")


def _by_soil(usual: Window, found: Held, rule: SoilRule, *, on: date) -> Opening:
    if found.reached_on is not None:
        window = _from(found.reached_on, usual)
        words = f"the soil had kept its temperature for {_days(rule.days)} on "
        words += day_said(found.reached_on)
        return Opening(State.OVER if on > window.last else State.OPEN, window, words)
    if found.known_until is None:
        return _unread(usual, "the soil", on=on)
    if found.missing:
        words = f"nobody read the soil on {_named(found.missing)}, so it is not known whether "
        words += f"it kept its temperature for {_days(rule.days)}"
        return Opening(State.UNKNOWN, usual, words)
    words = f"the soil has kept its temperature for {_days(found.run)} of {rule.days} by "
    words += day_said(found.known_until)
    return _not_yet(usual, words, known_until=found.known_until, on=on)


def _by_degree_days(usual: Window, count: Count, trigger: DegreeDayTrigger, *, on: date) -> Opening:
    if count.first_day_at(trigger.first) is not None:
        return _reached(usual, count, trigger, on=on)
    if count.missing:
        words = f"nobody read the temperatures of {_named(count.missing)}, so the degree days "
        words += "are not known"
        return Opening(State.UNKNOWN, usual, words, count)
    if count.known_until is None:
        return _unread(usual, "the temperatures", on=on)
    words = f"not warm enough by {day_said(count.known_until)}"
    opening = _not_yet(usual, words, known_until=count.known_until, on=on)
    return replace(opening, count=count)


def _reached(usual: Window, count: Count, trigger: DegreeDayTrigger, *, on: date) -> Opening:
    opened = count.first_day_at(trigger.first) or usual.first
    over = _passed(count, trigger.last)
    if over is not None:
        window = Window(opened, max(opened, over - _DAY))
        words = f"its degree days were passed on {day_said(over)}"
        return Opening(State.OVER, window, words, count)
    words = f"its degree days were reached on {day_said(opened)}"
    if count.missing:
        words += f"; nobody read {_named(count.missing)}, so it is not known whether they are over"
        return Opening(State.UNKNOWN, _from(opened, usual), words, count)
    if _is_stale(count.known_until, on=on):
        words += "; nothing was read since, so it is not known whether they are over"
        return Opening(State.UNKNOWN, _from(opened, usual), words, count)
    return Opening(State.OPEN, _from(opened, usual), words, count)


def _passed(count: Count, degree_days: float) -> date | None:
    return next((day.reading.on for day in count.days if day.total > degree_days), None)


def _unread(usual: Window, what: str, *, on: date) -> Opening:
    """Before anything was read the usual days stand; once they come it is unknown."""
    words = f"nobody has read {what} yet; usually {usual}"
    return Opening(State.NOT_YET if on < usual.first else State.UNKNOWN, usual, words)


def _not_yet(usual: Window, words: str, *, known_until: date, on: date) -> Opening:
    """Expect it on its usual days, later where they come before it can open."""
    if on >= usual.first and _is_stale(known_until, on=on):
        return Opening(State.UNKNOWN, usual, f"{words}; nothing was read since")
    earliest = known_until + _DAY
    expected = usual if earliest <= usual.first else _from(earliest, usual)
    return Opening(State.NOT_YET, expected, words)


def _is_stale(known_until: date | None, *, on: date) -> bool:
    return known_until is not None and on - known_until > _FRESH


def _from(first: date, usual: Window) -> Window:
    """As long as usual, from another day on."""
    return Window(first, first + timedelta(days=usual.days - 1))


def _named(days: Sequence[date]) -> str:
    runs: list[Window] = []
    for day in days:
        if runs and day - runs[-1].last == _DAY:
            runs[-1] = Window(runs[-1].first, day)
        else:
            runs.append(Window(day, day))
    named = [day_said(run.first) if run.days == 1 else str(run) for run in runs[:MOST_NAMED]]
    if len(runs) > MOST_NAMED:
        named.append(f"on {_days(sum(run.days for run in runs[MOST_NAMED:]))} more")
    return listed(named)


def _days(number: int) -> str:
    return "1 day" if number == 1 else f"{number} days"
