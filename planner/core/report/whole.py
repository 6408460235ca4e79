"""A plan as JSON: every member of docs/plan-request.md, in the units asked for.

Only lists, dictionaries, text, finite numbers and None: nothing is rounded.
"""

from planner.core.findings import Finding
from planner.core.ground import Ground
from planner.core.plan import Plan
from planner.core.report.accounting import accounting_as_json
from planner.core.report.areas import areas_as_json
from planner.core.report.feeding import feeding_as_json
from planner.core.report.label_facts import label_facts_as_json
from planner.core.report.parts import loads_as_json, rate_area_as_json, two_tools_as_json
from planner.core.report.passes import passes_as_json
from planner.core.report.quantities import Json, quantity
from planner.core.report.spread import spread_as_json, what_leaves_as_json
from planner.core.report.surplus import surplus_as_json
from planner.core.report.tanks import mixed_as_json, total_as_json
from planner.core.report.uncertainty import uncertainty_as_json
from planner.core.report.wind import wind_as_json
from properties.core.working import Figure


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
    shown = plan.shown
    return {
        "units": plan.request.units.value,
        **areas_as_json(plan.ground, shown),
        "wind": wind_as_json(plan.request, plan.ground),
        "hold": plan.is_on_hold,
        **what_leaves_as_json(plan.parts, plan.carrier_l, shown),
        "products": [total_as_json(total, shown) for total in plan.totals],
        "mixing_order": [mixed_as_json(product) for product in plan.mixing_order],
        "loads": loads_as_json(plan.parts, shown),
        "accounting": accounting_as_json(plan.ground, shown),
        "rate_meets": plan.request.rate_meets.value,
        **rate_area_as_json(plan.parts, plan.request, shown),
        **passes_as_json(plan.parts[0], plan.ground.treatment.frame, shown),
        **two_tools_as_json(plan, shown),
        **spread_as_json(plan, shown),
        **feeding_as_json(plan.parts[0], plan.request.nutrient_rules, shown),
        **surplus_as_json(plan.surplus, shown),
        **uncertainty_as_json(plan, shown),
        **label_facts_as_json(plan.request.products),
        "warnings": [_finding(finding) for finding in plan.warnings],
        "refusals": [_finding(finding) for finding in plan.refusals],
        "notes": _notes(plan.ground),
        "working": [_figure(figure) for figure in plan.working],
    }


def _finding(finding: Finding) -> Json:
    tool = None if finding.tool is None else finding.tool.value
    about = {"feature": finding.feature, "product": finding.product, "tool": tool}
    return {
        "code": finding.code,
        "message": finding.message,
        **{name: value for name, value in about.items() if value is not None},
    }


def _notes(ground: Ground) -> list[Json]:
    return [
        {"code": note.code, "message": note.message, "feature": note.shape}
        for note in (*ground.drawing.notes, *ground.treatment.notes)
    ]


def _figure(figure: Figure) -> Json:
    return {
        "figure": figure.key,
        "name": figure.name,
        "formula": figure.formula,
        "inputs": [{"name": each.name, **quantity(each.quantity)} for each in figure.inputs],
        "result": quantity(figure.result),
        "source": figure.source,
    }
