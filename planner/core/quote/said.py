"""How a quote says days and quantities to a customer."""

from datetime import date
from typing import Any

from planner.core.shown import day_said
from properties.core.showing import shown
from properties.core.units import Quantity

Json = dict[str, Any]


def window_said(first: date, last: date) -> str:
    """Write the days between which a visit comes.

    Parameters
    ----------
    first, last : date
        The first and the last day. [day]

    Returns
    -------
    str
        Such as ``April 10 to May 2``, with the years where they differ. [day]

    Raises
    ------
    Nothing
        Every window can be written.

    References
    ----------
    Common practice.
    """
    if first == last:
        return day_said(first)
    if first.year != last.year:
        return f"{day_said(first)} to {day_said(last)}"
    return " to ".join(day_said(day).split(",")[0] for day in (first, last))


def quantity_said(told: Json) -> str:
    """Write a quantity of a plan.

    Parameters
    ----------
    told : dict
        Its ``value`` and ``unit``. [unit]

    Returns
    -------
    str
        Rounded to be read, with its unit. [unit]

    Raises
    ------
    Nothing
        Every quantity can be written.

    References
    ----------
    Our own rule, ``properties.core.showing``.
    """
    return shown(Quantity(told["value"], told["unit"]))
