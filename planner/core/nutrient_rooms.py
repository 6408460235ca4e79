"""What a piece of ground has had of each nutrient, and what it may still get. Rates in kg/m²."""

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta

from planner.core.label.labels import SAME_NUMBER
from planner.core.limits.calendar import blackout_closures, first_open_day
from planner.core.limits.faces import Piece
from planner.core.limits.standing import Closure, Why
from planner.core.mix.products import Product
from planner.core.nutrient.limits import NutrientLimit, NutrientRules, Per
from planner.core.nutrient.nutrients import Fertilizer, Grade, Nutrient
from planner.core.past import Past, PastApplication
from planner.core.shown import day_said
from properties.core.units import Quantity

#: What a grade counts, each with what a limit on it may be written for.
COUNTED = {
    Nutrient.N: (Nutrient.N, Nutrient.SOLUBLE_N),
    Nutrient.P2O5: (Nutrient.P2O5, Nutrient.P),
    Nutrient.K2O: (Nutrient.K2O, Nutrient.K),
}
_ALONE = {
    Nutrient.N: Grade(100, 0, 0),
    Nutrient.P2O5: Grade(0, 100, 0),
    Nutrient.K2O: Grade(0, 0, 100),
}


@dataclass(frozen=True)
class LimitRoom:
    """One limit on some ground: what counts against it, and what it leaves.

    ``had`` and ``room`` are None where nobody knows. ``full_on`` is the first day on which
    nothing counts any more, None where nothing does now.
    """

    limit: NutrientLimit
    counted: tuple[PastApplication, ...]
    had: float | None
    lifted: bool
    full_on: date | None

    @property
    def room(self) -> float | None:
        """What may still go down, never below 0."""
        return None if self.had is None else max(0.0, self.limit.at_most.si - self.had)


@dataclass(frozen=True)
class NutrientRoom:
    """A nutrient on some ground: what it has had this year, its limits, the day it opens."""

    nutrient: Nutrient
    counted: tuple[PastApplication, ...]
    had: float | None
    limits: tuple[LimitRoom, ...]
    closures: tuple[Closure, ...]
    open_on: date | None


def nutrient_rooms(
    rules: NutrientRules, piece: Piece, past: Past, *, on: date
) -> tuple[NutrientRoom, ...]:
    """Work out what a piece of ground may still get of nitrogen, phosphate and potash.

    Parameters
    ----------
    rules : NutrientRules
        What limits nutrients at the place. [kg/m²]
    piece : Piece
        The ground with what it has had. [m]
    past : Past
        From when its past is known, and the blackouts. [-]
    on : date
        The day that is asked about. [-]

    Returns
    -------
    tuple[NutrientRoom, ...]
        Each of the three. [kg/m²]

    Raises
    ------
    Nothing
        What nobody knows is None.

    References
    ----------
    The limits name their own. Our own rules: a nutrient is closed while some limit leaves
    nothing of it, and unknown is not zero.
    """
    ground = _Ground(rules, piece.applications, past, on)
    return tuple(ground.room_of(nutrient) for nutrient in COUNTED)


@dataclass(frozen=True)
class _Ground:
    rules: NutrientRules
    applications: Sequence[PastApplication]
    past: Past
    on: date

    def room_of(self, nutrient: Nutrient) -> NutrientRoom:
        limits = replace(self.rules, on=self.on).holding
        closures = tuple(self._closures(nutrient, self.on))
        counted = self._counted(Per.YEAR, nutrient, self.on)
        return NutrientRoom(
            nutrient,
            counted,
            self._had(Per.YEAR, nutrient, counted, self.on),
            tuple(self._limit(each) for each in limits if each.nutrient in COUNTED[nutrient]),
            closures,
            first_open_day(lambda day: tuple(self._closures(nutrient, day)), on=self.on),
        )

    def _limit(self, limit: NutrientLimit) -> LimitRoom:
        counted = self._counted(limit.per, limit.nutrient, self.on)
        return LimitRoom(
            limit,
            counted,
            self._had(limit.per, limit.nutrient, counted, self.on),
            lifted=replace(self.rules, on=self.on).is_lifted(limit),
            full_on=max((over_on(limit.per, each.applied_on) for each in counted), default=None),
        )

    def _counted(self, per: Per, nutrient: Nutrient, day: date) -> tuple[PastApplication, ...]:
        """What counts on a day; what certainly holds none of the nutrient does not."""
        return tuple(
            each
            for each in self.applications
            if per.counts(each.applied_on, on=day) and each.nutrient(nutrient) != 0
        )

    def _had(
        self, per: Per, nutrient: Nutrient, counted: Iterable[PastApplication], day: date
    ) -> float | None:
        since = self.past.since
        is_known = self.past.history is not None and (
            since is None or since <= per.first_day(min(day, self.on))
        )
        amounts = [each.nutrient(nutrient) for each in counted]
        known = [amount for amount in amounts if amount is not None]
        if len(known) < len(amounts) or (per.counts_back and not is_known):
            return None
        return math.fsum(known)

    def _closures(self, nutrient: Nutrient, day: date) -> Iterator[Closure]:
        alone = Fertilizer(_ALONE[nutrient], slow_release=Quantity(0, "%"))
        feed = Product(nutrient.value, Quantity(1, "g/m2"), fertilizer=alone)
        yield from blackout_closures(self.past.blackouts, [feed], on=day)
        rules = replace(self.rules, on=day)
        for limit in rules.holding:
            closes = limit.nutrient in COUNTED[nutrient] and not rules.is_lifted(limit)
            # Nitrogen that is released slowly may go down where soluble nitrogen may not.
            needs_slow = limit.nutrient is Nutrient.SOLUBLE_N or limit.least_slow_release
            if closes and not needs_slow:
                yield from self._full(limit, day)

    def _full(self, limit: NutrientLimit, day: date) -> Iterator[Closure]:
        counted = self._counted(limit.per, limit.nutrient, day)
        had = self._had(limit.per, limit.nutrient, counted, day)
        if had is None or had < limit.at_most.si * (1 - SAME_NUMBER):
            return
        ends = [over_on(limit.per, each.applied_on) for each in counted]
        if limit.last_day is not None:
            ends.append(limit.last_day + timedelta(days=1))
        again_on = min(ends, default=None)
        until = "" if again_on is None else f" until {day_said(again_on - timedelta(days=1))}"
        reason = f"{limit.at_most} of {limit.nutrient} per {limit.per} leave none{until}"
        yield Closure(Why.FULL, f"{reason} ({limit.origin})", again_on)


def over_on(per: Per, applied_on: date) -> date:
    """Find the first day on which an application no longer counts.

    Parameters
    ----------
    per : Per
        What a limit is for: a year, a month or 30 days. [-]
    applied_on : date
        The day of the application. [-]

    Returns
    -------
    date
        The day. [-]

    Raises
    ------
    Nothing
        Every such span ends.

    References
    ----------
    By definition: a calendar year and a calendar month end with their last day, 30 days
    with the 30th, the first day counted.
    """
    if per is Per.YEAR:
        return date(applied_on.year + 1, 1, 1)
    if per is Per.MONTH:
        return (applied_on.replace(day=1) + timedelta(days=31)).replace(day=1)
    return applied_on + timedelta(days=30)
