"""A year as a calendar of bars, and what it leaves of a limit as a bar in three parts."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Any

from planner.selectors.seasons import Window

#: Units of the picture a day, so that a month has room for its name.
PER_DAY = 3
ROW, BAR, TOP, FOOT = 46, 18, 24, 6
#: A name is written to the left of the end of a bar that begins later than this.
TURNS_AT = 0.8
ROOM_WIDTH, ROOM_HEIGHT, STRIPE = 300, 22, 6


@dataclass(frozen=True)
class Bar:
    """One window of the calendar: what it is called, how it looks, what it says."""

    name: str
    window: Window
    look: str
    words: str


def calendar(bars: Iterable[Bar], year: int, *, today: date) -> dict[str, Any] | None:
    """Lay out the bars of a year, one below the other; nothing where there are none."""
    rows = list(bars)
    if not rows:
        return None
    first, last = date(year, 1, 1), max(date(year, 12, 31), *(each.window.last for each in rows))
    width = PER_DAY * ((last - first).days + 1)
    return {
        "width": width,
        "height": TOP + ROW * len(rows) + FOOT,
        "months": _months(first, last),
        "bars": [_bar(each, n, first, width) for n, each in enumerate(rows)],
        "today": _x(today, first) if first <= today <= last else None,
        "looks": sorted({each.look for each in rows}),
    }


def _months(first: date, last: date) -> list[dict[str, Any]]:
    found, day = [], first
    while day <= last:
        found.append({"x": _x(day, first), "name": f"{day:%b}", "line": _x(day, first)})
        day = (day.replace(day=1) + timedelta(days=32)).replace(day=1)
    return found


def _bar(bar: Bar, row: int, first: date, width: int) -> dict[str, Any]:
    x = _x(bar.window.first, first)
    turned = x > width * TURNS_AT
    size = PER_DAY * bar.window.days
    return {
        "name": bar.name,
        "look": bar.look,
        "words": bar.words,
        "x": x,
        "y": TOP + ROW * row + ROW - BAR - 4,
        "width": size,
        "height": BAR,
        "text_x": x + size if turned else x,
        "text_y": TOP + ROW * row + ROW - BAR - 10,
        "anchor": "end" if turned else "start",
    }


def _x(day: date, first: date) -> int:
    return PER_DAY * (day - first).days


def room_bar(used: float | None, planned: float | None, *, limit: float) -> dict[str, Any] | None:
    """Lay out what is used and what is planned of a limit; nothing where it is not known."""
    if used is None or planned is None:
        return None
    whole = max(limit, used + planned) or 1.0
    scale = ROOM_WIDTH / whole
    start, size = round(used * scale), round(planned * scale)
    return {
        "width": ROOM_WIDTH,
        "height": ROOM_HEIGHT,
        "used": start,
        "planned": size,
        "planned_x": start,
        "limit": round(limit * scale),
        "stripes": list(range(start + 1, start + size - STRIPE, 2 * STRIPE)),
    }
