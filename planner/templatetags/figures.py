"""Figures on a page: rounded to be read, exact to be checked."""

from typing import Any

from django import template

from properties.core.showing import shown_unit, shown_value
from properties.core.units import Quantity

register = template.Library()


@register.inclusion_tag("planner/parts/figure.html", takes_context=True)
def figure(
    context: dict[str, Any],
    key: str,
    look: str = "row",
    name: str = "",
    reading: Quantity | None = None,
) -> dict[str, Any]:
    """Show a figure of the plan that opens to its working.

    ``reading`` is the same amount in the unit of the measure in somebody's hand.
    """
    working = context["figures"].get(key)
    called = name or (working and working.name)
    return {"working": working, "look": look, "name": called, "reading": reading}


@register.filter
def json_quantity(entry: dict[str, Any]) -> Quantity:
    """Read a quantity of the plan's JSON."""
    return Quantity(entry["value"], entry["unit"])


@register.filter
def number(quantity: Quantity) -> str:
    """Write the number of a quantity, where its unit stands beside it."""
    return shown_value(quantity)


@register.filter
def unit(quantity: Quantity) -> str:
    """Write the unit of a quantity, where its number stands before it."""
    return shown_unit(quantity.unit)


@register.filter
def dial(setting: float) -> str:
    """Write the setting of a spreader as it stands on its dial."""
    return f"{setting:.4g}"


@register.filter
def exact(number: float) -> str:
    """Write a number to its last digit, for machines that read the page."""
    return repr(number)


@register.filter
def telling(quantity: Quantity) -> str:
    """Write a quantity with enough digits to follow the working by hand."""
    return f"{quantity.value:,.10g} {shown_unit(quantity.unit)}"
