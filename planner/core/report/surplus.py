"""A mixed tank against what is needed, as JSON."""

from planner.core.amounts.surplus import InTank, Surplus
from planner.core.report.quantities import Json, quantity, range_of, rate_of
from planner.core.shown import Shown
from properties.core.units import quantity_of_si


def surplus_as_json(surplus: Surplus | None, shown: Shown) -> Json:
    """Write what a mixed tank leaves over or lacks.

    Parameters
    ----------
    surplus : Surplus or None
        The tank against what is needed, None where no tank was told. [L]
    shown : Shown
        The units to show. [-]

    Returns
    -------
    dict
        The member ``surplus`` where a tank was told. [units shown]

    Raises
    ------
    Nothing
        Every surplus can be written.

    References
    ----------
    Our own format, docs/plan-request.md.
    """
    if surplus is None:
        return {}
    volumes_l = {
        "spray_in_tank": surplus.in_tank_l,
        "spray_needed": surplus.needed_l,
        "spray_left_over": surplus.left_over_l,
        "spray_missing": surplus.missing_l,
    }
    return {
        "surplus": {
            "tool": surplus.part.tool.value,
            **{name: quantity(shown.spray_of(volume)) for name, volume in volumes_l.items()},
            "products": [_in_tank(each, shown) for each in surplus.products],
        }
    }


def _in_tank(each: InTank, shown: Shown) -> Json:
    product = each.product
    unit = shown.amount_unit(product.rate)
    amounts = {
        "in_tank": each.in_tank,
        "needed": each.needed,
        "left_over": each.left_over,
        "missing": each.missing,
    }
    return {
        "name": product.name,
        **{name: quantity(quantity_of_si(amount, unit)) for name, amount in amounts.items()},
        "rate": rate_of(product, each.rate, shown),
        "label_range": range_of(product, shown),
        "allowed": each.allowed,
    }
