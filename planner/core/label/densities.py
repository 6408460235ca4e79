"""A rate by volume as one by weight, and the reverse, over the density of the product."""

from planner.core.label.labels import EVERY_KIND, Form
from properties.core.units import Dimension, Quantity, quantity_of_si

#: What an amount is measured in instead, by the kind it comes out as.
SMALL_UNITS = {Form.DRY: ("oz wt", "g"), Form.LIQUID: ("fl oz", "mL")}
_METRIC = ("L", "mL", "kg", "g", "mg")


def by_density(rate: Quantity, *, density: Quantity, form: Form) -> Quantity:
    """Say a rate in weight or in volume, whichever the product is measured out by.

    Parameters
    ----------
    rate : Quantity
        A rate, of either kind. [L or kg per m² or L]
    density : Quantity
        The weight of a measured volume of the product, > 0. [kg/L]
    form : Form
        How the product is measured out. [-]

    Returns
    -------
    Quantity
        The same rate; as it was where it is of that kind already. [L or kg per m² or L]

    Raises
    ------
    Nothing
        The arguments were checked at the door.

    References
    ----------
    Weight = volume × density, by definition.
    """
    if EVERY_KIND[rate.dimension].form is form:
        return rate
    factor = density.si if form is Form.DRY else 1 / density.si
    if rate.dimension is Dimension.SHARE:
        return quantity_of_si(rate.si * factor, "oz wt/gal")
    # Without an extent it is what one plant gets.
    amount, _, extent = rate.unit.partition("/")
    small = SMALL_UNITS[form][amount in _METRIC]
    return quantity_of_si(rate.si * factor, f"{small}/{extent}" if extent else small)
