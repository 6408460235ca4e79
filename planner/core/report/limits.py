"""What the ground has had, and what it may still get, as JSON."""

from datetime import date

from planner.core.amounts.limit_account import FaceAccount, limit_account
from planner.core.amounts.planned import Planned
from planner.core.label.limits import YearKind
from planner.core.limits import Ceiling, Closure
from planner.core.past import PastApplication
from planner.core.report.areas import geometry_as_json
from planner.core.report.quantities import Json, maybe, quantity
from planner.core.shown import Shown, in_unit
from properties.core.frame import Frame
from properties.core.units import Quantity, quantity_of_si
from properties.core.zones import in_degrees


def limits_as_json(planned: Planned, shown: Shown) -> Json:
    """Write the limits of the labels, and where every part of the ground stands.

    Parameters
    ----------
    planned : Planned
        The figures. [-]
    shown : Shown
        The units to show. [-]

    Returns
    -------
    dict
        The members ``history_known``, ``closed_area``, ``faces`` and ``limits``. [units shown]

    Raises
    ------
    Nothing
        Every plan can be written.

    References
    ----------
    Our own format, docs/plan-request.md.
    """
    account, ground = limit_account(planned), planned.ground
    return {
        "history_known": planned.request.past.history is not None,
        "closed_area": quantity(shown.area_of(ground.closed_area_m2)),
        "faces": [_face(each, ground.treatment.frame, shown) for each in account],
        "limits": [
            _ceiling(ceiling, position, account, shown)
            for position, ceiling in enumerate(ground.faces.ceilings)
        ],
    }


def _face(told: FaceAccount, frame: Frame, shown: Shown) -> Json:
    face = told.face
    return {
        "features": list(face.features),
        "area": quantity(shown.area_of(told.area_m2)),
        "shape": geometry_as_json(in_degrees([face.geometry], frame)[0]),
        "open": face.is_open,
        "open_on": day_as_text(face.open_on),
        "closures": [_closure(closure) for closure in face.closures],
        "applications": [application_as_json(each, shown) for each in face.applications],
        "seedings": [day_as_text(each.sown_on) for each in face.seedings],
    }


def _closure(closure: Closure) -> Json:
    return {
        "why": closure.why.value,
        "reason": closure.reason,
        "open_again_on": day_as_text(closure.open_again_on),
    }


def application_as_json(each: PastApplication, shown: Shown) -> Json:
    """Write one past application.

    Parameters
    ----------
    each : PastApplication
        The application. [L or kg/m²]
    shown : Shown
        The units to show. [-]

    Returns
    -------
    dict
        Its day, its product and its rate. [unit shown]

    Raises
    ------
    Nothing
        Every application can be written.

    References
    ----------
    Our own format, docs/plan-request.md.
    """
    return {
        "on": each.applied_on.isoformat(),
        "product": each.product,
        "rate": quantity(shown.rate_of(each.rate, each.rate.si)),
    }


def _ceiling(
    ceiling: Ceiling, position: int, account: tuple[FaceAccount, ...], shown: Shown
) -> Json:
    limits, unit = ceiling.limits, ceiling.unit(shown)
    is_season = limits.year.kind is YearKind.SEASON
    return {
        "product": ceiling.product.name,
        "substance": ceiling.substance,
        "per_application": _limit(limits.per_application, unit),
        "per_year": _limit(limits.per_year, unit),
        "year": limits.year.kind.value,
        "season_from": str(limits.year.season_from) if is_season else None,
        "uses_per_year": limits.uses_per_year,
        "interval_days": limits.interval_days,
        "faces": [_standing(each, position, unit) for each in account],
    }


def _limit(limit: Quantity | None, unit: str) -> Json | None:
    return None if limit is None else quantity(in_unit(limit, unit))


def _standing(told: FaceAccount, position: int, unit: str) -> Json:
    standing, after = told.against(position)
    return {
        "received": amount_as_json(standing.received, unit),
        "uses": standing.uses if told.is_known else None,
        "last_on": day_as_text(standing.last_on),
        "room": amount_as_json(standing.room, unit),
        "added": None if after is None else amount_as_json(after.added, unit),
        "received_after": None if after is None else amount_as_json(after.received, unit),
        "room_after": None if after is None else amount_as_json(after.room, unit),
        "open_on_after": None if after is None else day_as_text(after.open_on),
    }


def amount_as_json(amount: float | None, unit: str) -> Json | None:
    """Write an amount per area that may be unknown.

    Parameters
    ----------
    amount : float or None
        The amount. [L or kg/m²]
    unit : str
        The unit to show it in. [-]

    Returns
    -------
    dict or None
        The amount, None where nobody knows. [unit]

    Raises
    ------
    Nothing
        Every amount can be written.

    References
    ----------
    Our own format, docs/plan-request.md.
    """
    return maybe(None if amount is None else quantity_of_si(amount, unit))


def day_as_text(day: date | None) -> str | None:
    """Write a day that may be unknown.

    Parameters
    ----------
    day : date or None
        The day. [-]

    Returns
    -------
    str or None
        Year, month and day. [-]

    Raises
    ------
    Nothing
        Every day can be written.

    References
    ----------
    ISO 8601, as 2026-05-20.
    """
    return None if day is None else day.isoformat()
