"""The price that the list asks for ground and for its edge.

By marginal bands each part of the lawn has the price of its own band; by whole-area bands
all of it has the price of the band it ends in, so that a larger lawn can cost less.
"""

from decimal import Decimal

from planner.core.money import cents
from planner.core.pricing.book import Banding, Book
from planner.core.pricing.costs import TO_THE_CENT
from planner.core.pricing.figures import Derived, Line, Told, line
from planner.core.pricing.measured import area_told, length_told
from planner.core.pricing.work import Visit

MARGINAL_SOURCE = (
    "The price book, bands for the parts of a lawn: each part has the price of its own band. "
    f"{TO_THE_CENT}"
)
WHOLE_SOURCE = (
    "The price book, bands for whole lawns: all of it has the price of the band it ends in. "
    f"{TO_THE_CENT}"
)
TRIM_SOURCE = f"The price book: so much for each ft or m of edge. {TO_THE_CENT}"


def list_lines(visit: Visit, book: Book) -> tuple[Line, ...]:
    """Price the ground of a visit by the list, and the trimming of its edge.

    Parameters
    ----------
    visit : Visit
        The visit. [m² and m]
    book : Book
        The list. [currency]

    Returns
    -------
    tuple of Line
        The ground, then the edge if it is trimmed. [currency]

    Raises
    ------
    Nothing
        A sound book has a price for any area.

    References
    ----------
    The firm’s own price book.
    """
    area = area_told("area", visit.area_m2, book)
    ground = _marginal(area, book) if book.banding is Banding.MARGINAL else _whole(area, book)
    if book.trim is None or not visit.trims:
        return (ground,)
    edge = length_told("edge", visit.edge_m, book)
    rate = Told("trim", book.trim, f"{book.currency}/{book.length_unit}")
    worth = cents(edge.value * rate.value)
    derived = Derived("edge × trim", (edge, rate), TRIM_SOURCE)
    return (ground, line("trim", "Trimming the edge", worth, book.currency, derived))


def _marginal(area: Told, book: Book) -> Line:
    inputs, terms, worth = [], [], Decimal(0)
    for number, (part, rate) in enumerate(_parts(area.value, book), start=1):
        inputs += [
            Told(f"in band {number}", part, book.area_unit),
            Told(f"price {number}", rate, book.rate_unit),
        ]
        terms.append(f"in band {number} × price {number} / {book.per_area}")
        worth += part * rate / book.per_area
    return line(
        "ground",
        "By the area",
        cents(worth),
        book.currency,
        Derived(" + ".join(terms), tuple(inputs), MARGINAL_SOURCE),
    )


def _parts(area: Decimal, book: Book) -> list[tuple[Decimal, Decimal]]:
    """What lies in each band that the area reaches, with the band's price."""
    ends = [area if band.up_to is None else min(area, band.up_to) for band in book.bands]
    starts = [Decimal(0), *ends[:-1]]
    parts = [
        (end - start, band.rate)
        for start, end, band in zip(starts, ends, book.bands, strict=True)
        if end > start
    ]
    return parts or [(area, book.bands[0].rate)]


def _whole(area: Told, book: Book) -> Line:
    rate = next(band.rate for band in book.bands if band.up_to is None or area.value <= band.up_to)
    price = Told("price", rate, book.rate_unit)
    return line(
        "ground",
        "By the area",
        cents(area.value * rate / book.per_area),
        book.currency,
        Derived(f"area × price / {book.per_area}", (area, price), WHOLE_SOURCE),
    )
