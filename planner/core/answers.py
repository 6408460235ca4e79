"""What a request is answered with: the plan of a place, a route or both, or plants, as JSON."""

from planner.core.day_plan import day_plan
from planner.core.ground.ground import Rules
from planner.core.mix_order import in_mixing_order
from planner.core.plan import NO_RULES, plan
from planner.core.plant_job import plant_job
from planner.core.report import day_plan_as_json, plan_as_json
from planner.core.report.plants import plant_job_as_json
from planner.core.report.quantities import Json
from planner.core.request import PlanRequest, read_request, read_request_text


def answer(value: object, *, rules: Rules = NO_RULES) -> Json:
    """Read a request from a JSON value, and answer it.

    Parameters
    ----------
    value : object
        What the JSON text held. [-]
    rules : Rules
        What the firm goes by where the request is silent. [-]

    Returns
    -------
    dict
        The plan. [units of the request]

    Raises
    ------
    FaultsFound
        If the request cannot be read.

    References
    ----------
    Our own format, docs/plan-request.md.
    """
    return _answered(read_request(value), rules)


def answer_text(text: str, *, rules: Rules = NO_RULES) -> Json:
    """Read a request from JSON text, and answer it.

    Parameters
    ----------
    text : str
        One JSON object. [-]
    rules : Rules
        What the firm goes by where the request is silent. [-]

    Returns
    -------
    dict
        The plan. [units of the request]

    Raises
    ------
    FaultsFound
        If the text is not strict JSON or the request cannot be read.

    References
    ----------
    Our own format, docs/plan-request.md.
    """
    return _answered(read_request_text(text), rules)


def _answered(request: PlanRequest, rules: Rules) -> Json:
    if request.plants is not None:
        return plant_job_as_json(plant_job(request, request.plants))
    if request.has_place or request.route is None:
        return plan_as_json(plan(request, rules=rules))
    in_order = in_mixing_order(request)
    return day_plan_as_json(day_plan(request, request.route, in_order, rules=rules))
