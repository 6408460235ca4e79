"""How sure a price is: its range from the error bar, what it can bear, when to measure again.

The error bar of an area is the half-width of its 95 % band, 1.96 standard deviations.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal

from planner.core.money import cents
from planner.core.pricing.book import Banding, Book
from planner.core.pricing.break_even import Growth, break_even, break_even_visits, growth_of
from planner.core.pricing.costs import TO_THE_CENT
from planner.core.pricing.discounts import taken_off
from planner.core.pricing.figures import Derived, Line, MoneyFigure, Told, line, total_of
from planner.core.pricing.measured import area_told
from planner.core.pricing.visits import VisitPrice, visit_price
from planner.core.pricing.work import Used, Visit, Work
from properties.core.accuracy import SIGMAS_OF_95_PERCENT
from properties.core.units import Quantity, quantity_of_si

RANGE_SOURCE = (
    "Every visit priced again with the area, the products and the time that the error bar allows. "
    "All visits go to the same lawn, so their errors go together. The true area is within the bar "
    "95 times in 100."
)
#: 1 / (2 √(2π)): half the expected shortfall of a normal error of one standard deviation.
HALF_SHORTFALL = Decimal("0.199471")
AGAIN_SOURCE = (
    "Our own derivation: a lawn that turns out smaller is set right with the customer, one that is "
    "larger is done at the quoted price. The expected shortfall of a normal error is its standard "
    "deviation / √(2π), and half of it is saved when the error is halved: 1 / (2 √(2π)) is "
    f"{HALF_SHORTFALL}. {TO_THE_CENT}"
)
_JUST_PAST = 0.02  # of the area's unit: two of its last places


@dataclass(frozen=True)
class Sureness:
    """The range of a price, the area and the visits at which it breaks even, and what to do.

    ``low`` and ``high`` are before tax. Whatever is None is not known, or does not exist;
    ``why_not`` says so by the name of the figure.
    """

    low: Line | None
    high: Line | None
    break_even_area: MoneyFigure | None
    break_even_percent: MoneyFigure | None
    break_even_visits: MoneyFigure | None
    gain_of_measuring: Line | None
    measuring_pays: bool | None
    off_percent: Decimal | None
    why_not: dict[str, str]

    @property
    def figures(self) -> Iterator[MoneyFigure]:
        """Every figure with a working."""
        for each in (self.low, self.high, self.gain_of_measuring):
            if each is not None:
                yield each.figure
        for figure in (self.break_even_area, self.break_even_percent, self.break_even_visits):
            if figure is not None:
                yield figure


def sureness_of(visits: Sequence[VisitPrice], work: Work, book: Book, *, net: Decimal) -> Sureness:
    """Work out how sure a price is.

    Parameters
    ----------
    visits : Sequence of VisitPrice
        The priced visits. [currency]
    work : Work
        The work. [-]
    book : Book
        The price book. [currency]
    net : Decimal
        The price after discounts, before tax. [currency]

    Returns
    -------
    Sureness
        The range and the break-evens. [currency, area and visits]

    Raises
    ------
    Nothing
        What cannot be told says why.

    References
    ----------
    Each figure names its own.
    """
    why_not: dict[str, str] = {}
    growth = growth_of(visits, net=net)
    low, high = _range(work, book, why_not)
    area, percent = break_even(growth, visits, book, why_not)
    gain = _gain(visits, growth, book, why_not)
    measuring = book.costs.measuring
    pays = None if gain is None or measuring is None else gain.amount > measuring
    return Sureness(
        low,
        high,
        area,
        percent,
        break_even_visits(growth, len(visits), book, why_not),
        gain,
        pays,
        _off_percent(work.visits),
        why_not,
    )


def _range(work: Work, book: Book, why_not: dict[str, str]) -> tuple[Line | None, Line | None]:
    unknown = [visit for visit in work.visits if visit.off_m2 is None]
    if unknown:
        why_not["range"] = unknown[0].why_not
        return None, None
    ends = sorted((_net_at(share, work, book) for share in _shares(work, book)), key=_amount)
    return _end(ends[0], "low", "Lowest price"), _end(ends[-1], "high", "Highest price")


def _end(end: Line, key: str, name: str) -> Line:
    return replace(end, key=key, name=name, figure=replace(end.figure, key=key, name=name))


def _amount(each: Line) -> Decimal:
    return each.amount


def _shares(work: Work, book: Book) -> Iterator[float]:
    """The ends of the error bar; with bands for whole lawns each jump of the price between them."""
    yield from (-1.0, 1.0)
    if book.banding is not Banding.WHOLE:
        return
    for visit in work.visits:
        off = quantity_of_si(visit.off_m2 or 0.0, book.area_unit).value
        area = quantity_of_si(visit.area_m2, book.area_unit).value
        for band in book.bands:
            if band.up_to is None or not abs(float(band.up_to) - area) < off:
                continue
            at = (float(band.up_to) - area) / off
            yield from (at, min(at + _JUST_PAST / off, 1.0))


def _net_at(share: float, work: Work, book: Book) -> Line:
    """Price the work again with the area so many error bars larger."""
    moved = replace(work, visits=tuple(_moved(visit, share) for visit in work.visits))
    visits = [visit_price(visit, book) for visit in moved.visits]
    off = taken_off(visits, moved, book)
    terms = [Told(f"visit {n}", each.price, book.currency) for n, each in enumerate(visits, 1)]
    less = Told("discounts", -total_of(off.lines), book.currency)
    formula = " + ".join(term.name for term in terms)
    areas = {area_told("", visit.area_m2, book).value for visit in moved.visits}
    told = " or ".join(f"{area:,.2f} {book.area_unit}" for area in sorted(areas))
    derived = Derived(
        f"{formula} − discounts", (*terms, less), f"{RANGE_SOURCE} Here the area is {told}."
    )
    return line("net", "Price", off.left, book.currency, derived)


def _moved(visit: Visit, share: float) -> Visit:
    area_m2 = max(visit.area_m2 + share * (visit.off_m2 or 0.0), 0.0)
    factor = area_m2 / visit.area_m2 if visit.area_m2 else 1.0
    return replace(
        visit,
        area_m2=area_m2,
        passes_s=visit.passes_s * factor,
        paced_m2=visit.paced_m2 * factor,
        products=tuple(_used_at(used, share, factor) for used in visit.products),
    )


def _used_at(used: Used, share: float, factor: float) -> Used:
    unit = used.amount.unit
    if used.off is None:
        amount = used.amount.value * factor
    else:
        amount = max(used.amount.value + share * used.off.to(unit).value, 0.0)
    return replace(used, amount=Quantity(amount, unit))


def _off_percent(visits: Sequence[Visit]) -> Decimal | None:
    """The widest error bar of a visit, as a share of its area."""
    shares = [
        None if visit.off_m2 is None or not visit.area_m2 else visit.off_m2 / visit.area_m2
        for visit in visits
    ]
    known = [share for share in shares if share is not None]
    if not known or len(known) < len(shares):
        return None
    return Decimal(100 * max(known)).quantize(Decimal("0.01"))


def _gain(
    visits: Sequence[VisitPrice], growth: Growth, book: Book, why_not: dict[str, str]
) -> Line | None:
    off = _off_percent([each.visit for each in visits])
    if off is None:
        why_not["gain_of_measuring"] = "Nobody knows how far the area may be off."
        return None
    sigmas = Decimal(str(SIGMAS_OF_95_PERCENT))
    overhead = Told("overhead", book.costs.overhead_percent, "%")
    inputs = (
        Told("cost that grows", growth.grows, book.currency),
        overhead,
        Told("error bar", off, "%"),
    )
    worth = growth.grows * (1 + overhead.value / 100) * off / 100 / sigmas * HALF_SHORTFALL
    return line(
        "gain_of_measuring",
        "What halving the error would save in all these visits",
        cents(worth),
        book.currency,
        Derived(
            f"{HALF_SHORTFALL} × cost that grows × (1 + overhead / 100) × error bar / 100 "
            f"/ {sigmas}",
            inputs,
            AGAIN_SOURCE,
        ),
    )
