"""How much of a nutrient may go down: limits as data, and what a plan would come to.

Rates are kg/m² of the ground that a rate meets.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date
from enum import StrEnum

from planner.core.labels import SAME_NUMBER
from planner.core.nutrients import K_IN_K2O, P_IN_P2O5, Fertilizer, Nutrient
from properties.core.units import Quantity


class Per(StrEnum):
    """What a limit is for."""

    APPLICATION = "application"
    YEAR = "year"


@dataclass(frozen=True)
class NutrientLimit:
    """A rule on one nutrient, of the place or the law, with its source and its days.

    ``unless_soil_test`` lifts it where a valid soil test asks for the nutrient. An
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
    """What limits nutrients at a place: the rules, what it has had this year, a soil test."""

    limits: tuple[NutrientLimit, ...] = ()
    so_far: Mapping[Nutrient, Quantity] = field(default_factory=dict)
    soil_test: SoilTest | None = None
    on: date | None = None

    @property
    def holding(self) -> tuple[NutrientLimit, ...]:
        """The limits that hold on the day."""
        return tuple(limit for limit in self.limits if limit.holds_on(self.on))

    def is_lifted(self, limit: NutrientLimit) -> bool:
        """Whether a valid soil test lifts a limit."""
        test = self.soil_test
        return limit.unless_soil_test and test is not None and test.is_valid_on(self.on)

    def so_far_of(self, nutrient: Nutrient) -> float | None:
        """What the place has had of a nutrient this year, told as such or as its oxide."""
        told = self.so_far.get(nutrient)
        if told is not None:
            return told.si
        other, factor = _SAME_AS.get(nutrient, (nutrient, 1.0))
        as_other = self.so_far.get(other)
        return None if as_other is None else as_other.si * factor


_SAME_AS = {
    Nutrient.P: (Nutrient.P2O5, P_IN_P2O5),
    Nutrient.P2O5: (Nutrient.P, 1 / P_IN_P2O5),
    Nutrient.K: (Nutrient.K2O, K_IN_K2O),
    Nutrient.K2O: (Nutrient.K, 1 / K_IN_K2O),
}

NO_NUTRIENT_RULES = NutrientRules()


@dataclass(frozen=True)
class Checked:
    """A limit against what a plan puts down; an amount that nobody knows is None."""

    limit: NutrientLimit
    applied: float | None
    so_far: float | None
    lifted: bool = False

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
        return None if total is None else total <= self.limit.at_most.si * (1 + SAME_NUMBER)

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
            rules.so_far_of(limit.nutrient) if limit.per is Per.YEAR else 0.0,
            lifted=rules.is_lifted(limit),
        )
        for limit in rules.holding
    )


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
