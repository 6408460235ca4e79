"""From a plan to a visit: the price asks the one door, and never works anything out again."""

import math
from collections.abc import Mapping

from planner.core.amounts.parts import Part
from planner.core.plan import Plan
from planner.core.pricing.work import UnitCost, Used, Visit
from properties.core.units import quantity_of_si


def visit_of(plan: Plan, *, name: str, costs: Mapping[str, UnitCost]) -> Visit:
    """Take what a price needs from a plan.

    The ground of the price is the treatable area, and its edge the outline of that. Where a
    machine is driven in passes at a known speed, the time is that of the passes; all other
    ground is paced.

    Parameters
    ----------
    plan : Plan
        The plan of one visit. [-]
    name : str
        What the visit is called. [-]
    costs : Mapping of str to UnitCost
        What a container costs, by the name of the product. [currency]

    Returns
    -------
    Visit
        The visit; what nobody knows is None. [m², m, s]

    Raises
    ------
    Nothing
        Any plan can be looked at.

    References
    ----------
    Common practice. What is mixed is paid for, so amounts have what stays in the tanks.
    """
    told, treatment = plan.error_bar.uncertainty, plan.ground.treatment
    passes = [each for each in map(_pass_time_s, plan.parts) if each is not None]
    paced = [part.area_m2 for part in plan.parts if _pass_time_s(part) is None]
    products = []
    for position, total in enumerate(plan.totals):
        unit = plan.shown.amount_unit(total.product.rate)
        off = None if told is None else quantity_of_si(told.of_product(position), unit)
        products.append(
            Used(
                total.product.name,
                quantity_of_si(total.mixed, unit),
                off,
                costs.get(total.product.name),
            )
        )
    return Visit(
        name=name,
        area_m2=treatment.treatable_area_m2,
        edge_m=treatment.treatable.length,
        passes_s=math.fsum(passes),
        paced_m2=math.fsum(paced),
        products=tuple(products),
        off_m2=None if told is None else told.area_m2,
        why_not=plan.error_bar.why_not,
    )


def _pass_time_s(part: Part) -> float | None:
    return None if part.drive is None else part.drive.work_s
