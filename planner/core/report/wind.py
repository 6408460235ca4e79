"""The wind of a plan as JSON: as it was told, and what was made of it."""

from planner.core.ground.ground import Ground
from planner.core.report.quantities import Json, maybe, quantity
from planner.core.request import PlanRequest
from planner.core.weather import NOTE, Weather


def wind_as_json(request: PlanRequest, ground: Ground) -> Json:
    """Write the wind, the rule for it, and that it is a rule and no forecast.

    Parameters
    ----------
    request : PlanRequest
        What was told. [-]
    ground : Ground
        The ground, which may follow the wind. [-]

    Returns
    -------
    dict
        The member ``wind``. [units as written]

    Raises
    ------
    Nothing
        Every wind can be written.

    References
    ----------
    Our own format, docs/plan-request.md.
    """
    weather, rule = request.weather or Weather(), request.wind_rule
    follows = ground.follows_wind
    return {
        "from": maybe(weather.wind_from),
        "speed": maybe(weather.wind_speed),
        "in_shape": follows and weather.wind_from is not None,
        "half_angle": quantity(rule.half_angle) if follows else None,
        "judged": rule.judged if follows else None,
        "rule": rule.source if follows or rule.hold_above is not None else None,
        "note": NOTE,
    }
