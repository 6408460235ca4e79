"""How the rates of mixed spray came about: in the other tool, and in a tank that is mixed."""

from collections.abc import Iterator, Sequence

from planner.core.amounts.parts import Part
from planner.core.amounts.surplus import InTank, Surplus
from planner.core.checks.cross_use import Crossed, CrossUse
from planner.core.mix.products import Product
from planner.core.shown import Shown
from planner.core.workings.output import FINISHED_SPRAY_SOURCE
from planner.core.workings.products import AMOUNT_SOURCE, amount_formula, extent_input
from planner.core.workings.terms import below
from properties.core.units import Dimension, Quantity, quantity_of_si
from properties.core.working import COMMON_PRACTICE, Figure, Input

RATE_SOURCE = (
    "University of Georgia, Waltz and Murphy, Calibrate sprayer: rate = product in the spray × "
    "output of the tool that sprays it."
)
MADE_UP_SOURCE = (
    "Our own derivation: added product = all the spray × new concentration − what is there; "
    "nothing can be taken out."
)


def cross_figures(uses: Sequence[CrossUse], *, shown: Shown) -> Iterator[Figure]:
    """Derive the rates that each tool's mix would give in the other.

    Parameters
    ----------
    uses : Sequence[CrossUse]
        Each mix in the other tool. [-]
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
    for number, use in enumerate(uses):
        for position, crossed in enumerate(use.products):
            key = f"cross_use[{number}].products[{position}].rate"
            yield _crossed(key, crossed, use, shown)


def _crossed(key: str, crossed: Crossed, use: CrossUse, shown: Shown) -> Figure:
    product, used_in = crossed.product, use.used_in
    mixed = Input("product", quantity_of_si(crossed.mixed, shown.amount_unit(product.rate)))
    spray = Input("spray", shown.spray_of(use.mix_of.mixed_l))
    formula, inputs = _rate(product, used_in, mixed.name, spray.name, shown)
    if product.by_area and used_in.most_times > 1:
        formula += " × times on a slope"
        inputs += (Input("times on a slope", Quantity(used_in.most_times, "")),)
    return Figure(
        key,
        f"{product.name}: rate of the {use.mix_of.tool.words}’s mix in the {used_in.tool.words}",
        formula,
        (mixed, spray, *inputs),
        shown.rate_of(product.rate, crossed.rate),
        RATE_SOURCE,
    )


def _rate(
    product: Product, used_in: Part, amount: str, spray: str, shown: Shown
) -> tuple[str, tuple[Input, ...]]:
    """The formula of the rate that some product in some spray gives, and what else it needs."""
    if product.by_area:
        output = Input("output", shown.output_of(used_in.output.l_per_m2))
        formula = f"{amount} / {spray} × {output.name}"
        if used_in.slope_factor == 1:
            return formula, (output,)
        factor = Input("slope factor", Quantity(used_in.slope_factor, ""))
        return f"{formula} × {factor.name}", (output, factor)
    if product.rate.dimension is Dimension.SHARE:
        return f"100 × {amount} / ({shown.small_in_volume} × {spray})", ()
    return f"{amount} / {spray}", ()


def surplus_figures(surplus: Surplus | None, *, shown: Shown) -> Iterator[Figure]:
    """Derive what a mixed tank leaves over or lacks, and the rate that it gives.

    Parameters
    ----------
    surplus : Surplus or None
        The tank against what is needed, None where no tank was told. [L]
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
    if surplus is None:
        return
    yield from below("surplus", _spray(surplus, shown))
    for position, each in enumerate(surplus.products):
        yield from below(f"surplus.products[{position}]", _in_tank(each, surplus, shown))


def _spray(surplus: Surplus, shown: Shown) -> Iterator[Figure]:
    part = surplus.part
    tank = Input("in the tank", shown.spray_of(surplus.in_tank_l))
    needed = Input("needed", shown.spray_of(surplus.needed_l))
    area = Input("area", shown.area_of(part.level_m2))
    output = Input("output", shown.output_of(part.output.l_per_m2))
    yield Figure(
        "spray_needed",
        "Spray needed now: none while the wind is too strong"
        if surplus.on_hold
        else f"Spray the {part.tool.words} needs now",
        "0" if surplus.on_hold else f"area × output / {shown.per_area}",
        () if surplus.on_hold else (area, output),
        needed.quantity,
        FINISHED_SPRAY_SOURCE,
    )
    yield Figure(
        "spray_left_over",
        "Spray left over in the tank",
        "max(0, in the tank − needed)",
        (tank, needed),
        shown.spray_of(surplus.left_over_l),
        COMMON_PRACTICE,
    )
    yield Figure(
        "spray_missing",
        "Spray that the tank lacks",
        "max(0, needed − in the tank)",
        (tank, needed),
        shown.spray_of(surplus.missing_l),
        COMMON_PRACTICE,
    )


def _in_tank(each: InTank, surplus: Surplus, shown: Shown) -> Iterator[Figure]:
    unit, name = shown.amount_unit(each.product.rate), each.product.name
    tank = Input("in the tank", quantity_of_si(each.in_tank, unit))
    needed = Input("needed", quantity_of_si(each.needed, unit))
    missing = Input("missing", quantity_of_si(each.missing, unit))
    yield _needed(each, surplus, tank, shown)
    yield Figure(
        "left_over",
        f"{name} left over in the tank",
        "in the tank − needed" if surplus.is_enough else "0",
        (tank, needed) if surplus.is_enough else (),
        quantity_of_si(each.left_over, unit),
        COMMON_PRACTICE,
    )
    yield Figure(
        "missing",
        f"{name} to add",
        "0" if surplus.is_enough else "max(0, needed − in the tank)",
        () if surplus.is_enough else (tank, needed),
        missing.quantity,
        MADE_UP_SOURCE,
    )
    spray = Input("spray in the tank", shown.spray_of(surplus.in_tank_l))
    more = Input("spray missing", shown.spray_of(surplus.missing_l))
    formula, inputs = _rate(
        each.product,
        surplus.part,
        f"({tank.name} + {missing.name})",
        f"({spray.name} + {more.name})",
        shown,
    )
    yield Figure(
        "rate",
        f"Rate of {name} that the tank gives",
        formula,
        (tank, missing, spray, more, *inputs),
        shown.rate_of(each.product.rate, each.rate),
        RATE_SOURCE,
    )


def _needed(each: InTank, surplus: Surplus, tank: Input, shown: Shown) -> Figure:
    product, part = each.product, surplus.part
    spray = Input("spray needed", shown.spray_of(surplus.needed_l))
    if surplus.is_enough:
        mixed = Input("spray in the tank", shown.spray_of(surplus.in_tank_l))
        inputs: tuple[Input, ...] = (tank, spray, mixed)
        formula = f"{tank.name} × {spray.name} / {mixed.name}"
    else:
        area = Input("treatable area", shown.area_of(part.rated_m2))
        extent = extent_input(product, area=area, spray=spray)
        inputs = (extent, Input("rate", shown.rate_of(product.rate, product.rate.si)))
        formula = amount_formula(product, extent.name, shown)
    return Figure(
        "needed",
        f"{product.name} in the spray that is needed now",
        formula,
        inputs,
        quantity_of_si(each.needed, shown.amount_unit(product.rate)),
        AMOUNT_SOURCE,
    )
