"""How a load is mixed, what to try in a jar, what the water takes, as JSON."""

from planner.core.amounts.planned import Planned
from planner.core.mix.compatibility import JARS, SMALL_UNITS, jar_amount
from planner.core.mix.conditioning import CONDITIONER_UNITS, conditioner_in, conditioner_rate
from planner.core.mix.portions import Load
from planner.core.mix.steps import MixingStep, steps_of
from planner.core.report.quantities import Json, maybe, quantity
from planner.core.shown import Shown
from properties.core.units import quantity_of_si


def steps_as_json(load: Load, shown: Shown) -> list[Json]:
    """Write the steps in which a load is mixed.

    Parameters
    ----------
    load : Load
        The load. [L]
    shown : Shown
        The units to show. [-]

    Returns
    -------
    list of dict
        The member ``steps`` of a load. [units shown]

    Raises
    ------
    Nothing
        Every load can be written.

    References
    ----------
    Our own format, docs/plan-request.md.
    """
    return [_step(step, shown) for step in steps_of(load)]


def _step(step: MixingStep, shown: Shown) -> Json:
    written: Json = {"do": step.do.value, "words": step.words}
    if step.water_l is not None:
        written["water"] = quantity(shown.spray_of(step.water_l))
    if step.portion is not None:
        product, measured = step.portion.product, step.portion.measured
        unit = shown.amount_unit(product.rate)
        written |= {
            "name": product.name,
            "amount_to_measure": maybe(None if measured is None else measured.shown_in(unit)),
        }
        if product.label.told.mixing_notes is not None:
            written["label_says"] = product.label.told.mixing_notes
    return written


def mixing_as_json(planned: Planned) -> Json:
    """Write what to put into a jar first, and what the water takes.

    Parameters
    ----------
    planned : Planned
        The plan. [-]

    Returns
    -------
    dict
        The members ``jar_test`` and ``water_conditioning``, null where there is nothing. [-]

    Raises
    ------
    Nothing
        Every plan can be written.

    References
    ----------
    Our own format, docs/plan-request.md.
    """
    return {"jar_test": _jar(planned), "water_conditioning": _conditioning(planned)}


def _jar(planned: Planned) -> Json | None:
    products, jar = planned.mixing_order, JARS[planned.request.units]
    if len(products) < 2 or not planned.carrier_l:
        return None
    output = planned.parts[0].l_per_rated_m2
    return {
        "volume": str(jar),
        "products": [
            {
                "name": product.name,
                "amount": quantity(
                    quantity_of_si(
                        jar_amount(product, jar_l=jar.si, output_l_per_m2=output),
                        SMALL_UNITS[product.is_liquid],
                    )
                ),
            }
            for product in products
        ],
    }


def _conditioning(planned: Planned) -> Json | None:
    test = planned.request.mixing.water_test
    if test is None:
        return None
    unit = CONDITIONER_UNITS[planned.request.units]
    found = conditioner_in(planned.request.products)
    return {
        "ammonium_sulfate": quantity(conditioner_rate(test).to(unit)),
        "in_mix": None if found is None else found.name,
    }
