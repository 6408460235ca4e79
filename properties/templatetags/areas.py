"""Areas and quantities as a page writes them."""

from django import template

from properties.core.showing import shown, shown_area
from properties.core.turfgrasses import TURFGRASSES
from properties.core.units import Quantity

register = template.Library()


@register.filter
def area(area_m2: float, units: str) -> str:
    """Write an area in the units of the person who reads."""
    return shown_area(area_m2, units)


@register.filter
def quantity(value: Quantity | None) -> str:
    """Write a quantity, or a dash where there is none."""
    return "–" if value is None else shown(value)


@register.filter
def turfgrass(word: str) -> str:
    """Name a turfgrass by the word it is kept under."""
    return TURFGRASSES.get(word, word)
