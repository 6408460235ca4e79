"""A container of a product, and how an amount in stock is said.

Amounts in L or kg.
"""

import math
from dataclasses import dataclass

from planner.core.label.labels import Form
from planner.core.shown import Units
from properties.core.errors import Refused
from properties.core.units import Dimension, Quantity, quantity_of_si

FORMS = {Dimension.VOLUME: Form.LIQUID, Dimension.MASS: Form.DRY}

#: So near to a whole number of containers an amount is that number.
SAME_AMOUNT = 1e-9

#: The large unit of a form and the small one, in which less than one of the large is said.
_UNITS = {
    (Form.LIQUID, Units.US): ("gal", "fl oz"),
    (Form.LIQUID, Units.METRIC): ("L", "mL"),
    (Form.DRY, Units.US): ("lb", "oz wt"),
    (Form.DRY, Units.METRIC): ("kg", "g"),
}


@dataclass(frozen=True)
class Filled:
    """An amount as so many full containers, and what is left in an opened one."""

    full: int
    opened: float


def form_of(size: Quantity, *, field: str = "size") -> Form:
    """Tell whether a container is of something poured or something weighed.

    Parameters
    ----------
    size : Quantity
        What one container holds. [volume or weight]
    field : str
        What to call the input in a refusal. [-]

    Returns
    -------
    Form
        Liquid for a volume, dry for a weight. [-]

    Raises
    ------
    Refused
        If it is neither, or holds nothing.

    References
    ----------
    Common practice: volume and weight are different things without a density.
    """
    form = FORMS.get(size.dimension)
    if form is None:
        raise Refused(
            field, f"{size} is not what a container holds.", "Enter a volume or a weight."
        )
    if size.si <= 0:
        raise Refused(field, "A container holds more than nothing.", "Copy it from the container.")
    return form


def filled(amount: float, *, size: float) -> Filled:
    """Count full containers, as if one were opened at a time.

    Parameters
    ----------
    amount : float
        What is there, not below zero. [L or kg]
    size : float
        What one container holds, > 0. [as the amount]

    Returns
    -------
    Filled
        The full ones and the rest. [as the amount]

    Raises
    ------
    Nothing
        The arguments were checked at the door.

    References
    ----------
    Our own derivation: a whole number of containers but for the last digits of a float.
    """
    full = math.floor(amount / size + SAME_AMOUNT)
    opened = amount - full * size
    return Filled(full, opened if opened > size * SAME_AMOUNT else 0.0)


def amount_in(amount: float, *, form: Form, units: Units) -> Quantity:
    """Say an amount in the unit that a shelf is counted in.

    Parameters
    ----------
    amount : float
        An amount, also below zero. [L or kg]
    form : Form
        How the product is measured out. [-]
    units : Units
        The units of who is reading. [-]

    Returns
    -------
    Quantity
        Gallons, pounds, litres or kilograms; less than one in the small unit. [unit shown]

    Raises
    ------
    Nothing
        Every amount can be said.

    References
    ----------
    Common practice.
    """
    large, small = _UNITS[form, units]
    told = quantity_of_si(amount, large)
    return told if abs(told.value) >= 1 or not amount else quantity_of_si(amount, small)
