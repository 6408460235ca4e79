"""What a place has had before, and the days on which it gets nothing.

Outlines in degrees of longitude and latitude, rates in L or kg per m², contents in kg.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, timedelta

from shapely.geometry.base import BaseGeometry

from planner.core.label.limits import MonthDay
from planner.core.label.substances import Content, amount_of
from planner.core.nutrient.nutrients import Nutrient
from properties.core.units import Quantity

_A_LEAP_YEAR = 2000


@dataclass(frozen=True)
class PastApplication:
    """One product put down on some ground on a day.

    ``contents`` is None where nobody says what was in the product, ``nutrients`` (kg per L
    or kg of it) where nobody says whether it was a fertilizer.
    """

    ref: str
    applied_on: date
    product: str
    rate: Quantity
    where: BaseGeometry
    contents: tuple[Content, ...] | None = None
    nutrients: Mapping[Nutrient, float | None] | None = None

    def is_of(self, product: str) -> bool:
        """Whether this was a product, however its name is spelled."""
        return self.product.casefold() == product.casefold()

    def amount_of(self, substance: str) -> float | None:
        """How much of a substance the ground got, in kg/m²; None where nobody knows."""
        if self.contents is None:
            return None
        return self.rate.si * amount_of(substance, self.contents)

    def nutrient(self, nutrient: Nutrient) -> float | None:
        """How much of a nutrient the ground got, in kg/m²; None where nobody knows."""
        if self.nutrients is None:
            return None
        share = self.nutrients.get(nutrient, 0.0)
        return None if share is None else self.rate.si * share


@dataclass(frozen=True)
class Blackout:
    """Days of every year, both ends included, without a product or a substance."""

    first: MonthDay
    last: MonthDay
    source: str
    product: str | None = None
    substance: str | None = None
    example: bool = False

    def holds_on(self, day: date) -> bool:
        """Whether a day is one of them."""
        here = (day.month, day.day)
        first, last = (self.first.month, self.first.day), (self.last.month, self.last.day)
        return first <= here <= last if first <= last else here >= first or here <= last

    def over_after(self, day: date) -> date:
        """The first day after it, for a day within."""
        last = self.last.in_year(day.year)
        if day > last:
            last = self.last.in_year(day.year + 1)
        return last + timedelta(days=1)

    @property
    def is_always(self) -> bool:
        """Whether no day of the year is left."""
        after_last = date(_A_LEAP_YEAR, self.last.month, self.last.day) + timedelta(days=1)
        if (after_last.month, after_last.day) == (2, 29):
            after_last += timedelta(days=1)
        return (after_last.month, after_last.day) == (self.first.month, self.first.day)

    @property
    def what(self) -> str:
        """What is not put down."""
        return self.product or self.substance or ""


@dataclass(frozen=True)
class Seeding:
    """Ground that was or will be sown on a day."""

    ref: str
    sown_on: date
    where: BaseGeometry


@dataclass(frozen=True)
class Past:
    """All that is told of what a place has had. ``history`` is None where nobody says.

    ``since`` is the first day from which all of it is known; None means from ever.
    """

    history: tuple[PastApplication, ...] | None = None
    blackouts: tuple[Blackout, ...] = ()
    seedings: tuple[Seeding, ...] = ()
    since: date | None = None
