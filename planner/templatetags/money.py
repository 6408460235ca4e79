"""Money on a page: two places, the sign of the currency, and the working at hand."""

from decimal import Decimal
from typing import Any

from django import template

from properties.core.showing import AREA, shown, shown_unit
from properties.core.showing_money import SIGNS, shown_money
from properties.core.units import Quantity

register = template.Library()


@register.filter
def money(amount: str | Decimal | None, currency: str) -> str:
    """Write an amount, or a dash where there is none."""
    return "–" if amount is None else shown_money(Decimal(amount), currency)


@register.filter
def in_thousands(number: Decimal) -> str:
    """Write a number that somebody typed, with commas between thousands."""
    return f"{number:,f}"


@register.filter
def told(entry: dict[str, str]) -> str:
    """Write a number of a working with its unit, to the last digit that it has."""
    value, unit = Decimal(entry["value"]), entry["unit"]
    if unit in SIGNS:
        return money(value, unit)
    for currency, sign in SIGNS.items():
        if unit.startswith(f"{currency}/"):
            per = shown_unit(unit.removeprefix(f"{currency}/"))
            return f"{sign}{value:,f} for {per if per[0].isdigit() else f'1 {per}'}"
    return f"{value:,f} {shown_unit(unit)}".replace("-", "−").strip()


@register.filter
def roundly(entry: dict[str, str]) -> str:
    """Write a number of a working to be read: what is no money without digits that tell nothing."""
    value, unit = Decimal(entry["value"]), entry["unit"]
    if unit in SIGNS or "/" in unit:
        return told(entry)
    places = 0 if abs(value) >= 100 or not unit else 1
    return f"{value:,.{places}f} {shown_unit(unit)}".replace("-", "−").strip()


@register.filter
def ground(entry: dict[str, str], units: str) -> str:
    """Write an area of a price in the units of the person who reads."""
    return shown(Quantity(float(entry["value"]), entry["unit"]).to(AREA[units]))


@register.inclusion_tag("planner/parts/money_figure.html", takes_context=True)
def money_figure(context: dict[str, Any], key: str, name: str = "") -> dict[str, Any]:
    """Show a figure of a price that opens to its working."""
    working = context["money_figures"].get(key)
    if working is None:
        return {"working": None}
    result = working["result"]
    is_area = result["unit"] in AREA.values()
    reading = ground(result, context["person"].units) if is_area else roundly(result)
    return {"working": working, "name": name or working["name"], "reading": reading}
