"""The rate that counts where a label has one per area and a least share of the spray.

Rates are L or kg per m², concentrations L or kg per L of finished spray, outputs L/m².
"""

from collections.abc import Iterable
from dataclasses import replace

from planner.core.label.densities import by_density
from planner.core.label.labels import RATE_KINDS, SAME_NUMBER
from planner.core.mix.products import LeastInSpray, Product
from properties.core.units import Quantity, quantity_of_si


def at_greater_rates(products: Iterable[Product], *, output_l_per_m2: float) -> tuple[Product, ...]:
    """Put each product at the greater of its rate per area and its least in the spray.

    Parameters
    ----------
    products : Iterable[Product]
        The mix as it was asked for. [-]
    output_l_per_m2 : float
        Finished spray that the tool puts down, > 0. [L/m²]

    Returns
    -------
    tuple[Product, ...]
        The same mix; only a product by area whose label has a least share can have another
        rate, and it keeps the one asked for beside it. [-]

    Raises
    ------
    Nothing
        Any mix will do.

    References
    ----------
    The labels: whichever is more. Rate of the least share = share × output.
    """
    return tuple(_at_greater_rate(each, output_l_per_m2) for each in products)


def least_in_form(product: Product) -> Quantity | None:
    """Say the least share of the spray in what the product is measured by.

    Parameters
    ----------
    product : Product
        The product with its label. [-]

    Returns
    -------
    Quantity or None
        Weight or volume in the spray, None where the label tells no least. [unit as written]

    Raises
    ------
    Nothing
        What cannot be compared was refused at the door.

    References
    ----------
    See ``by_density``.
    """
    return in_form(product, product.label.conditions.least_in_spray)


def in_form(product: Product, limit: Quantity | None) -> Quantity | None:
    """Say a concentration in what a product is measured by: weight or volume.

    Parameters
    ----------
    product : Product
        The product, with the density of its label where it needs one. [-]
    limit : Quantity or None
        A concentration of its label. [weight or volume in a volume]

    Returns
    -------
    Quantity or None
        The same concentration, None where there is none. [weight or volume in a volume]

    Raises
    ------
    Nothing
        What cannot be compared was refused at the door.

    References
    ----------
    See ``by_density``.
    """
    density, form = product.label.density, product.kind.form
    if limit is None or RATE_KINDS[limit.dimension].form is form:
        return limit
    return None if density is None else by_density(limit, density=density, form=form)


def _at_greater_rate(product: Product, output_l_per_m2: float) -> Product:
    if not product.by_area:
        return product
    least = least_in_form(product)
    if least is None:
        return product
    asked = product.rate if product.least is None else product.least.asked
    told = LeastInSpray(asked, least, output_l_per_m2)
    is_less = asked.si < told.rate_si * (1 - SAME_NUMBER)
    rate = quantity_of_si(told.rate_si, asked.unit) if is_less else asked
    return replace(product, rate=rate, least=told)
