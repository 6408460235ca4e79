"""Where one piece of ground stands against one limit on a day.

Amounts in L or kg per m².
"""

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from enum import StrEnum

from planner.core.label.labels import SAME_NUMBER
from planner.core.label.limits import UseLimits
from planner.core.limits.ceilings import Ceiling
from planner.core.past import PastApplication
from planner.core.shown import day_said


class Why(StrEnum):
    """Why ground is closed on a day."""

    INTERVAL = "interval"
    USES = "uses"
    FULL = "full"
    BLACKOUT = "blackout"
    SEEDED = "seeded"
    TO_BE_SEEDED = "to_be_seeded"


@dataclass(frozen=True)
class Closure:
    """Why ground is closed, in words, and the first day on which this is over, if ever."""

    why: Why
    reason: str
    open_again_on: date | None


@dataclass(frozen=True)
class Standing:
    """What ground has received of something, and what it may still get.

    ``counted`` are the applications that count in the year of the limit. ``received`` is
    None where nobody knows what one of them contained. ``room`` is None where that is
    not known, or nothing is limited in a year; it is never below 0.
    """

    ceiling: Ceiling
    counted: tuple[PastApplication, ...]
    last_on: date | None
    received: float | None
    room: float | None
    closures: tuple[Closure, ...]

    @property
    def uses(self) -> int:
        """How many applications count in the year."""
        return len(self.counted)

    @property
    def most_now(self) -> float:
        """The most that may be put down at once; without end where nothing is known."""
        each = self.ceiling.limits.per_application
        return min(
            math.inf if self.room is None else self.room,
            math.inf if each is None else each.si,
        )


def standing_of(ceiling: Ceiling, applications: Iterable[PastApplication], *, on: date) -> Standing:
    """Work out where ground stands against a limit on a day.

    Parameters
    ----------
    ceiling : Ceiling
        The limit. [L or kg/m²]
    applications : Iterable[PastApplication]
        Everything that the ground has had, in any order. [L or kg/m²]
    on : date
        The day that is asked about; later applications are left out. [-]

    Returns
    -------
    Standing
        What was received, the room left, and what closes the ground. [L or kg/m²]

    Raises
    ------
    Nothing
        What nobody knows is None.

    References
    ----------
    The label. Our own rules: the day of an application is day 0, ground is open again
    once the days since are the interval; room too small for the lowest rate is none.
    """
    limits = ceiling.limits
    ever = [each for each in applications if each.applied_on <= on and ceiling.counts(each)]
    ever.sort(key=lambda each: (each.applied_on, each.ref))
    counted = _counted(limits, ever, on)
    received, room = _received(ceiling, counted), None
    if limits.per_year is not None and received is not None:
        room = max(0.0, limits.per_year.si - received)
    last_on = ever[-1].applied_on if ever else None
    closures = tuple(_closures(ceiling, ever, room, on))
    return Standing(ceiling, counted, last_on, received, room, closures)


def _counted(
    limits: UseLimits, applications: Iterable[PastApplication], on: date
) -> tuple[PastApplication, ...]:
    return tuple(each for each in applications if limits.year.counts(each.applied_on, on=on))


def _received(ceiling: Ceiling, applications: Iterable[PastApplication]) -> float | None:
    amounts = [ceiling.amount_in(each) for each in applications]
    known = [amount for amount in amounts if amount is not None]
    return math.fsum(known) if len(known) == len(amounts) else None


def _closures(
    ceiling: Ceiling, ever: Sequence[PastApplication], room: float | None, on: date
) -> Iterator[Closure]:
    limits, what = ceiling.limits, ceiling.what
    if limits.interval_days is not None and ever:
        last_on = ever[-1].applied_on
        again_on = limits.open_again_on(last_on)
        if on < again_on:
            days = (on - last_on).days
            reason = (
                f"{what}: {_days(days)} since {day_said(last_on)}, and the label wants "
                f"{_days(limits.interval_days)} between two applications"
            )
            yield Closure(Why.INTERVAL, reason, again_on)
    counted = _counted(limits, ever, on)
    if limits.uses_per_year is not None and len(counted) >= limits.uses_per_year:
        reason = (
            f"{what}: {_times(len(counted))} already, and the label allows "
            f"{limits.uses_per_year} {limits.year.words}"
        )
        yield Closure(Why.USES, reason, _when_fewer(limits, counted))
    if room is not None and not is_worth(ceiling, room):
        yield Closure(Why.FULL, _full(ceiling, room), _when_roomier(ceiling, counted))


def is_worth(ceiling: Ceiling, room: float) -> bool:
    """Whether room is enough for the lowest rate of the label; where unknown, for anything.

    Parameters
    ----------
    ceiling : Ceiling
        The limit. [L or kg/m²]
    room : float
        What is left, ≥ 0. [L or kg/m²]

    Returns
    -------
    bool
        Whether something may be put down. [-]

    Raises
    ------
    Nothing
        Any room will do.

    References
    ----------
    The label’s lowest rate.
    """
    per_year = ceiling.limits.per_year
    least = ceiling.lowest or (per_year.si * SAME_NUMBER if per_year else 0.0)
    return room >= least * (1 - SAME_NUMBER)


def _full(ceiling: Ceiling, room: float) -> str:
    limits = ceiling.limits
    allowed = f"the label allows {limits.per_year} {limits.year.words}"
    left = "nothing is left" if not room else "what is left is less than its lowest rate"
    return f"{ceiling.what}: {allowed}, and {left}"


def _when_fewer(limits: UseLimits, counted: Sequence[PastApplication]) -> date:
    """The day on which enough applications count no more for one to be added."""
    released = sorted(limits.year.released_on(each.applied_on) for each in counted)
    allowed = limits.uses_per_year or 1
    return released[len(released) - allowed]


def _when_roomier(ceiling: Ceiling, counted: Sequence[PastApplication]) -> date | None:
    """The day on which enough applications count no more to leave room; None if never."""
    limits = ceiling.limits
    most = limits.per_year.si if limits.per_year else math.inf
    for day in sorted({limits.year.released_on(each.applied_on) for each in counted}):
        still = [each for each in counted if day < limits.year.released_on(each.applied_on)]
        received = _received(ceiling, still) or 0.0
        if is_worth(ceiling, most - received):
            return day
    return None


def _days(number: int) -> str:
    return "1 day" if number == 1 else f"{number} days"


def _times(number: int) -> str:
    return "put down once" if number == 1 else f"put down {number} times"
