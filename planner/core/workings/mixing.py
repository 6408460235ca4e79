"""How the water of each step, the amounts of a jar and the conditioner came about."""

from collections.abc import Iterator

from planner.core.amounts.planned import Planned
from planner.core.mix.compatibility import JARS, SMALL_UNITS, jar_amount
from planner.core.mix.conditioning import (
    CONDITIONER_UNITS,
    LB_PER_100_GAL_PER_PPM,
    PPM,
    conditioner_rate,
)
from planner.core.mix.portions import Load
from planner.core.mix.products import Product
from planner.core.mix.steps import Do, steps_of
from planner.core.shown import Shown, Units
from properties.core.units import Dimension, Quantity, quantity_of_si
from properties.core.working import COMMON_PRACTICE, Figure, Input

_FIRST, _REST = "water to begin with", "the rest of the water"
JAR_SOURCE = "Our own derivation: the concentration of the tank, rate per area / output, in a jar."
AMS_SOURCE = (
    "North Dakota State University, Crop & Pest Report, Equation Used to Calculate Rate of AMS, "
    "2 July 2015; after Nalewaja and Matysiak, 1993. The label may ask for more."
)


def step_figures(load: Load, *, shown: Shown) -> Iterator[Figure]:
    """Derive the water of the first and of the last step of a load.

    Parameters
    ----------
    load : Load
        The load. [L]
    shown : Shown
        The units to show. [-]

    Returns
    -------
    Iterator[Figure]
        Two derivations, or none where the load has no steps. [units shown]

    Raises
    ------
    Nothing
        Every figure has a derivation.

    References
    ----------
    Each derivation names its own.
    """
    for position, step in enumerate(steps_of(load)):
        if step.water_l is None or load.water_l is None:
            continue
        water = Input("water to add", shown.spray_of(load.water_l))
        first = step.do is Do.FIRST_WATER
        yield Figure(
            f"steps[{position}].water",
            f"Load {load.fill.number}: {_FIRST if first else _REST}",
            "water to add / 2" if first else "water to add − water to add / 2",
            (water,),
            shown.spray_of(step.water_l),
            COMMON_PRACTICE,
        )


def mixing_figures(planned: Planned) -> Iterator[Figure]:
    """Derive what goes into a jar, and what the water takes.

    Parameters
    ----------
    planned : Planned
        The plan. [-]

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
    if len(planned.mixing_order) > 1 and planned.carrier_l:
        for position, product in enumerate(planned.mixing_order):
            yield _jar(f"jar_test.products[{position}].amount", product, planned)
    yield from _conditioner(planned)


def _jar(key: str, product: Product, planned: Planned) -> Figure:
    units, shown = planned.request.units, planned.shown
    jar, output_l_per_m2 = JARS[units], planned.parts[0].l_per_rated_m2
    shown_in = shown.amount_unit(product.rate)
    small = quantity_of_si(1.0, SMALL_UNITS[product.is_liquid])
    amount = jar_amount(product, jar_l=jar.si, output_l_per_m2=output_l_per_m2)
    rate = Input("rate", shown.rate_of(product.rate, product.rate.si))
    spray = Input("jar", quantity_of_si(jar.si, shown.spray))
    each = Input("small unit", Quantity(_small_per_shown(product, shown), small.unit))
    if product.by_area:
        output = Input("output", shown.output_of(output_l_per_m2))
        formula = "jar × rate / output × small unit"
        inputs: tuple[Input, ...] = (spray, rate, output, each)
    elif product.rate.dimension is Dimension.SHARE:
        formula = f"jar × {shown.small_in_volume} × rate / 100 × small unit"
        inputs = (spray, rate, each)
    else:
        formula, inputs = "jar × rate × small unit", (spray, rate, each)
    return Figure(
        key,
        f"{product.name} for a jar of {jar} (small unit is what one {shown_in} has)",
        formula,
        inputs,
        quantity_of_si(amount, small.unit),
        JAR_SOURCE,
    )


def _small_per_shown(product: Product, shown: Shown) -> float:
    unit = shown.amount_unit(product.rate)
    return Quantity(1.0, unit).to(SMALL_UNITS[product.is_liquid]).value


def _conditioner(planned: Planned) -> Iterator[Figure]:
    test, units = planned.request.mixing.water_test, planned.request.units
    if test is None:
        return
    found = {
        ion: told for ion in LB_PER_100_GAL_PER_PPM if (told := getattr(test, ion)) is not None
    }
    terms = " + ".join(f"{LB_PER_100_GAL_PER_PPM[ion]:g} × {ion}" for ion in found) or "0"
    inputs = tuple(Input(ion, told.to(PPM)) for ion, told in found.items())
    formula = terms
    if units is Units.METRIC:
        formula = f"({terms}) × one"
        inputs = (*inputs, Input("one", Quantity(1.0, "lb/100 gal").to("g/L")))
    yield Figure(
        "water_conditioning.ammonium_sulfate",
        "Ammonium sulfate that ties up what is in the water",
        formula,
        inputs,
        conditioner_rate(test).to(CONDITIONER_UNITS[units]),
        AMS_SOURCE,
    )
