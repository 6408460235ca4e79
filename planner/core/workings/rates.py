"""How the rate that is planned with came about: as it was asked for, or over the density."""

from planner.core.mix.products import LeastInSpray, Product
from planner.core.shown import Shown
from properties.core.units import Dimension, Quantity, quantity_of_si
from properties.core.working import Figure, Input

ASKED_SOURCE = "As asked for; the label decides."
MEAN_SOURCE = "By definition: all of the product over all of the ground."
GREATER_SOURCE = "The label: whichever is more. Rate of the least = its share × output."
DENSITY_SOURCE = "By definition: weight = volume × density, as copied from the label."

_DENSITY_UNITS = {"gal": "lb/gal", "L": "kg/L"}
#: Ounces by weight in a fluid ounce of 1 lb/gal: 16 in a pound over 128 in a gallon.
_SMALL_PER_DENSITY = {"gal": " / 8", "L": ""}
_DENSITY_PER_SMALL = {"gal": "8 × ", "L": ""}


def rate_used_figure(product: Product, *, shown: Shown, key: str) -> Figure:
    """Derive the rate that a plan uses of a product.

    Parameters
    ----------
    product : Product
        The product. [-]
    shown : Shown
        The units to show. [-]
    key : str
        Where the figure stands in the plan. [-]

    Returns
    -------
    Figure
        The derivation. [unit shown]

    Raises
    ------
    Nothing
        Every rate has a derivation.

    References
    ----------
    The derivation names its own.
    """
    used = shown.rate_of(product.rate, product.rate.si)
    if product.shares:
        return _mean(product, shown=shown, key=key)
    if product.least is not None:
        return _greater(product, product.least, shown=shown, key=key)
    density = product.label.density
    if product.rate_told is None or density is None:
        formula, source = "rate asked for", ASKED_SOURCE
        inputs: tuple[Input, ...] = (Input("rate asked for", used),)
    else:
        told = quantity_of_si(product.rate_told.si, _unit_told(product.rate_told, shown))
        weight = quantity_of_si(density.si, _DENSITY_UNITS[shown.spray])
        inputs = (Input("rate asked for", told), Input("density", weight))
        formula, source = _formula(product, shown), DENSITY_SOURCE
    return Figure(key, f"Rate of {product.name}", formula, inputs, used, source)


def _unit_told(told: Quantity, shown: Shown) -> str:
    if told.dimension is Dimension.SHARE:
        return f"{shown.liquid}/{shown.spray}"
    return shown.rate_unit(told)


def _formula(product: Product, shown: Shown) -> str:
    if product.is_liquid:
        return f"{_DENSITY_PER_SMALL[shown.spray]}rate asked for / density"
    return f"rate asked for × density{_SMALL_PER_DENSITY[shown.spray]}"


def _mean(product: Product, *, shown: Shown, key: str) -> Figure:
    """The mean over the ground of several tools, each with its own rate."""
    inputs: list[Input] = []
    areas, terms = [], []
    for number, (area_m2, told) in enumerate(product.shares, start=1):
        area = Input(f"area of tool {number}", shown.area_of(area_m2))
        rate = Input(f"rate of tool {number}", shown.rate_of(told, told.si))
        inputs += [area, rate]
        areas.append(area.name)
        terms.append(f"{area.name} × {rate.name}")
    return Figure(
        key,
        f"Rate of {product.name}, mean of the tools",
        f"({' + '.join(terms)}) / ({' + '.join(areas)})",
        tuple(inputs),
        shown.rate_of(product.rate, product.rate.si),
        MEAN_SOURCE,
    )


def _greater(product: Product, told: LeastInSpray, *, shown: Shown, key: str) -> Figure:
    asked = Input("rate asked for", shown.rate_of(product.rate, told.asked.si))
    output = Input("output", shown.output_of(told.output_l_per_m2))
    name = "least in the spray"
    if product.is_liquid:
        least = Input(name, quantity_of_si(told.least.si, "%"))
        of_least = f"{shown.small_in_volume} × {least.name} / 100 × {output.name}"
    else:
        unit = f"{shown.amount_unit(product.rate)}/{shown.spray}"
        least = Input(name, quantity_of_si(told.least.si, unit))
        of_least = f"{least.name} × {output.name}"
    rules = "the least in the spray" if told.rules else "the rate asked for"
    return Figure(
        key,
        f"Rate of {product.name}, whichever is more: {rules}",
        f"max({asked.name}, {of_least})",
        (asked, least, output),
        shown.rate_of(product.rate, product.rate.si),
        GREATER_SOURCE,
    )
