"""The prices of options side by side, as the customer sees them: no cost, no margin."""

from collections.abc import Sequence
from decimal import Decimal
from typing import Any

from properties.core.showing_money import shown_money

Json = dict[str, Any]

NOTHING = "–"
TO_PAY = "To pay"
BEFORE_TAX = "Price before tax"
_CURRENCIES = {
    "USD": "US dollars",
    "CAD": "Canadian dollars",
    "AUD": "Australian dollars",
    "NZD": "New Zealand dollars",
    "MXN": "Mexican pesos",
    "EUR": "euros",
    "GBP": "pounds sterling",
}


def price_rows(prices: Sequence[Json]) -> list[Json]:
    """Lay prices side by side: all visits, what is taken off, what tax adds, what is to pay.

    Parameters
    ----------
    prices : Sequence of dict
        Prices as ``price_as_json`` writes them. [currency]

    Returns
    -------
    list of dict
        Rows, each with its ``name``, the ``amounts`` in the order of the prices and whether it
        is ``strong``. [currency]

    Raises
    ------
    Nothing
        Any prices can be laid side by side.

    References
    ----------
    Our own way of telling it: each column sums to its last row.
    """
    rows = [
        _row("Visits", [str(len(price["visits"])) for price in prices]),
        _row("All visits", [shown_money(_of_visits(price), price["currency"]) for price in prices]),
        *_named_rows(prices, "discounts"),
    ]
    if any(price["discounts"] for price in prices):
        rows.append(_row(BEFORE_TAX, [_shown(price["net"], price) for price in prices]))
    rows += _named_rows(prices, "taxes")
    to_pay = [_shown(price["total"], price) for price in prices]
    return [*rows, _row(TO_PAY, to_pay) | {"strong": True}]


def _row(name: str, amounts: list[str]) -> Json:
    return {"name": name, "amounts": amounts, "strong": False}


def _shown(amount: str, price: Json) -> str:
    return shown_money(Decimal(amount), price["currency"])


def _of_visits(price: Json) -> Decimal:
    return sum((Decimal(visit["price"]) for visit in price["visits"]), Decimal("0.00"))


def _named_rows(prices: Sequence[Json], member: str) -> list[Json]:
    """A row for each discount or tax by its name, with a dash where an option has none."""
    names = dict.fromkeys(line["name"] for price in prices for line in price[member])
    return [_row(name, [_amount(price, member, name) for price in prices]) for name in names]


def _amount(price: Json, member: str, name: str) -> str:
    amounts = [Decimal(line["amount"]) for line in price[member] if line["name"] == name]
    return shown_money(sum(amounts, Decimal("0.00")), price["currency"]) if amounts else NOTHING


def price_note(prices: Sequence[Json]) -> str:
    """Say what the prices are in, and whether tax is in them.

    Parameters
    ----------
    prices : Sequence of dict
        Prices as ``price_as_json`` writes them. [currency]

    Returns
    -------
    str
        A sentence or two. [-]

    Raises
    ------
    Nothing
        Any prices can be noted.

    References
    ----------
    Our own rule: the price that is accepted is the one that is asked.
    """
    currency = prices[0]["currency"]
    named = _CURRENCIES[currency]
    taxed = any(price["taxes"] for price in prices)
    tax = "“To pay” is with tax." if taxed else "No tax is added."
    return f"All amounts are in {named}. {tax}"
