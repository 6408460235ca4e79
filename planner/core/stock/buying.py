"""The buying list: what to buy by when, so that the stock is never short of the upper need.

Amounts in L or kg, money in the firm's currency.
"""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta
from decimal import Decimal
from enum import StrEnum
from functools import reduce
from itertools import groupby

from planner.core.stock.containers import SAME_AMOUNT
from planner.core.stock.covering import Bought, Offer, containers_for, cost_of, size_of
from planner.core.stock.lots import LotInStock, taken_from
from planner.core.stock.needs import Need, Running, Total, total_of


class Period(StrEnum):
    """How long a time one line of the list is for."""

    WEEK = "week"
    MONTH = "month"

    def first_day(self, day: date) -> date:
        """The day on which the period of a day begins: Monday, or the first of the month."""
        if self is Period.WEEK:
            return day - timedelta(days=day.weekday())
        return day.replace(day=1)


@dataclass(frozen=True)
class Line:
    """One period of one product.

    ``planned`` is what its jobs need by themselves, ``more`` by how much the upper end of all
    that is needed so far grows. That is drawn ``from_stock``, then ``from_bought`` before; the
    rest is ``short``. ``first_short_on`` is the first day that would be short.
    """

    first_day: date
    planned: Total
    more: float
    from_stock: float
    from_bought: float
    short: float
    first_short_on: date | None
    buy: tuple[Bought, ...]
    left_over: float

    @property
    def cost(self) -> Decimal | None:
        """What it costs; None where a price is not known."""
        return cost_of(self.buy)

    @property
    def order_by(self) -> date | None:
        """The last day to order it; None where a lead time is not known."""
        days = [each.offer.lead_days for each in self.buy]
        if self.first_short_on is None or not days or None in days:
            return None
        return self.first_short_on - timedelta(days=max(day for day in days if day is not None))


@dataclass(frozen=True)
class Unused:
    """What is left of a lot on its last day, if the jobs need what is planned."""

    lot: LotInStock
    amount: float


@dataclass(frozen=True)
class BuyingList:
    """All lines of one product, and what else to know before buying.

    ``at_once`` is what one order for all lines together would be. ``uncovered`` is what is
    short where no container of the product is known.
    """

    lines: tuple[Line, ...]
    total: Total
    at_once: tuple[Bought, ...]
    expiring: tuple[Unused, ...]
    uncovered: float

    @property
    def cost(self) -> Decimal | None:
        """What all lines cost; None where a price is not known."""
        return cost_of([each for line in self.lines for each in line.buy])

    @property
    def saved_at_once(self) -> Decimal | None:
        """How much less one order for all costs; None where a price is not known."""
        each, once = self.cost, cost_of(self.at_once)
        return None if each is None or once is None else each - once


@dataclass(frozen=True)
class _Step:
    """A day with work, and how much more the upper end of the need is than before."""

    on: date
    more: float


def buying_list(
    needs: Sequence[Need],
    *,
    lots: Sequence[LotInStock],
    offers: Sequence[Offer],
    period: Period,
) -> BuyingList:
    """Work out what to buy of one product.

    Day by day the upper end of all that was needed so far is drawn from the stock, the first
    to expire first and nothing that has expired; then from what is left of earlier purchases;
    what remains is short. Each period buys what it is short of, in whole containers, and
    hands what is left over on.

    Parameters
    ----------
    needs : Sequence of Need
        What the planned jobs need of the product. [L or kg]
    lots : Sequence of LotInStock
        What is there of it. [L or kg]
    offers : Sequence of Offer
        The sizes that can be bought; none where nobody entered one. [L or kg]
    period : Period
        How long a time one line is for. [-]

    Returns
    -------
    BuyingList
        A line for each period with jobs. [L or kg, currency]

    Raises
    ------
    Refused
        If it would take more containers than anybody orders.

    References
    ----------
    Our own rule: the upper end of the band is covered, so that 97.5 times in 100 nobody
    stands on a lawn with an empty jug.
    """
    in_order = sorted(needs, key=lambda need: need.on)
    shelf = _without_owed(lots, in_order)
    lines: list[Line] = []
    spare = 0.0
    for first_day, steps in groupby(_steps(in_order), key=lambda step: period.first_day(step.on)):
        drawn = reduce(_Drawn.after, steps, _Drawn(shelf, spare))
        buy = containers_for(drawn.short, offers) if offers else ()
        own = [need for need in in_order if period.first_day(need.on) == first_day]
        shelf, spare = drawn.shelf, drawn.spare + (size_of(buy) - drawn.short if buy else 0.0)
        lines.append(
            Line(
                first_day,
                total_of(own),
                more=drawn.more,
                from_stock=drawn.from_stock,
                from_bought=drawn.from_bought,
                short=drawn.short,
                first_short_on=drawn.since,
                buy=buy,
                left_over=spare,
            )
        )
    short = math.fsum(line.short for line in lines)
    return BuyingList(
        tuple(lines),
        total_of(in_order),
        at_once=containers_for(short, offers) if offers else (),
        expiring=tuple(_expiring(in_order, lots)),
        uncovered=0.0 if offers else short,
    )


@dataclass(frozen=True)
class _Drawn:
    """What a period draws and leaves: on the shelf, spare, and what it was short of since when."""

    shelf: Sequence[LotInStock]
    spare: float
    more: float = 0.0
    from_stock: float = 0.0
    from_bought: float = 0.0
    short: float = 0.0
    since: date | None = None

    def after(self, step: _Step) -> "_Drawn":
        """Draw a day from the shelf, then from what is spare."""
        shelf, beyond = _taken(self.shelf, step.more, on=step.on)
        from_spare = min(self.spare, beyond)
        missing = beyond - from_spare
        is_short = missing > step.more * SAME_AMOUNT
        return _Drawn(
            shelf,
            self.spare - from_spare,
            self.more + step.more,
            self.from_stock + step.more - beyond,
            self.from_bought + from_spare,
            self.short + (missing if is_short else 0.0),
            self.since or (step.on if is_short else None),
        )


def _steps(in_order: Sequence[Need]) -> Iterator[_Step]:
    """The upper end of the need so far, as it grows: it is never taken back."""
    reached, running = 0.0, Running()
    for on, group in groupby(in_order, key=lambda need: need.on):
        for need in group:
            running.add(need)
        highest = running.total.highest
        yield _Step(on, max(0.0, highest - reached))
        reached = max(reached, highest)


def _without_owed(lots: Sequence[LotInStock], in_order: Sequence[Need]) -> Sequence[LotInStock]:
    """Take what some shelf is below zero from the others: it was loaded from one of them."""
    owed = -math.fsum(lot.amount for lot in lots if lot.amount < 0)
    return _taken(lots, owed, on=in_order[0].on)[0] if owed and in_order else lots


def _taken(
    lots: Sequence[LotInStock], amount: float, *, on: date
) -> tuple[Sequence[LotInStock], float]:
    """Take an amount off the shelf: what remains there, and what was not there."""
    taken = taken_from(lots, amount, on=on)
    parts = {take.shelf: take.amount for take in taken.takes}
    rest = [replace(lot, amount=lot.amount - parts.get(lot.shelf, 0.0)) for lot in lots]
    return rest, taken.beyond


def _expiring(in_order: Sequence[Need], lots: Sequence[LotInStock]) -> Iterator[Unused]:
    """What of each lot the planned amounts leave over when it expires."""
    if not in_order:
        return
    shelf = lots
    for need in in_order:
        shelf, _ = _taken(shelf, need.amount, on=need.on)
    for before, after in zip(lots, shelf, strict=True):
        if after.amount > 0 and after.is_expired(in_order[-1].on):
            yield Unused(before, after.amount)
