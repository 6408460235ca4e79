"""How a number is written on a page: rounded once, here, never without its unit."""

from properties.core.units import Quantity, quantity_of_si

AREA = {"us": "sq ft", "metric": "m2"}
LENGTH = {"us": "ft", "metric": "m"}
_PAGE_NAMES = (("1000 sq ft", "1,000 sq ft"), ("m2", "m²"), (" deg", "°"))


def shown_unit(unit: str) -> str:
    """Spell a unit the way a person reads it."""
    for ours, theirs in _PAGE_NAMES:
        unit = unit.replace(ours, theirs)
    return unit


def shown_number(value: float) -> str:
    """Write a number with three or four telling digits, and none more than it has."""
    size = abs(value)
    if size >= 1000:
        return f"{value:,.0f}"
    decimals = 1 if size >= 100 else 2 if size >= 10 else 3 if size >= 0.1 else 4
    written = f"{value:.{decimals}f}"
    return written.rstrip("0").rstrip(".") if "." in written else written


def shown(quantity: Quantity) -> str:
    """Write a quantity for a page."""
    return f"{shown_number(quantity.value)} {shown_unit(quantity.unit)}"


def shown_area(area_m2: float, units: str) -> str:
    """Write an area in whole square feet, or in square metres."""
    quantity = quantity_of_si(area_m2, AREA[units])
    if units == "us" or quantity.value >= 1000:
        return f"{quantity.value:,.0f} {shown_unit(quantity.unit)}"
    return f"{quantity.value:,.1f} {shown_unit(quantity.unit)}"


def shown_length(length_m: float, units: str) -> str:
    """Write a length in feet or metres."""
    quantity = quantity_of_si(length_m, LENGTH[units])
    return f"{quantity.value:,.1f} {quantity.unit}"
