"""The price of one visit: from the list or from the cost, up to the minimum, and rounded."""

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal

from planner.core.money import Step, Way, cents, rounded
from planner.core.pricing.book import Basis, Book
from planner.core.pricing.costs import TO_THE_CENT, Cost, cost_of
from planner.core.pricing.figures import Derived, Line, MoneyFigure, Told, line, total_of
from planner.core.pricing.lists import list_lines
from planner.core.pricing.measured import area_told
from planner.core.pricing.work import Visit

MARGIN_SOURCE = (
    "Common practice: price = cost ÷ (1 − margin), the margin a share of the price and not of the "
    f"cost. {TO_THE_CENT}"
)
MINIMUM_SOURCE = "The price book: no visit is asked less than the minimum charge for."
UP_TO_COST_SOURCE = (
    "The price book asks the higher of the list and of cost ÷ (1 − margin); this is what the list "
    f"falls short by. {TO_THE_CENT}"
)
STEP_WORDS = {Step.CENT: "the cent", Step.FIVE_CENTS: "5 cents", Step.DOLLAR: "whole units"}
WAY_WORDS = {
    Way.HALF_UP: "the nearer, a half up",
    Way.HALF_EVEN: "the nearer, a half to the even one",
    Way.UP: "the next one up",
}


@dataclass(frozen=True)
class VisitPrice:
    """The price of a visit: ``steps`` add up to it, and ``cost`` is what it costs the firm.

    ``by_cost`` is cost ÷ (1 − margin) before it was rounded.
    """

    visit: Visit
    cost: Cost
    by_cost: Decimal
    steps: tuple[Line, ...]
    per_area: MoneyFigure | None

    @property
    def price(self) -> Decimal:
        """What is asked for the visit, before discounts and tax."""
        return total_of(self.steps)


def visit_price(visit: Visit, book: Book) -> VisitPrice:
    """Price one visit.

    Parameters
    ----------
    visit : Visit
        The visit. [m², m and s]
    book : Book
        The price book. [currency]

    Returns
    -------
    VisitPrice
        Its steps and its cost. [currency]

    Raises
    ------
    FaultsFound
        If something that the cost needs is not known.

    References
    ----------
    Each step names its own.
    """
    cost = cost_of(visit, book)
    by_cost = cost.total / (1 - book.margin_percent / 100)
    steps = _started(list_lines(visit, book), cost.total, by_cost, book)
    steps += _minimum(steps, book)
    steps += _rounding(steps, book)
    return VisitPrice(visit, cost, by_cost, steps, _per_area(visit, total_of(steps), book))


def _started(
    listed: tuple[Line, ...], cost: Decimal, by_cost: Decimal, book: Book
) -> tuple[Line, ...]:
    if book.basis is Basis.COST:
        return (_by_cost(cost, by_cost, book),)
    short = cents(by_cost) - total_of(listed)
    if book.basis is Basis.AREA or short <= 0:
        return listed
    inputs = (*_cost_inputs(cost, book), *_as_inputs(listed, book))
    formula = f"cost / (1 − margin / 100) − ({' + '.join(each.name for each in inputs[2:])})"
    return (
        *listed,
        line(
            "up_to_cost",
            "Up to cost and margin",
            short,
            book.currency,
            Derived(formula, inputs, UP_TO_COST_SOURCE),
        ),
    )


def _by_cost(cost: Decimal, by_cost: Decimal, book: Book) -> Line:
    derived = Derived("cost / (1 − margin / 100)", _cost_inputs(cost, book), MARGIN_SOURCE)
    return line("by_cost", "Cost and margin", cents(by_cost), book.currency, derived)


def _cost_inputs(cost: Decimal, book: Book) -> tuple[Told, Told]:
    return (Told("cost", cost, book.currency), Told("margin", book.margin_percent, "%"))


def _as_inputs(lines: Sequence[Line], book: Book) -> tuple[Told, ...]:
    return tuple(Told(f"step {n}", each.amount, book.currency) for n, each in enumerate(lines, 1))


def _minimum(steps: tuple[Line, ...], book: Book) -> tuple[Line, ...]:
    short = book.minimum - total_of(steps)
    if short <= 0:
        return ()
    inputs = (Told("minimum", book.minimum, book.currency), *_as_inputs(steps, book))
    formula = f"minimum − ({' + '.join(each.name for each in inputs[1:])})"
    derived = Derived(formula, inputs, MINIMUM_SOURCE)
    return (line("minimum", "Up to the minimum charge", short, book.currency, derived),)


def _rounding(steps: tuple[Line, ...], book: Book) -> tuple[Line, ...]:
    bare = total_of(steps)
    asked = rounded(bare, to=book.step, way=book.way)
    if asked == bare:
        return ()
    inputs = (
        Told("rounded price", asked, book.currency),
        Told("price before", bare, book.currency),
    )
    source = (
        f"The price book: prices go to {STEP_WORDS[book.step]}, and there to {WAY_WORDS[book.way]}."
    )
    derived = Derived("rounded price − price before", inputs, source)
    return (line("rounding", "Rounding", asked - bare, book.currency, derived),)


def _per_area(visit: Visit, price: Decimal, book: Book) -> MoneyFigure | None:
    area = area_told("area", visit.area_m2, book)
    if not area.value:
        return None
    name = "What that is per area"
    return MoneyFigure(
        "per_area",
        name,
        f"price × {book.per_area} / area",
        (Told("price", price, book.currency), area),
        Told(name, cents(price * book.per_area / area.value), book.rate_unit),
        TO_THE_CENT,
    )
