"""The price of a piece of work, every line with its working."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from decimal import Decimal

from planner.core.findings import Finding
from planner.core.pricing.book import Book, require_sound
from planner.core.pricing.discounts import taken_off
from planner.core.pricing.figures import Derived, Line, MoneyFigure, Told, line, summed, total_of
from planner.core.pricing.sureness import Sureness, sureness_of
from planner.core.pricing.taxes import tax_lines, tax_warnings
from planner.core.pricing.visits import VisitPrice, visit_price
from planner.core.pricing.work import Work
from properties.core.errors import FaultsFound, Refused

NET_SOURCE = "The prices of all visits, less every discount."
TOTAL_SOURCE = "The price before tax, and every tax."
MARGIN_SOURCE = "What is left of the price before tax when the cost is paid."
SHARE_SOURCE = (
    "Margin on price: what is left, as a share of the price before tax and not of the cost."
)


@dataclass(frozen=True)
class Price:
    """A price: visits less discounts is ``net``, and with the taxes it is ``total``.

    ``make_up`` adds up to ``net`` too: what goes where, the margin last. It is below zero
    where the price does not pay the cost.
    """

    work: Work
    book: Book
    visits: tuple[VisitPrice, ...]
    discounts: tuple[Line, ...]
    taxes: tuple[Line, ...]
    make_up: tuple[Line, ...]
    net: Line
    total: Line
    margin_percent: MoneyFigure | None
    sureness: Sureness
    warnings: tuple[Finding, ...]

    @property
    def price(self) -> Decimal:
        """What is asked before tax."""
        return self.net.amount

    @property
    def tax(self) -> Decimal:
        """All tax."""
        return total_of(self.taxes)

    @property
    def cost(self) -> Decimal:
        """What the work costs the firm."""
        return sum((each.cost.total for each in self.visits), Decimal("0.00"))

    @property
    def low(self) -> Decimal | None:
        """The lowest price before tax that the error bar allows; None where nobody knows it."""
        return None if self.sureness.low is None else self.sureness.low.amount

    @property
    def high(self) -> Decimal | None:
        """The highest price before tax that the error bar allows; None where nobody knows it."""
        return None if self.sureness.high is None else self.sureness.high.amount

    @property
    def lines(self) -> Iterator[Line]:
        """Every line, in the order of a page; the steps and costs of a visit below its place."""
        for place, visit in enumerate(self.visits):
            for step in (*visit.steps, *visit.cost.lines):
                yield step.below(f"visits[{place}]")
        yield from (*self.discounts, self.net, *self.taxes, self.total, *self.make_up)

    @property
    def figures(self) -> tuple[MoneyFigure, ...]:
        """Every figure with its working."""
        of_area = (
            Line("per_area", visit.per_area.name, visit.price, visit.per_area)
            for visit in self.visits
            if visit.per_area is not None
        )
        below = (each.below(f"visits[{n}]").figure for n, each in enumerate(of_area))
        share = () if self.margin_percent is None else (self.margin_percent,)
        return (
            *(each.figure for each in self.lines),
            *below,
            *share,
            *self.sureness.figures,
        )


def price_of(work: Work, book: Book) -> Price:
    """Price a piece of work by a price book.

    Parameters
    ----------
    work : Work
        At least one visit, and the taxes that hold at the place. [-]
    book : Book
        The price book. [currency]

    Returns
    -------
    Price
        The price with its make-up, its range and what speaks against it. [currency]

    Raises
    ------
    FaultsFound
        If the book is not sound, or something that the cost needs is not known.
    Refused
        If there is no visit.

    References
    ----------
    Each figure names its own. Rounded for each visit by the rule of the book; discounts and
    tax are to the cent.
    """
    if not work.visits:
        raise Refused("visits", "There is nothing to price.", "Choose a mix or a programme.")
    require_sound(book)
    visits = _visits(work, book)
    off = taken_off(visits, work, book)
    taxes = tax_lines(off.left, visits, work.taxes, currency=book.currency)
    net = _net(visits, off.lines, book)
    make_up = _make_up(visits, net.amount, book)
    margin = make_up[-1]
    sureness = sureness_of(visits, work, book, net=net.amount)
    return Price(
        work,
        book,
        visits,
        off.lines,
        taxes,
        make_up,
        net,
        _total(net, taxes, book),
        _margin_percent(margin, net, book),
        sureness,
        (
            *off.warnings,
            *_of_margin(margin, net, book),
            *tax_warnings(work),
            *_of_sureness(sureness),
        ),
    )


def _visits(work: Work, book: Book) -> tuple[VisitPrice, ...]:
    """Price every visit; what one of them lacks is told once, and no fault hides another."""
    visits: list[VisitPrice] = []
    faults: dict[str, Refused] = {}
    for visit in work.visits:
        try:
            visits.append(visit_price(visit, book))
        except FaultsFound as found:
            for fault in found.faults:
                faults.setdefault(str(fault), fault)
    if faults:
        raise FaultsFound(faults.values())
    return tuple(visits)


def _terms(lines: Sequence[Line], word: str, book: Book) -> tuple[Told, ...]:
    return tuple(Told(f"{word} {n}", each.amount, book.currency) for n, each in enumerate(lines, 1))


def _net(visits: tuple[VisitPrice, ...], discounts: tuple[Line, ...], book: Book) -> Line:
    prices = tuple(
        Told(f"visit {n}", each.price, book.currency) for n, each in enumerate(visits, 1)
    )
    terms = (*prices, *_terms(discounts, "discount", book))
    amount = sum((term.value for term in terms), Decimal("0.00"))
    derived = Derived(summed(terms), terms, NET_SOURCE)
    return line("net", "Price before tax", amount, book.currency, derived)


def _total(net: Line, taxes: tuple[Line, ...], book: Book) -> Line:
    terms = (Told("price before tax", net.amount, book.currency), *_terms(taxes, "tax", book))
    amount = net.amount + total_of(taxes)
    derived = Derived(summed(terms), terms, TOTAL_SOURCE)
    return line("total", "To pay", amount, book.currency, derived)


def _make_up(visits: tuple[VisitPrice, ...], net: Decimal, book: Book) -> tuple[Line, ...]:
    costs = [each.cost for each in visits]
    groups: dict[str, tuple[str, list[Line]]] = {
        "material": ("Material", [each for cost in costs for each in cost.material]),
        "work": ("Work on the ground", [each for c in costs for each in (c.work, c.trimming)]),
        "going": ("The way and setting up", [each for c in costs for each in (c.travel, c.set_up)]),
        "overhead": ("Overhead", [cost.overhead for cost in costs]),
    }
    parts = []
    for key, (name, lines) in groups.items():
        terms = _terms(lines, "line", book)
        derived = Derived(summed(terms), terms, "The lines of all visits.")
        part = line(f"make_up.{key}", name, total_of(lines), book.currency, derived)
        parts.append(part.explained(f"{name} ({_named('line', lines)})" if lines else name))
    cost = total_of(parts)
    terms = (
        Told("price before tax", net, book.currency),
        *_terms(parts, "part", book),
    )
    formula = f"price before tax − ({summed(terms[1:])})"
    margin = line(
        "make_up.margin",
        "Margin",
        net - cost,
        book.currency,
        Derived(formula, terms, MARGIN_SOURCE),
    )
    return (*parts, margin.explained(f"Margin ({_named('part', parts)})"))


def _named(word: str, lines: Sequence[Line]) -> str:
    """Say what the short names of a sum stand for."""
    return ", ".join(f"{word} {n} is {each.name}" for n, each in enumerate(lines, 1))


def _margin_percent(margin: Line, net: Line, book: Book) -> MoneyFigure | None:
    if not net.amount:
        return None
    name = "Margin, as a share of the price"
    inputs = (
        Told("margin", margin.amount, book.currency),
        Told("price before tax", net.amount, book.currency),
    )
    share = (100 * margin.amount / net.amount).quantize(Decimal("0.01"))
    return MoneyFigure(
        "margin_percent",
        name,
        "100 × margin / price before tax",
        inputs,
        Told(name, share, "%"),
        SHARE_SOURCE,
    )


def _of_margin(margin: Line, net: Line, book: Book) -> Iterator[Finding]:
    if margin.amount < 0:
        yield Finding(
            "below_cost",
            f"This is sold below cost: the price before tax is {net.amount:,.2f} {book.currency}, "
            f"and the work costs {net.amount - margin.amount:,.2f}. Ask more, or let it go.",
        )
    elif margin.amount < (net.amount * book.margin_percent / 100).quantize(Decimal("0.01")):
        share = 100 * margin.amount / net.amount
        yield Finding(
            "below_margin",
            f"The margin is {share:.1f} % of the price, less than the "
            f"{book.margin_percent:f} % of the price book.",
        )


def _of_sureness(sureness: Sureness) -> Iterator[Finding]:
    if "range" in sureness.why_not:
        yield Finding("range_unknown", f"No range of the price. {sureness.why_not['range']}")
    even, off = sureness.break_even_percent, sureness.off_percent
    if even is not None and off is not None and 0 <= even.result.value < off:
        yield Finding(
            "error_beyond_break_even",
            f"The area may be {off:.1f} % larger than drawn, and the price pays the cost only up "
            f"to {even.result.value:.1f} % more. Measure again before you sign.",
        )
