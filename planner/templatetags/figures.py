"""Figures on a page: rounded to be read, exact to be checked."""

from django import template

from properties.core.units import Quantity
from properties.web.showing import shown_unit

register = template.Library()


@register.filter
def exact(number: float) -> str:
    """Write a number to its last digit, for machines that read the page."""
    return repr(number)


@register.filter
def telling(quantity: Quantity) -> str:
    """Write a quantity with enough digits to follow the working by hand."""
    return f"{quantity.value:,.10g} {shown_unit(quantity.unit)}"
