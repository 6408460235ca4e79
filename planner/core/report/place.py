"""What a place has had, and what a part of it may still get, as JSON."""

from collections.abc import Sequence

from planner.core.limits import Standing
from planner.core.limits.faces import Piece
from planner.core.nutrient.nutrients import Nutrient
from planner.core.nutrient_rooms import LimitRoom, NutrientRoom
from planner.core.past import PastApplication
from planner.core.place import Place, Verdict
from planner.core.report.areas import geometry_as_json
from planner.core.report.limits import amount_as_json, application_as_json, day_as_text
from planner.core.report.quantities import Json, maybe, quantity
from planner.core.shown import Shown, in_unit
from properties.core.zones import in_degrees


def place_as_json(place: Place, shown: Shown) -> Json:
    """Write what every part of a place has had.

    Parameters
    ----------
    place : Place
        The property with its past. [m]
    shown : Shown
        The units to show. [-]

    Returns
    -------
    dict
        The day, whether the past is known, and the pieces. [units shown]

    Raises
    ------
    Nothing
        Every place can be written.

    References
    ----------
    Our own format.
    """
    return {
        "on": place.on.isoformat(),
        "history_known": place.past.history is not None,
        "history_since": day_as_text(place.past.since),
        "pieces": [_piece(piece, place, shown) for piece in place.pieces],
    }


def asked_as_json(piece: Piece, verdicts: Sequence[Verdict], place: Place, shown: Shown) -> Json:
    """Write what a piece of ground may still get.

    Parameters
    ----------
    piece : Piece
        The ground. [m]
    verdicts : Sequence[Verdict]
        Each product that is asked about. [-]
    place : Place
        The property. [m]
    shown : Shown
        The units to show. [-]

    Returns
    -------
    dict
        The piece with its verdicts. [units shown]

    Raises
    ------
    Nothing
        Every answer can be written.

    References
    ----------
    Our own format.
    """
    is_known = place.past.history is not None
    told = [_verdict(verdict, shown, is_known=is_known) for verdict in verdicts]
    return _piece(piece, place, shown) | {"verdicts": told}


def _piece(piece: Piece, place: Place, shown: Shown) -> Json:
    return {
        "features": place.names_of(piece),
        "area": quantity(shown.area_of(place.area_m2(piece))),
        "shape": geometry_as_json(in_degrees([piece.geometry], place.site.frame)[0]),
        "applications": [application_as_json(each, shown) for each in piece.applications],
        "seedings": [day_as_text(each.sown_on) for each in piece.seedings],
    }


def _verdict(verdict: Verdict, shown: Shown, *, is_known: bool) -> Json:
    return {
        "product": verdict.product.name,
        "open": not verdict.closures,
        "open_on": day_as_text(verdict.open_on),
        "reasons": [closure.reason for closure in verdict.closures],
        "rows": [_row(standing, shown, is_known=is_known) for standing in verdict.standings],
    }


def _row(standing: Standing, shown: Shown, *, is_known: bool) -> Json:
    ceiling, limits = standing.ceiling, standing.ceiling.limits
    unit = ceiling.unit(shown)
    per_year = limits.per_year
    return {
        "what": ceiling.what,
        "substance": ceiling.substance is not None,
        "received": amount_as_json(standing.received if is_known else None, unit),
        "room": amount_as_json(standing.room if is_known else None, unit),
        "per_year": maybe(None if per_year is None else in_unit(per_year, unit)),
        "year": limits.year.words,
        "uses": standing.uses if is_known else None,
        "uses_per_year": limits.uses_per_year,
        "last_on": day_as_text(standing.last_on),
        "terms": [
            {
                "on": day_as_text(each.applied_on),
                "amount": amount_as_json(ceiling.amount_in(each), unit),
            }
            for each in standing.counted
        ],
    }


def nutrients_as_json(rooms: Sequence[NutrientRoom], shown: Shown) -> list[Json]:
    """Write what a piece of ground may still get of nutrients.

    Parameters
    ----------
    rooms : Sequence[NutrientRoom]
        Each nutrient. [kg/m²]
    shown : Shown
        The units to show. [-]

    Returns
    -------
    list of dict
        What it has had this year, whether it is open, and each limit. [units shown]

    Raises
    ------
    Nothing
        Every answer can be written.

    References
    ----------
    Our own format.
    """
    return [_nutrient(room, shown) for room in rooms]


def _nutrient(room: NutrientRoom, shown: Shown) -> Json:
    return {
        "nutrient": room.nutrient.value,
        "had": amount_as_json(room.had, shown.weight_rate),
        "terms": _terms(room.counted, room.nutrient, shown),
        "open": not room.closures,
        "open_on": day_as_text(room.open_on),
        "reasons": [closure.reason for closure in room.closures],
        "limits": [_limit(each, shown) for each in room.limits],
    }


def _limit(each: LimitRoom, shown: Shown) -> Json:
    limit = each.limit
    slow = limit.least_slow_release
    return {
        "nutrient": limit.nutrient.value,
        "per": limit.per.value,
        "at_most": quantity(in_unit(limit.at_most, shown.weight_rate)),
        "had": amount_as_json(each.had, shown.weight_rate),
        "room": amount_as_json(each.room, shown.weight_rate),
        "full_on": day_as_text(each.full_on),
        "lifted_by_soil_test": each.lifted,
        "least_slow_release": maybe(slow),
        "terms": _terms(each.counted, limit.nutrient, shown),
        "source": limit.origin,
    }


def _terms(counted: Sequence[PastApplication], nutrient: Nutrient, shown: Shown) -> list[Json]:
    return [
        {
            "on": day_as_text(each.applied_on),
            "product": each.product,
            "amount": amount_as_json(each.nutrient(nutrient), shown.weight_rate),
        }
        for each in counted
    ]
