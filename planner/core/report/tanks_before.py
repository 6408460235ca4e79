"""What each tank held before, as JSON."""

from collections.abc import Sequence

from planner.core.report.quantities import Json
from planner.core.tank_history import Cleaned, TankBefore


def tanks_before_as_json(tanks: Sequence[TankBefore]) -> Json:
    """Write the history of the tanks.

    Parameters
    ----------
    tanks : Sequence[TankBefore]
        What the tanks held before. [-]

    Returns
    -------
    dict
        The member ``tanks_before`` where it was told. [-]

    Raises
    ------
    Nothing
        Every history can be written.

    References
    ----------
    Our own format, docs/plan-request.md.
    """
    return {"tanks_before": [_before(tank) for tank in tanks]} if tanks else {}


def _before(tank: TankBefore) -> Json:
    return {
        "tool": tank.tool.value,
        "tank": tank.tank,
        "held": list(tank.held),
        "kills_turf": tank.kills_turf,
        "rinsed": None if tank.cleaned is None else _cleaned(tank.cleaned),
        "locked": tank.is_locked,
    }


def _cleaned(cleaned: Cleaned) -> Json:
    day = None if cleaned.on is None else cleaned.on.isoformat()
    return {"confirmed_by": cleaned.confirmed_by, "on": day}
