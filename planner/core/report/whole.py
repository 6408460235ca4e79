"""A plan as JSON: every member of docs/plan-request.md, in the units asked for.

Only lists, dictionaries, text, finite numbers and None: nothing is rounded.
"""

from planner.core.day_plan import DayPlan
from planner.core.plan import Plan
from planner.core.report.accounting import accounting_as_json
from planner.core.report.areas import areas_as_json
from planner.core.report.day import day_as_json
from planner.core.report.feeding import feeding_as_json
from planner.core.report.ingredients import ingredients_as_json
from planner.core.report.label_facts import label_facts_as_json
from planner.core.report.limits import limits_as_json
from planner.core.report.mixed import mixed_as_whole
from planner.core.report.mixing import mixing_as_json
from planner.core.report.parts import loads_as_json, rate_area_as_json, two_tools_as_json
from planner.core.report.passes import passes_as_json
from planner.core.report.quantities import Json
from planner.core.report.slopes import level_area_as_json, slopes_as_json, spots_as_json
from planner.core.report.spread import spread_as_json, what_leaves_as_json
from planner.core.report.surplus import surplus_as_json
from planner.core.report.tanks import mixed_as_json, output_as_json, total_as_json
from planner.core.report.tanks_before import tanks_before_as_json
from planner.core.report.told import figure_as_json, finding_as_json, notes_as_json
from planner.core.report.uncertainty import uncertainty_as_json
from planner.core.report.wind import wind_as_json


def plan_as_json(plan: Plan) -> Json:
    """Write a plan as JSON.

    Parameters
    ----------
    plan : Plan
        A plan. [-]

    Returns
    -------
    dict
        Its members as docs/plan-request.md lists them. [units of the request]

    Raises
    ------
    Nothing
        Every plan can be written.

    References
    ----------
    Our own format, docs/plan-request.md; RFC 7946 for the geometry.
    """
    shown, frame = plan.shown, plan.ground.treatment.frame
    return {
        "units": plan.request.units.value,
        **areas_as_json(plan.ground, shown),
        "wind": wind_as_json(plan.request, plan.ground),
        "hold": plan.is_on_hold,
        **what_leaves_as_json(plan.parts, plan.carrier_l, shown),
        **mixed_as_whole(plan.parts, shown),
        "products": [total_as_json(total, shown) for total in plan.totals],
        "mixing_order": [mixed_as_json(product) for product in plan.mixing_order],
        "loads": loads_as_json(plan.parts, shown),
        "accounting": accounting_as_json(plan.ground, shown),
        "rate_meets": plan.request.rate_meets.value,
        **spots_as_json(plan.parts[0]),
        **level_area_as_json(plan.parts, shown),
        **rate_area_as_json(plan.parts, plan.request, shown),
        **passes_as_json(plan.parts[0], frame, shown),
        **slopes_as_json(plan.parts[0], plan.parts[0].products, frame, shown=shown),
        **two_tools_as_json(plan, shown),
        **spread_as_json(plan, shown),
        **feeding_as_json(plan.parts[0], plan.request.nutrient_rules, shown),
        **surplus_as_json(plan.surplus, shown),
        **uncertainty_as_json(plan, shown),
        **label_facts_as_json(plan.request.products),
        **limits_as_json(plan, shown),
        **({} if plan.day is None else {"route": day_as_json(plan.day.day, plan.day.by_hand)}),
        **tanks_before_as_json(plan.request.tanks_before),
        **mixing_as_json(plan),
        "active_ingredients": ingredients_as_json(plan.totals, plan.request.units, shown),
        "warnings": [finding_as_json(finding) for finding in plan.warnings],
        "refusals": [finding_as_json(finding) for finding in plan.refusals],
        "notes": notes_as_json(plan.ground),
        "working": [figure_as_json(figure) for figure in plan.working],
    }


def day_plan_as_json(plan: DayPlan) -> Json:
    """Write the plan of a route that has no place of its own beside it.

    Parameters
    ----------
    plan : DayPlan
        The route. [-]

    Returns
    -------
    dict
        The members of a plan that a route has. [units of the request]

    Raises
    ------
    Nothing
        Every route can be written.

    References
    ----------
    Our own format, docs/plan-request.md.
    """
    day, shown = plan.day, plan.day.shown
    grounds = [stop.ground for stop in day.stops if stop.ground is not None]
    return {
        "units": day.request.units.value,
        "hold": plan.is_on_hold,
        "output": output_as_json(day.output, shown),
        "mixing_order": [mixed_as_json(product) for product in day.products],
        "route": day_as_json(day, plan.by_hand),
        **tanks_before_as_json(day.request.tanks_before),
        **label_facts_as_json(day.request.products),
        "warnings": [finding_as_json(finding) for finding in plan.findings.warnings],
        "refusals": [finding_as_json(finding) for finding in plan.findings.refusals],
        "notes": [note for ground in grounds for note in notes_as_json(ground)],
        "working": [figure_as_json(figure) for figure in plan.working],
    }
