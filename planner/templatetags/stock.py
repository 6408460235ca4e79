"""Money and amounts of a stock, as a page writes them."""

from decimal import Decimal

from django import template

register = template.Library()

SIGNS = {"": "$", "USD": "$", "EUR": "€", "GBP": "£"}


@register.filter
def money(amount: Decimal | None, currency: str = "") -> str:
    """Write an amount of money to the cent; nothing where it is not known."""
    if amount is None:
        return ""
    sign = SIGNS.get(currency, f"{currency} ")
    minus = "−" if amount < 0 else ""
    return f"{minus}{sign}{abs(amount):,.2f}"
