"""A price book: what a firm asks for, what the work costs it, and what it wants to keep.

Amounts in the currency of the book, areas and lengths in its units, shares in percent.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum

from planner.core.money import Step, Way, rounded
from planner.core.shown import Units
from properties.core.errors import FaultsFound, Refused


class Banding(StrEnum):
    """How a price per area follows the bands."""

    MARGINAL = "marginal"
    WHOLE = "whole"


class Basis(StrEnum):
    """What a price starts from: the list, the cost and the margin, or the higher of the two."""

    AREA = "area"
    COST = "cost"
    HIGHER = "higher"


class When(StrEnum):
    """What a discount is given for."""

    PROGRAMME = "programme"
    PREPAID = "prepaid"


@dataclass(frozen=True)
class Band:
    """A price for so much ground, up to an area; the last band has no end."""

    up_to: Decimal | None
    rate: Decimal


@dataclass(frozen=True)
class Discount:
    """Something taken off: a share of what is left when its turn comes, or an amount.

    One for a programme is given from ``from_visits`` visits in a season on.
    """

    name: str
    when: When
    percent: Decimal | None = None
    amount: Decimal | None = None
    from_visits: int = 2


@dataclass(frozen=True)
class Costs:
    """What the work costs the firm.

    ``pace_min`` is the time for one unit of ground where a plan knows of no passes, and
    ``trim_pace`` the edge trimmed in a minute; None where nobody knows. ``measuring`` is
    what it costs to go and measure again.
    """

    wage_per_hour: Decimal
    travel_min: Decimal
    set_up_min: Decimal
    overhead_percent: Decimal
    waste_percent: Decimal
    pace_min: Decimal | None = None
    trim_pace: Decimal | None = None
    measuring: Decimal | None = None


@dataclass(frozen=True)
class Book:
    """One version of a price book. ``trim`` is asked per ft or m of edge, None where it is not.

    The margin is a share of the price, not of the cost: at 40 % a cost of 60 is a price of 100.
    Discounts are taken off in the order in which they stand.
    """

    name: str
    version: int
    currency: str
    units: Units
    basis: Basis
    banding: Banding
    bands: tuple[Band, ...]
    minimum: Decimal
    trim: Decimal | None
    costs: Costs
    margin_percent: Decimal
    discounts: tuple[Discount, ...]
    step: Step
    way: Way

    @property
    def area_unit(self) -> str:
        """The unit that its areas are in."""
        return "sq ft" if self.units is Units.US else "m2"

    @property
    def length_unit(self) -> str:
        """The unit that its lengths are in."""
        return "ft" if self.units is Units.US else "m"

    @property
    def per_area(self) -> int:
        """How much ground a price per area is asked for."""
        return 1000 if self.units is Units.US else 100

    @property
    def rate_unit(self) -> str:
        """The unit of a price per area."""
        return f"{self.currency}/{self.per_area} {self.area_unit}"

    @property
    def trims(self) -> bool:
        """Whether the edge is trimmed, and asked for."""
        return self.trim is not None


def require_sound(book: Book) -> None:
    """Refuse a book that no price could honestly be made from, with every fault found.

    Parameters
    ----------
    book : Book
        The book. [-]

    Returns
    -------
    None
        Nothing. [-]

    Raises
    ------
    FaultsFound
        If bands, margin, minimum or discounts cannot stand.

    References
    ----------
    Our own rules. A margin of 100 % of the price leaves nothing for the cost: price is
    cost ÷ (1 − margin).
    """
    faults = [*_of_bands(book), *_of_amounts(book), *_of_discounts(book)]
    if faults:
        raise FaultsFound(faults)


def _of_bands(book: Book) -> Iterator[Refused]:
    if not book.bands:
        yield Refused("bands", "There is no price per area.", "Enter at least one band.")
        return
    *inner, last = book.bands
    if last.up_to is not None:
        yield Refused(
            f"bands[{len(inner)}].up_to",
            "Larger lawns have no price.",
            "Leave the end of the last band empty.",
        )
    below = Decimal(0)
    for place, band in enumerate(inner):
        if band.up_to is None or band.up_to <= below:
            yield Refused(
                f"bands[{place}].up_to",
                "Each band must end at a larger area than the one before.",
                "Put the bands in order, the smallest lawns first.",
            )
        else:
            below = band.up_to
    for place, band in enumerate(book.bands):
        if band.rate < 0:
            yield Refused(
                f"bands[{place}].rate", "A price is not below zero.", "Enter zero or more."
            )


def _of_amounts(book: Book) -> Iterator[Refused]:
    if not 0 <= book.margin_percent < 100:
        yield Refused(
            "margin_percent",
            f"A margin of {book.margin_percent:f} % of the price leaves nothing to pay the cost.",
            "Enter 0 or more, and less than 100. It is a share of the price, not of the cost.",
        )
    if book.minimum != rounded(book.minimum, to=book.step, way=book.way):
        yield Refused(
            "minimum",
            f"Prices are rounded to {book.step.value}, and this is no such amount.",
            "Enter an amount that a rounded price can have.",
        )
    told = {name: getattr(book.costs, name) for name in Costs.__dataclass_fields__}
    for name, value in {"minimum": book.minimum, "trim": book.trim, **told}.items():
        if value is not None and value < 0:
            yield Refused(name, "This is not below zero.", "Enter zero or more.")
    for name in ("pace_min", "trim_pace"):
        if told[name] == 0:
            yield Refused(name, "Nobody works in no time.", "Leave it empty if nobody knows.")


def _of_discounts(book: Book) -> Iterator[Refused]:
    for place, each in enumerate(book.discounts):
        where = f"discounts[{place}]"
        if (each.percent is None) is (each.amount is None):
            yield Refused(
                f"{where}.percent",
                "A discount is a share or an amount.",
                "Fill in one of the two boxes.",
            )
        if each.percent is not None and not 0 <= each.percent <= 100:
            yield Refused(f"{where}.percent", "Nobody takes off more than all.", "Enter 0 to 100.")
        if each.amount is not None and each.amount < 0:
            yield Refused(f"{where}.amount", "A discount is not below zero.", "Enter zero or more.")
