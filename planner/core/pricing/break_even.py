"""Up to which area a price pays the cost, and how many visits earn a measuring visit back."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal

from planner.core.pricing.book import Book
from planner.core.pricing.figures import MoneyFigure, Told, total_of
from planner.core.pricing.measured import area_told
from planner.core.pricing.visits import VisitPrice

BREAK_EVEN_SOURCE = (
    "Our own derivation: material and time grow with the ground, the rest of the cost does not, "
    "and overhead comes on both. The price stays as it was quoted."
)
VISITS_SOURCE = "Our own derivation: each visit brings its price less its cost."


@dataclass(frozen=True)
class Growth:
    """What the break-even of a price follows from."""

    net: Decimal
    grows: Decimal
    fixed: Decimal
    cost: Decimal


def growth_of(visits: Sequence[VisitPrice], *, net: Decimal) -> Growth:
    """Part the cost of visits in what grows with the ground and what does not.

    Parameters
    ----------
    visits : Sequence of VisitPrice
        The priced visits. [currency]
    net : Decimal
        The price after discounts, before tax. [currency]

    Returns
    -------
    Growth
        The parts; overhead comes on both. [currency]

    Raises
    ------
    Nothing
        Any visits can be parted.

    References
    ----------
    Our own derivation: material and time on the ground follow the area.
    """
    return Growth(
        net,
        sum((total_of(each.cost.by_area) for each in visits), Decimal(0)),
        sum((total_of(each.cost.fixed) for each in visits), Decimal(0)),
        sum((each.cost.total for each in visits), Decimal(0)),
    )


def break_even(
    growth: Growth, visits: Sequence[VisitPrice], book: Book, why_not: dict[str, str]
) -> tuple[MoneyFigure | None, MoneyFigure | None]:
    """Find the area at which the cost reaches the price, and how much more than drawn it is.

    Parameters
    ----------
    growth : Growth
        The parts of the cost. [currency]
    visits : Sequence of VisitPrice
        The priced visits. [m²]
    book : Book
        The price book. [-]
    why_not : dict
        Takes up why there is no such area. [-]

    Returns
    -------
    tuple of MoneyFigure or None
        The area of a visit, and the share. [unit of the book, %]

    Raises
    ------
    Nothing
        What does not exist says why.

    References
    ----------
    Our own derivation: (fixed + grows × area / mapped area) × (1 + overhead) = price.
    """
    overhead = 1 + book.costs.overhead_percent / 100
    if not growth.grows:
        why_not["break_even_area"] = "No part of the cost grows with the ground."
        return None, None
    factor = (growth.net / overhead - growth.fixed) / growth.grows
    if factor <= 0:
        why_not["break_even_area"] = (
            "The price does not even pay for the way there, the setting up and the edge."
        )
        return None, None
    mean_m2 = math.fsum(each.visit.area_m2 for each in visits) / len(visits)
    area = area_told("area of a visit", mean_m2, book)
    inputs = (
        Told("price", growth.net, book.currency),
        Told("overhead", book.costs.overhead_percent, "%"),
        Told("fixed cost", growth.fixed, book.currency),
        Told("cost that grows", growth.grows, book.currency),
    )
    share = "(price / (1 + overhead / 100) − fixed cost) / cost that grows"
    even = (area.value * factor).quantize(Decimal("0.01"))
    name = "The price pays the cost up to an area of"
    percent = "That is larger than the map by"
    more = (100 * (factor - 1)).quantize(Decimal("0.01"))
    return (
        MoneyFigure(
            "break_even_area",
            name,
            f"area of a visit × {share}",
            (area, *inputs),
            Told(name, even, book.area_unit),
            BREAK_EVEN_SOURCE,
        ),
        MoneyFigure(
            "break_even_percent",
            percent,
            f"100 × ({share} − 1)",
            inputs,
            Told(percent, more, "%"),
            BREAK_EVEN_SOURCE,
        ),
    )


def break_even_visits(
    growth: Growth, visits: int, book: Book, why_not: dict[str, str]
) -> MoneyFigure | None:
    """Count the visits that earn back what measuring and quoting costs.

    Parameters
    ----------
    growth : Growth
        The price and its cost. [currency]
    visits : int
        How many visits they are of. [-]
    book : Book
        What measuring costs. [currency]
    why_not : dict
        Takes up why there is no such number. [-]

    Returns
    -------
    MoneyFigure or None
        The number, whole and rounded up. [-]

    Raises
    ------
    Nothing
        What does not exist says why.

    References
    ----------
    Our own derivation: each visit brings its price less its cost.
    """
    measuring, kept = book.costs.measuring, growth.net - growth.cost
    if measuring is None:
        why_not["break_even_visits"] = "Nobody says what a visit to measure and quote costs."
        return None
    if kept <= 0:
        why_not["break_even_visits"] = "No visit brings more than it costs."
        return None
    name = "Visits until the visit to measure and quote is earned back"
    inputs = (
        Told("cost of measuring", measuring, book.currency),
        Told("visits", Decimal(visits), ""),
        Told("price", growth.net, book.currency),
        Told("cost", growth.cost, book.currency),
    )
    return MoneyFigure(
        "break_even_visits",
        name,
        "ceil(cost of measuring × visits / (price − cost))",
        inputs,
        Told(name, Decimal(math.ceil(measuring * visits / kept)), ""),
        VISITS_SOURCE,
    )
