"""How strong the spray may be, and how strong it must be at least, by what each label says.

Concentrations are L or kg of product per L of finished spray, outputs L/m².
"""

import math
from collections.abc import Iterator, Sequence

from planner.core.findings import Finding, Findings
from planner.core.label.labels import SAME_NUMBER
from planner.core.mix.greater_rate import in_form, least_in_form
from planner.core.mix.portions import liquid_share
from planner.core.mix.products import Product
from planner.core.shown import Shown, said
from properties.core.units import Quantity


def strength_findings(
    products: Sequence[Product], *, output_l_per_m2: float, shown: Shown
) -> Findings:
    """Compare how strong the spray is with what each label says of it.

    Parameters
    ----------
    products : Sequence[Product]
        The mix. [-]
    output_l_per_m2 : float
        Finished spray that the tool puts down, > 0. [L/m²]
    shown : Shown
        The units to say numbers in. [-]

    Returns
    -------
    Findings
        Refusals. [-]

    Raises
    ------
    Nothing
        What is found is returned.

    References
    ----------
    The labels themselves. Concentration = rate per area / output; water is the spray
    without its liquid products.
    """
    found: list[Finding] = []
    for product in products:
        found += _too_strong(product, products, output_l_per_m2, shown)
        found += _too_thin(product, output_l_per_m2)
    return Findings(refusals=tuple(found))


def least_output_l_per_m2(product: Product, products: Sequence[Product]) -> float:
    """Find the output at which a product with a rate per area has just the water it asks for.

    Parameters
    ----------
    product : Product
        A product by area whose label limits how much of it goes into water. [-]
    products : Sequence[Product]
        The whole mix. [-]

    Returns
    -------
    float
        The output; without end where what follows the spray leaves no water. [L/m²]

    Raises
    ------
    Nothing
        Any mix will do.

    References
    ----------
    Our own derivation: rate ≤ strongest × (output × (1 − share) − liquids by area), with
    the share of the liquids that follow the spray.
    """
    strongest = _strongest(product)
    liquids = [each for each in products if each.is_liquid]
    by_area = math.fsum(each.rate.si for each in liquids if each.by_area)
    share = math.fsum(each.rate.si for each in liquids if not each.by_area)
    if strongest is None or share >= 1:
        return math.inf
    return (product.rate.si / strongest.si + by_area) / (1 - share)


def _strongest(product: Product) -> Quantity | None:
    return in_form(product, product.label.conditions.strongest_in_water)


def _concentration(product: Product, output_l_per_m2: float) -> float:
    return product.rate.si / output_l_per_m2 if product.by_area else product.rate.si


def _too_strong(
    product: Product, products: Sequence[Product], output_l_per_m2: float, shown: Shown
) -> Iterator[Finding]:
    strongest = _strongest(product)
    if strongest is None:
        return
    water = 1 - liquid_share(products, output_l_per_m2=output_l_per_m2)
    here = _concentration(product, output_l_per_m2)
    if here <= strongest.si * water * (1 + SAME_NUMBER):
        return
    told = product.label.conditions.strongest_in_water
    message = (
        f"{product.name}: the label allows {told} of water at most, and this spray would be "
        f"stronger. {_weaker(product, products, shown)}"
    )
    yield Finding("spray_too_strong", message, product=product.name)


def _weaker(product: Product, products: Sequence[Product], shown: Shown) -> str:
    least = least_output_l_per_m2(product, products)
    if not product.by_area or math.isinf(least):
        return "Choose a lower rate, or mix it with less else in the tank."
    return (
        f"Use a machine or tips that put down {said(shown.output_of(least))} at least, and "
        "calibrate again, or choose a lower rate."
    )


def _too_thin(product: Product, output_l_per_m2: float) -> Iterator[Finding]:
    """A product whose label wants a least share of the spray. One by area is put at it."""
    least = least_in_form(product)
    if least is None or _concentration(product, output_l_per_m2) >= least.si * (1 - SAME_NUMBER):
        return
    told = product.label.conditions.least_in_spray
    message = (
        f"{product.name}: the label asks for {told} of the finished spray at least, and "
        f"{product.rate} is less. Choose a rate that is not less."
    )
    yield Finding("spray_too_thin", message, product=product.name)
