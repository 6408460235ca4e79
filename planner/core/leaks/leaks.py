"""Where money is leaking: what was quoted, against what was planned, against what was used.

Money in the firm's currency, areas in m².
"""

import math
from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from decimal import Decimal
from enum import StrEnum

from planner.core.calibration.spread import t_of_95_percent
from planner.core.money import ZERO, cents, decimal_of

TIME = "time"
MINUTES_PER_HOUR = 60
#: With fewer visits than this a group is told to be small, whatever its band.
FEW_VISITS = 5


class Step(StrEnum):
    """Where along the way a difference arose."""

    QUOTE = "quote"
    WORK = "work"


@dataclass(frozen=True)
class Stage:
    """What one visit costs at one stage, as far as somebody knows.

    ``material`` is money by product; a product that is not in it is not known. ``time`` and
    ``area_m2`` are None where nobody knows.
    """

    material: Mapping[str, Decimal] = field(default_factory=dict)
    time: Decimal | None = None
    area_m2: float | None = None

    def of(self, what: str) -> Decimal | None:
        """The money for one product, or for the time."""
        return self.time if what == TIME else self.material.get(what)


NOTHING_KNOWN = Stage()


@dataclass(frozen=True)
class Visit:
    """One visit that was made, at its three stages."""

    key: int
    place: str
    crew: str
    quoted: Stage = NOTHING_KNOWN
    planned: Stage = NOTHING_KNOWN
    used: Stage = NOTHING_KNOWN

    @property
    def subjects(self) -> tuple[str, ...]:
        """Its products, as far as any stage knows of them, and its time."""
        stages = (self.quoted, self.planned, self.used)
        names = dict.fromkeys(name for stage in stages for name in stage.material)
        return (*names, TIME)


@dataclass(frozen=True)
class Comparison:
    """One product, or the time, of one visit at two stages. None is not recorded, and not zero."""

    visit: Visit
    what: str
    step: Step
    before: Decimal | None
    after: Decimal | None

    @property
    def money(self) -> Decimal | None:
        """How much more it is after than before; None where one of the two is not known."""
        if self.before is None or self.after is None:
            return None
        return self.after - self.before


@dataclass(frozen=True)
class Side:
    """All comparisons of one group at one step.

    ``money`` is None where nothing could be compared. ``half_width`` is how far the sum of as
    many visits may differ by chance alone; None for a single visit, of which nobody can tell.
    """

    before: Decimal
    money: Decimal | None
    visits: int
    not_recorded: int
    half_width: Decimal | None

    @property
    def percent(self) -> float | None:
        """The difference as a share of what it was before."""
        return (
            None if self.money is None or not self.before else float(100 * self.money / self.before)
        )

    @property
    def may_be_chance(self) -> bool:
        """Whether the difference is no larger than what comes and goes from visit to visit."""
        if self.money is None:
            return False
        return self.half_width is None or abs(self.money) <= self.half_width

    @property
    def is_small(self) -> bool:
        """Whether so few visits were compared that the next one may turn it round."""
        return 0 < self.visits < FEW_VISITS


@dataclass(frozen=True)
class Leak:
    """One property, product or crew: planned beyond the quote, and used beyond the plan."""

    group: str
    quote: Side
    work: Side

    @property
    def money(self) -> Decimal | None:
        """Both together, as far as they are known; None where neither is."""
        known = [each.money for each in (self.quote, self.work) if each.money is not None]
        return sum(known, ZERO) if known else None


class Grouping(StrEnum):
    """What leaks are added up by. The time stands beside the products."""

    PLACE = "property"
    WHAT = "product"
    CREW = "crew"

    def of(self, comparison: Comparison) -> str:
        """Name the group of a comparison."""
        if self is Grouping.WHAT:
            return comparison.what
        return comparison.visit.place if self is Grouping.PLACE else comparison.visit.crew


def time_cost(minutes: float, *, wage_per_hour: Decimal) -> Decimal:
    """Work out what time costs at the loaded wage.

    Parameters
    ----------
    minutes : float
        How long it took, ≥ 0. [min]
    wage_per_hour : Decimal
        Wage with taxes on it and insurance. [currency/h]

    Returns
    -------
    Decimal
        The cost to the cent, half up. [currency]

    Raises
    ------
    Nothing
        The arguments were checked at the door.

    References
    ----------
    Common practice, as in a price.
    """
    return cents(decimal_of(minutes, places=6) * wage_per_hour / MINUTES_PER_HOUR)


def comparisons_of(visits: Iterable[Visit]) -> tuple[Comparison, ...]:
    """Set the stages of visits side by side.

    Parameters
    ----------
    visits : Iterable of Visit
        Visits that were made. [currency]

    Returns
    -------
    tuple of Comparison
        Each product and the time of each visit, at both steps. [currency]

    Raises
    ------
    Nothing
        What is not known is told to be so.

    References
    ----------
    Our own rule.
    """
    return tuple(each for visit in visits for each in _comparisons(visit))


def leaks_by(grouping: Grouping, comparisons: Iterable[Comparison]) -> tuple[Leak, ...]:
    """Add comparisons up by property, product or crew, the largest leak first.

    The band of a sum is that of its visits: with ``s`` the standard deviation of the
    differences of ``n`` visits, the sum of ``n`` differs by ``t · s · √n`` from chance alone.

    Parameters
    ----------
    grouping : Grouping
        What to add up by. [-]
    comparisons : Iterable of Comparison
        Comparisons of visits. [currency]

    Returns
    -------
    tuple of Leak
        The groups by money, the largest first; those of which nothing is known last. [currency]

    Raises
    ------
    Nothing
        Nothing compared is nothing known.

    References
    ----------
    NIST/SEMATECH e-Handbook of Statistical Methods, section 1.3.5.2: confidence limits for
    the mean, here times n for the sum.
    """
    groups: dict[str, list[Comparison]] = defaultdict(list)
    for each in comparisons:
        groups[grouping.of(each)].append(each)
    leaks = [
        Leak(group, *(_side([each for each in rows if each.step is step]) for step in Step))
        for group, rows in groups.items()
    ]
    return tuple(sorted(leaks, key=_in_order))


def _comparisons(visit: Visit) -> Iterator[Comparison]:
    steps = ((Step.QUOTE, visit.quoted, visit.planned), (Step.WORK, visit.planned, visit.used))
    for step, before, after in steps:
        for what in visit.subjects:
            yield Comparison(visit, what, step, before.of(what), after.of(what))


def _side(rows: Sequence[Comparison]) -> Side:
    by_visit: dict[int, Decimal] = {}
    before, not_recorded = ZERO, set()
    for each in rows:
        money = each.money
        if money is None or each.before is None:
            not_recorded.add(each.visit.key)
            continue
        by_visit[each.visit.key] = by_visit.get(each.visit.key, ZERO) + money
        before += each.before
    money = sum(by_visit.values(), ZERO) if by_visit else None
    return Side(before, money, len(by_visit), len(not_recorded), _band(list(by_visit.values())))


def _band(differences: Sequence[Decimal]) -> Decimal | None:
    count = len(differences)
    if count < 2:
        return None
    told = [float(each) for each in differences]
    mean = math.fsum(told) / count
    variance = math.fsum((each - mean) ** 2 for each in told) / (count - 1)
    return decimal_of(t_of_95_percent(count - 1) * math.sqrt(count * variance), places=2)


def _in_order(leak: Leak) -> tuple[bool, Decimal, str]:
    return (leak.money is None, -(leak.money or ZERO), leak.group)
