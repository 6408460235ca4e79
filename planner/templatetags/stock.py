"""Money and amounts of a stock, as a page writes them."""

from decimal import Decimal

from django import template

from planner.selectors.stock import on_shelf
from properties.core.showing import shown
from properties.core.units import Quantity

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


@register.filter
def shelf(amount: Quantity, units: str) -> str:
    """Write an amount in the unit that a shelf is counted in."""
    return shown(on_shelf(amount, units)).replace("-", "−")
