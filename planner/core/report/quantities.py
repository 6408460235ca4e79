"""Quantities and rates as JSON. Nothing is rounded."""

from typing import Any

from planner.core.mix.products import Product
from planner.core.shown import Shown
from properties.core.units import Quantity

Json = dict[str, Any]


def quantity(told: Quantity) -> Json:
    """Write a quantity.

    Parameters
    ----------
    told : Quantity
        Any quantity. [any unit]

    Returns
    -------
    dict
        Its number and its unit. [unit of the quantity]

    Raises
    ------
    Nothing
        Every quantity can be written.

    References
    ----------
    Our own format, docs/plan-request.md.
    """
    return {"value": told.value, "unit": told.unit}


def maybe(told: Quantity | None) -> Json | None:
    """Write a quantity that may be unknown.

    Parameters
    ----------
    told : Quantity or None
        Any quantity, or None. [any unit]

    Returns
    -------
    dict or None
        Its number and its unit, None where it is unknown. [unit of the quantity]

    Raises
    ------
    Nothing
        Every quantity can be written.

    References
    ----------
    Our own format, docs/plan-request.md.
    """
    return None if told is None else quantity(told)


def rate_of(product: Product, rate: float | None, shown: Shown) -> Json | None:
    """Write a rate of a product in the unit that its kind of rate is shown in.

    Parameters
    ----------
    product : Product
        The product. [-]
    rate : float or None
        The rate, None where it is unknown. [L or kg per m² or L]
    shown : Shown
        The units to show. [-]

    Returns
    -------
    dict or None
        The rate. [unit shown]

    Raises
    ------
    Nothing
        Every rate can be written.

    References
    ----------
    Our own format, docs/plan-request.md.
    """
    return None if rate is None else quantity(shown.rate_of(product.rate, rate))


def range_of(product: Product, shown: Shown) -> Json:
    """Write the label's range of rates; an end that nobody copied is null.

    Parameters
    ----------
    product : Product
        The product. [-]
    shown : Shown
        The units to show. [-]

    Returns
    -------
    dict
        Both ends. [unit shown]

    Raises
    ------
    Nothing
        Every range can be written.

    References
    ----------
    Our own format, docs/plan-request.md.
    """
    limits = product.label.rate
    lowest, highest = (None if end is None else end.si for end in (limits.lowest, limits.highest))
    return {"min": rate_of(product, lowest, shown), "max": rate_of(product, highest, shown)}
