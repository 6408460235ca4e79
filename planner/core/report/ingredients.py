"""What works in the products, and how much of it, as JSON."""

from collections.abc import Sequence

from planner.core.mix.ingredients import Applied, applied_ingredients
from planner.core.mix.portions import Total
from planner.core.report.quantities import Json, quantity
from planner.core.shown import INGREDIENT_RATES, Shown, Units
from properties.core.units import quantity_of_si


def ingredients_as_json(totals: Sequence[Total], units: Units, shown: Shown) -> list[Json]:
    """Write how much of each active ingredient comes on the ground.

    Parameters
    ----------
    totals : Sequence of Total
        The products for the whole job. [L or kg]
    units : Units
        The family of units asked for. [-]
    shown : Shown
        The units to show. [-]

    Returns
    -------
    list of dict
        The member ``active_ingredients``. [units shown]

    Raises
    ------
    Nothing
        Every product can be written.

    References
    ----------
    Our own format, docs/plan-request.md.
    """
    return [_applied(applied, units, shown) for applied in applied_ingredients(totals)]


def _applied(applied: Applied, units: Units, shown: Shown) -> Json:
    unit = INGREDIENT_RATES[units]
    rates = {"rate": applied.rate_kg_per_m2, "acid_rate": applied.acid_kg_per_m2}
    return {
        "name": applied.ingredient.name,
        "product": applied.product.name,
        "content": str(applied.ingredient.content),
        **{
            name: None if rate is None else quantity(quantity_of_si(rate, unit))
            for name, rate in rates.items()
        },
        "amount": quantity(quantity_of_si(applied.amount_kg, shown.dry)),
    }
