"""A price as JSON, to be kept as it was: money as text, so that no float comes near it."""

from collections.abc import Sequence
from decimal import Decimal

from planner.core.pricing.book import Book
from planner.core.pricing.figures import Line, MoneyFigure, Told
from planner.core.pricing.measured import area_told
from planner.core.pricing.price import Price
from planner.core.pricing.visits import VisitPrice
from planner.core.report.quantities import Json


def price_as_json(price: Price) -> Json:
    """Write a price as JSON.

    Parameters
    ----------
    price : Price
        A price. [currency]

    Returns
    -------
    dict
        Its parts; every amount is text with a point, such as "119.00". [currency]

    Raises
    ------
    Nothing
        Every price can be written.

    References
    ----------
    Our own format, docs/price.md.
    """
    book, sureness = price.book, price.sureness
    return {
        "name": price.work.name,
        "on": price.work.on.isoformat(),
        "prepaid": price.work.prepaid,
        "book": {"name": book.name, "version": book.version},
        "currency": book.currency,
        "visits": [_visit(visit, book) for visit in price.visits],
        "discounts": _lines(price.discounts),
        "net": _money(price.net.amount),
        "taxes": _lines(price.taxes),
        "tax": _money(price.tax),
        "total": _money(price.total.amount),
        "cost": _money(price.cost),
        "make_up": _lines(price.make_up),
        "margin_percent": _figure_value(price.margin_percent),
        "low": None if price.low is None else _money(price.low),
        "high": None if price.high is None else _money(price.high),
        "break_even_area": _figure_value(sureness.break_even_area),
        "break_even_percent": _figure_value(sureness.break_even_percent),
        "break_even_visits": _figure_value(sureness.break_even_visits),
        "gain_of_measuring": _amount_or_null(sureness.gain_of_measuring),
        "measuring_pays": sureness.measuring_pays,
        "unknown": dict(sureness.why_not),
        "warnings": [{"code": each.code, "message": each.message} for each in price.warnings],
        "working": [_figure(figure) for figure in price.figures],
    }


def _visit(visit: VisitPrice, book: Book) -> Json:
    area_m2, off_m2 = visit.visit.area_m2, visit.visit.off_m2
    return {
        "name": visit.visit.name,
        "area": _value(area_told("area", area_m2, book)),
        "area_off": None if off_m2 is None else _value(area_told("off", off_m2, book)),
        "price": _money(visit.price),
        "steps": _lines(visit.steps),
        "cost": _money(visit.cost.total),
        "costs": _lines(visit.cost.lines),
        "per_area": _figure_value(visit.per_area),
    }


def _lines(lines: Sequence[Line]) -> list[Json]:
    return [{"key": each.key, "name": each.name, "amount": _money(each.amount)} for each in lines]


def _money(amount: Decimal) -> str:
    return f"{amount:.2f}"


def _amount_or_null(told: Line | None) -> str | None:
    return None if told is None else _money(told.amount)


def _figure_value(figure: MoneyFigure | None) -> Json | None:
    return None if figure is None else _value(figure.result)


def _value(told: Told) -> Json:
    return {"value": f"{told.value:f}", "unit": told.unit}


def _figure(figure: MoneyFigure) -> Json:
    return {
        "figure": figure.key,
        "name": figure.name,
        "formula": figure.formula,
        "inputs": [{"name": each.name, **_value(each)} for each in figure.inputs],
        "result": _value(figure.result),
        "source": figure.source,
    }


def figure_as_json(figure: MoneyFigure) -> Json:
    """Write a figure in money that is no part of a price, such as a share of it.

    Parameters
    ----------
    figure : MoneyFigure
        A figure. [currency]

    Returns
    -------
    dict
        Its name, formula, inputs, result and source, as in the working of a price. [currency]

    Raises
    ------
    Nothing
        Every figure can be written.

    References
    ----------
    Our own format: see ``price_as_json``.
    """
    return _figure(figure)
