"""A version of a price book as plain JSON, to be kept and read back to the same book.

Amounts are text, so that none is ever a float: "12.50".
"""

from collections.abc import Mapping
from decimal import Decimal
from typing import Any

from planner.core.money import Step, Way
from planner.core.pricing.book import (
    Band,
    Banding,
    Basis,
    Book,
    Costs,
    Discount,
    When,
    require_sound,
)
from planner.core.report.quantities import Json
from planner.core.shown import Units


def terms_of(book: Book) -> Json:
    """Write what a price book says, without its name and version.

    Parameters
    ----------
    book : Book
        A price book. [-]

    Returns
    -------
    dict
        Its terms. [currency of the book]

    Raises
    ------
    Nothing
        Every book can be written.

    References
    ----------
    Our own format.
    """
    costs = {name: _text(getattr(book.costs, name)) for name in Costs.__dataclass_fields__}
    return {
        "currency": book.currency,
        "units": book.units.value,
        "basis": book.basis.value,
        "banding": book.banding.value,
        "bands": [{"up_to": _text(band.up_to), "rate": _text(band.rate)} for band in book.bands],
        "minimum": _text(book.minimum),
        "trim": _text(book.trim),
        "costs": costs,
        "margin_percent": _text(book.margin_percent),
        "discounts": [
            {
                "name": each.name,
                "when": each.when.value,
                "percent": _text(each.percent),
                "amount": _text(each.amount),
                "from_visits": each.from_visits,
            }
            for each in book.discounts
        ],
        "step": book.step.value,
        "way": book.way.value,
    }


def book_of_terms(terms: Mapping[str, Any], *, name: str, version: int) -> Book:
    """Read a price book back.

    Parameters
    ----------
    terms : Mapping
        What ``terms_of`` wrote. [currency of the book]
    name : str
        What the book is called. [-]
    version : int
        Which version of it this is. [-]

    Returns
    -------
    Book
        The book. [currency]

    Raises
    ------
    FaultsFound
        If no price could honestly be made from it.

    References
    ----------
    Our own format.
    """
    book = Book(
        name=name,
        version=version,
        currency=terms["currency"],
        units=Units(terms["units"]),
        basis=Basis(terms["basis"]),
        banding=Banding(terms["banding"]),
        bands=tuple(Band(_maybe(band["up_to"]), Decimal(band["rate"])) for band in terms["bands"]),
        minimum=Decimal(terms["minimum"]),
        trim=_maybe(terms["trim"]),
        costs=Costs(**{key: _maybe(value) for key, value in terms["costs"].items()}),  # type: ignore[arg-type]  # the names are its own
        margin_percent=Decimal(terms["margin_percent"]),
        discounts=tuple(
            Discount(
                each["name"],
                When(each["when"]),
                percent=_maybe(each["percent"]),
                amount=_maybe(each["amount"]),
                from_visits=each["from_visits"],
            )
            for each in terms["discounts"]
        ),
        step=Step(terms["step"]),
        way=Way(terms["way"]),
    )
    require_sound(book)
    return book


def _text(amount: Decimal | None) -> str | None:
    return None if amount is None else f"{amount:f}"


def _maybe(text: str | None) -> Decimal | None:
    return None if text is None else Decimal(text)
