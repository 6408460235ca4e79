"""How a number is written on a page: rounded once, here, never without its unit."""

import math
from collections.abc import Sequence

from properties.core.units import Quantity, quantity_of_si

AREA = {"us": "sq ft", "metric": "m2"}
LENGTH = {"us": "ft", "metric": "m"}
_PAGE_NAMES = (("1000 sq ft", "1,000 sq ft"), ("m2", "m²"), ("deg ", "°"), ("deg", "°"))


def shown_unit(unit: str) -> str:
    """Spell a unit the way a person reads it.

    Parameters
    ----------
    unit : str
        A unit of the closed list. [-]

    Returns
    -------
    str
        Its spelling on a page. [-]

    Raises
    ------
    Nothing
        Any number can be written.

    References
    ----------
    Our own rule: as many digits as tell something, and always the unit.
    """
    for ours, theirs in _PAGE_NAMES:
        unit = unit.replace(ours, theirs)
    return unit


def shown_number(value: float) -> str:
    """Write a number with three or four telling digits.

    Parameters
    ----------
    value : float
        Any number. [any unit]

    Returns
    -------
    str
        The number, rounded to be read. [as given]

    Raises
    ------
    Nothing
        Any number can be written.

    References
    ----------
    Our own rule: as many digits as tell something, and always the unit.
    """
    size = abs(value)
    if size >= 1000:
        return f"{value:,.0f}"
    decimals = 1 if size >= 100 else 2 if size >= 10 else 3 if size >= 0.1 else 4
    written = f"{value:.{decimals}f}"
    return written.rstrip("0").rstrip(".") if "." in written else written


def shown(quantity: Quantity) -> str:
    """Write a quantity for a page.

    Parameters
    ----------
    quantity : Quantity
        A number with its unit. [unit]

    Returns
    -------
    str
        Number and unit. [unit]

    Raises
    ------
    Nothing
        Any number can be written.

    References
    ----------
    Our own rule: as many digits as tell something, and always the unit.
    """
    gap = "" if quantity.unit == "deg" else " "
    return f"{shown_value(quantity)}{gap}{shown_unit(quantity.unit)}"


def shown_value(quantity: Quantity) -> str:
    """Write the number of a quantity as a page rounds it: an area in whole square feet.

    Parameters
    ----------
    quantity : Quantity
        A number with its unit. [unit]

    Returns
    -------
    str
        The number alone. [unit]

    Raises
    ------
    Nothing
        Any number can be written.

    References
    ----------
    Our own rule: a tenth of a square foot tells nothing about a lawn.
    """
    if quantity.unit == "sq ft" and abs(quantity.value) >= 1:
        return f"{quantity.value:,.0f}"
    if quantity.unit == "deg":
        return shown_number(round(quantity.value, 1))
    return shown_number(quantity.value)


def shown_area(area_m2: float, units: str) -> str:
    """Write an area in whole square feet, or in square metres.

    Parameters
    ----------
    area_m2 : float
        An area. [m²]
    units : str
        ``us`` or ``metric``. [-]

    Returns
    -------
    str
        The area with its unit. [sq ft or m²]

    Raises
    ------
    Nothing
        Any number can be written.

    References
    ----------
    Our own rule: as many digits as tell something, and always the unit.
    """
    quantity = quantity_of_si(area_m2, AREA[units])
    if units == "us" or quantity.value >= 1000:
        return f"{quantity.value:,.0f} {shown_unit(quantity.unit)}"
    return f"{quantity.value:,.1f} {shown_unit(quantity.unit)}"


def shown_length(length_m: float, units: str) -> str:
    """Write a length in feet or metres.

    Parameters
    ----------
    length_m : float
        A length. [m]
    units : str
        ``us`` or ``metric``. [-]

    Returns
    -------
    str
        The length with its unit. [ft or m]

    Raises
    ------
    Nothing
        Any number can be written.

    References
    ----------
    Our own rule: as many digits as tell something, and always the unit.
    """
    quantity = quantity_of_si(length_m, LENGTH[units])
    return f"{quantity.value:,.1f} {quantity.unit}"


def steps_that_add_up(parts: Sequence[float], whole: float, *, per_unit: int) -> tuple[int, ...]:
    """Round the parts of a whole to steps so that their sum is the whole rounded likewise.

    The parts that lose most by being cut off get the steps that are missing, so no part is
    more than one step from what it is.

    Parameters
    ----------
    parts : sequence of float
        What a whole is made of, none below zero. [any unit]
    whole : float
        Their sum, up to what floats lose. [as the parts]
    per_unit : int
        How many steps make one unit: ten for tenths. [1/unit]

    Returns
    -------
    tuple of int
        The parts in their order. [steps]

    Raises
    ------
    Nothing
        Any parts can be rounded.

    References
    ----------
    The largest remainders get what is left: A. Hamilton's rule of 1792 for shares of a whole.
    """
    cut = [math.floor(part * per_unit) for part in parts]
    missing = round(whole * per_unit) - sum(cut)
    most_lost = sorted(range(len(parts)), key=lambda n: cut[n] - parts[n] * per_unit)
    for n in most_lost[: max(missing, 0)]:
        cut[n] += 1
    return tuple(cut)
