"""How each product's amounts for the whole job came about."""

from collections.abc import Iterator, Sequence

from planner.core.mix.portions import Total
from planner.core.mix.products import Product
from planner.core.shown import Shown
from planner.core.workings.rates import rate_used_figure
from planner.core.workings.terms import Extents, summed
from properties.core.units import Dimension, Quantity, quantity_of_si
from properties.core.working import Figure, Input

AMOUNT_SOURCE = (
    "Agrochemical and Pesticide Safety Handbook (CRC Press), dilution chapter, examples 4 and 5: "
    "product = rate × area; per volume of finished spray likewise."
)
MEASURE_SOURCE = (
    "Our own rule: of the two marks either side, the nearest that keeps the rate inside the "
    "label; the coarsest measure that has one."
)


def product_figures(totals: Sequence[Total], extents: Extents, *, shown: Shown) -> Iterator[Figure]:
    """Derive each product's amount, rate, and what is measured out, over several loads.

    Parameters
    ----------
    totals : Sequence[Total]
        The products. [L or kg]
    extents : Extents
        What the amounts follow. [units shown]
    shown : Shown
        The units to show. [-]

    Returns
    -------
    Iterator[Figure]
        The derivations. [units shown]

    Raises
    ------
    Nothing
        Every figure has a derivation.

    References
    ----------
    Each derivation names its own.
    """
    for number, total in enumerate(totals):
        yield from _product(f"products[{number}]", total, extents, shown)


def amount_formula(product: Product, extent: str, shown: Shown) -> str:
    """Write the formula of a product's amount from an area or a volume of spray.

    Parameters
    ----------
    product : Product
        The product. [-]
    extent : str
        What the area or the volume is called. [-]
    shown : Shown
        The units of the inputs. [-]

    Returns
    -------
    str
        The formula. [unit shown]

    Raises
    ------
    Nothing
        Every kind of rate has a formula.

    References
    ----------
    See ``product_amount``.
    """
    if product.by_area:
        return f"{extent} × rate / {shown.per_area}"
    if product.rate.dimension is Dimension.SHARE:
        return f"{shown.small_in_volume} × {extent} × rate / 100"
    return f"{extent} × rate"


def rate_formula(product: Product, extent: str, shown: Shown) -> str:
    """Write the formula of the rate that a measured amount gives.

    Parameters
    ----------
    product : Product
        The product. [-]
    extent : str
        What the area or the volume is called. [-]
    shown : Shown
        The units of the inputs. [-]

    Returns
    -------
    str
        The formula. [unit shown]

    Raises
    ------
    Nothing
        Every kind of rate has a formula.

    References
    ----------
    The inverse of ``amount_formula``.
    """
    if product.by_area:
        return f"{shown.per_area} × measured / {extent}"
    if product.rate.dimension is Dimension.SHARE:
        return f"100 × measured / ({shown.small_in_volume} × {extent})"
    return f"measured / {extent}"


def extent_input(product: Product, *, area: Input, spray: Input) -> Input:
    """Choose what a product's amount follows.

    Parameters
    ----------
    product : Product
        The product. [-]
    area : Input
        The ground. [unit shown]
    spray : Input
        The finished spray. [unit shown]

    Returns
    -------
    Input
        One of the two. [unit shown]

    Raises
    ------
    Nothing
        Every product follows one of them.

    References
    ----------
    Our own derivation.
    """
    return area if product.by_area else spray


def _product(key: str, total: Total, extents: Extents, shown: Shown) -> Iterator[Figure]:
    product = total.product
    unit = shown.amount_unit(product.rate)
    extent = extent_input(product, area=extents.area, spray=extents.spray)
    asked = shown.rate_of(product.rate, product.rate.si)
    yield rate_used_figure(product, shown=shown, key=f"{key}.rate_used")
    yield Figure(
        f"{key}.amount",
        f"{product.name} for the whole job",
        amount_formula(product, extent.name, shown),
        (extent, Input("rate", asked)),
        quantity_of_si(total.amount, unit),
        AMOUNT_SOURCE,
    )
    measured, rate = total.measured_in(unit), total.rate_after_rounding()
    if measured is not None and rate is not None:
        yield _measured(key, total, measured, extents)
        poured = Input("mixed for each part sprayed", Quantity(total.poured, ""))
        more = total.poured != 1
        yield Figure(
            f"{key}.rate_after_rounding",
            f"Rate that the measured {product.name} gives",
            rate_formula(
                product, f"({extent.name} × {poured.name})" if more else extent.name, shown
            ),
            (Input("measured", measured), extent, *([poured] if more else [])),
            shown.rate_of(product.rate, rate),
            AMOUNT_SOURCE,
        )


def _measured(key: str, total: Total, measured: Quantity, extents: Extents) -> Figure:
    amounts = [portion.measured for portion in total.portions]
    by_load = tuple(
        Input(f"{extents.portion} {number}", each.shown_in(measured.unit))
        for number, each in zip(extents.loads, amounts, strict=True)
        if each is not None
    )
    return Figure(
        f"{key}.amount_to_measure",
        f"{total.product.name} to measure out, all {_many(extents.portion)} together",
        summed(by_load),
        by_load,
        measured,
        MEASURE_SOURCE,
    )


def _many(portion: str) -> str:
    return {"pass": "passes"}.get(portion, f"{portion}s")
