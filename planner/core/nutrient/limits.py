"""How much of a nutrient may go down: limits as data, and what a plan would come to.

Rates are kg/m² of the ground that a rate meets.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date, timedelta
from enum import StrEnum

from planner.core.label.labels import SAME_NUMBER
from planner.core.nutrient.nutrients import K_IN_K2O, P_IN_P2O5, Fertilizer, Nutrient
from properties.core.units import Quantity


class Per(StrEnum):
    """What a limit is for."""

    APPLICATION = "application"
    YEAR = "year"
    MONTH = "month"
    THIRTY_DAYS = "30 days"

    @property
    def counts_back(self) -> bool:
        """Whether it counts what the ground has had before."""
        return self is not Per.APPLICATION

    @property
    def span(self) -> str:
        """The time that it counts, in words."""
        return {Per.MONTH: "this month", Per.THIRTY_DAYS: "within 30 days"}.get(self, "this year")

    @property
    def of_span(self) -> str:
        """Of the time that it counts, in words."""
        return self.span if self is Per.THIRTY_DAYS else f"of {self.span}"

    def first_day(self, on: date) -> date:
        """The first day whose applications count on a day."""
        return {
            Per.APPLICATION: on,
            Per.YEAR: on.replace(month=1, day=1),
            Per.MONTH: on.replace(day=1),
            Per.THIRTY_DAYS: on - timedelta(days=_THIRTY - 1),
        }[self]

    def counts(self, applied_on: date, *, on: date) -> bool:
        """Whether an application of a day shares the span with another day, before or after."""
        earlier, later = sorted((applied_on, on))
        return self.counts_back and self.first_day(later) <= earlier


#: Two days share 30 days, both counted, where they are no more than 29 apart.
_THIRTY = 30


@dataclass(frozen=True)
class NutrientLimit:
    """A rule on one nutrient, of the place or the law, with its source and its days.

    ``unless_soil_test`` lifts it where a valid soil test asks for the nutrient,
    ``least_slow_release`` where at least that share of the nitrogen is released slowly. An
    ``example`` is a rule that nobody has checked yet.
    """

    nutrient: Nutrient
    per: Per
    at_most: Quantity
    source: str
    first_day: date | None = None
    last_day: date | None = None
    place: str | None = None
    unless_soil_test: bool = False
    example: bool = False
    least_slow_release: Quantity | None = None

    @property
    def is_dated(self) -> bool:
        """Whether it holds on some days only."""
        return self.first_day is not None or self.last_day is not None

    def holds_on(self, day: date | None) -> bool:
        """Whether it holds on a day; where the day is not known, only if it always does."""
        if day is None:
            return not self.is_dated
        return (self.first_day is None or self.first_day <= day) and (
            self.last_day is None or day <= self.last_day
        )

    @property
    def origin(self) -> str:
        """Where it comes from, in a sentence."""
        return f"{self.source} ({self.place})" if self.place else self.source


@dataclass(frozen=True)
class SoilTest:
    """A soil test on file: the day it was taken and the last day it is valid."""

    taken: date
    valid_until: date
    source: str | None = None

    def is_valid_on(self, day: date | None) -> bool:
        """Whether it is valid on a day; on an unknown day it is not."""
        return day is not None and self.taken <= day <= self.valid_until


@dataclass(frozen=True)
class NutrientRules:
    """What limits nutrients at a place: the rules, what it has had, a soil test.

    ``so_far`` is of this year, ``lately`` of each shorter span.
    """

    limits: tuple[NutrientLimit, ...] = ()
    so_far: Mapping[Nutrient, Quantity] = field(default_factory=dict)
    soil_test: SoilTest | None = None
    on: date | None = None
    lately: Mapping[Per, Mapping[Nutrient, Quantity]] = field(default_factory=dict)

    @property
    def holding(self) -> tuple[NutrientLimit, ...]:
        """The limits that hold on the day."""
        return tuple(limit for limit in self.limits if limit.holds_on(self.on))

    def is_lifted(self, limit: NutrientLimit) -> bool:
        """Whether a valid soil test lifts a limit."""
        test = self.soil_test
        return limit.unless_soil_test and test is not None and test.is_valid_on(self.on)

    def so_far_of(self, nutrient: Nutrient, per: Per = Per.YEAR) -> float | None:
        """What the place has had of a nutrient in a span, told as such or as its oxide."""
        if not per.counts_back:
            return 0.0
        had = self.so_far if per is Per.YEAR else self.lately.get(per, {})
        told = had.get(nutrient)
        if told is not None:
            return told.si
        other, factor = _SAME_AS.get(nutrient, (nutrient, 1.0))
        as_other = had.get(other)
        if as_other is not None:
            return as_other.si * factor
        return 0.0 if self._had_none(nutrient, per) else None

    def _had_none(self, nutrient: Nutrient, per: Per) -> bool:
        """Whether a year without any of it holds the whole of a shorter span."""
        if per is Per.YEAR or self.on is None:
            return False
        is_within = per.first_day(self.on).year == self.on.year
        return is_within and self.so_far_of(nutrient) == 0


_SAME_AS = {
    Nutrient.P: (Nutrient.P2O5, P_IN_P2O5),
    Nutrient.P2O5: (Nutrient.P, 1 / P_IN_P2O5),
    Nutrient.K: (Nutrient.K2O, K_IN_K2O),
    Nutrient.K2O: (Nutrient.K, 1 / K_IN_K2O),
}

NO_NUTRIENT_RULES = NutrientRules()


@dataclass(frozen=True)
class Checked:
    """A limit against what a plan puts down; what nobody knows is None.

    ``slow_share`` is how much of the nitrogen that is put down is released slowly.
    """

    limit: NutrientLimit
    applied: float | None
    so_far: float | None
    lifted_by_soil_test: bool = False
    slow_share: float | None = None

    @property
    def lifted_by_slow_release(self) -> bool:
        """Whether enough of the nitrogen is known to be released slowly."""
        least, share = self.limit.least_slow_release, self.slow_share
        return least is not None and share is not None and share >= least.si * (1 - SAME_NUMBER)

    @property
    def lifted(self) -> bool:
        """Whether anything lifts the limit."""
        return self.lifted_by_soil_test or self.lifted_by_slow_release

    @property
    def waits_for_slow_share(self) -> bool:
        """Whether a slow share that nobody told could lift it."""
        return self.limit.least_slow_release is not None and self.slow_share is None

    @property
    def total(self) -> float | None:
        """What the limit is compared with."""
        if self.applied is None or self.so_far is None:
            return None
        return self.applied + self.so_far

    @property
    def allowed(self) -> bool | None:
        """Whether the limit allows it, None where nobody knows."""
        if self.lifted or self.applied == 0:
            return True
        total = self.total
        if total is None:
            return None
        is_kept = total <= self.limit.at_most.si * (1 + SAME_NUMBER)
        return None if self.waits_for_slow_share and not is_kept else is_kept

    @property
    def room(self) -> float | None:
        """What may still go down, None where nobody knows."""
        return None if self.so_far is None else max(0.0, self.limit.at_most.si - self.so_far)


def checked_limits(
    rules: NutrientRules, added: Mapping[Nutrient, float | None]
) -> tuple[Checked, ...]:
    """Compare nutrients that would be put down with every limit that holds.

    Parameters
    ----------
    rules : NutrientRules
        The limits, what the place has had, the soil test, the day. [kg/m²]
    added : Mapping of Nutrient to float or None
        What the plan puts down, None where nobody knows. [kg/m²]

    Returns
    -------
    tuple[Checked, ...]
        Each limit with what it is compared with. [kg/m²]

    Raises
    ------
    Nothing
        What is not known is None.

    References
    ----------
    The limits name their own; unknown is not zero.
    """
    return tuple(
        Checked(
            limit,
            added[limit.nutrient],
            rules.so_far_of(limit.nutrient, limit.per),
            lifted_by_soil_test=rules.is_lifted(limit),
            slow_share=slow_share_of(added),
        )
        for limit in rules.holding
    )


def slow_share_of(added: Mapping[Nutrient, float | None]) -> float | None:
    """Find how much of the nitrogen that is put down is released slowly.

    Parameters
    ----------
    added : Mapping of Nutrient to float or None
        What is put down. [kg/m²]

    Returns
    -------
    float or None
        The share of the nitrogen, None where there is none or nobody knows. [kg/kg]

    Raises
    ------
    Nothing
        What is not known is None.

    References
    ----------
    By definition: soluble nitrogen = nitrogen × (1 − slow share).
    """
    nitrogen, soluble = added[Nutrient.N], added[Nutrient.SOLUBLE_N]
    if not nitrogen or soluble is None:
        return None
    return 1 - soluble / nitrogen


def most_product(checked: Iterable[Checked], fertilizers: Sequence[Fertilizer]) -> float | None:
    """Find the highest rate of a single product that every limit allows.

    Parameters
    ----------
    checked : Iterable[Checked]
        The limits. [kg/m²]
    fertilizers : Sequence[Fertilizer]
        What is put down: one product has an answer, several have none. [-]

    Returns
    -------
    float or None
        Product per area; None where no limit binds it or nobody knows. [kg/m²]

    Raises
    ------
    Nothing
        What is not known is None.

    References
    ----------
    Our own derivation: room / share of the nutrient, the least of all.
    """
    if len(fertilizers) != 1:
        return None
    (fertilizer,) = fertilizers
    rates = [
        each.room / share
        for each in checked
        if not each.lifted
        and each.room is not None
        and (share := fertilizer.share_of(each.limit.nutrient))
    ]
    return min(rates, default=None)
