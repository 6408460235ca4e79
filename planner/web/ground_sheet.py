"""What a place has had, as its page shows it."""

from datetime import date
from typing import Any

from planner.selectors.ground import Asked
from planner.web.plan_sheet import NUTRIENTS as OF_A_PLAN
from properties.models import Person, Property
from properties.web.drawing_board import layers

Json = dict[str, Any]

NUTRIENTS = OF_A_PLAN | {"soluble N": "Soluble nitrogen"}


def ground_sheet(told: Json, *, asked: Asked, person: Person, place: Property) -> Json:
    """Arrange the answer of the core for the page and its map."""
    return {
        "told": told,
        "answers": [_answer(piece) for piece in told["asked"]],
        "beside": told["beside"],
        "pieces": [_piece(piece) for piece in told["pieces"]],
        "spot": asked.spot,
        "map_json": {
            "collection": told["drawing"],
            "had": [piece["shape"] for piece in told["pieces"] if piece["applications"]],
            "spot": None if asked.spot is None else [asked.spot[1], asked.spot[0]],
        }
        | layers(person, place),
    }


def _piece(piece: Json) -> Json:
    return piece | {
        "applications": [
            each | {"on": date.fromisoformat(each["on"])} for each in piece["applications"]
        ],
        "seedings": [date.fromisoformat(day) for day in piece["seedings"]],
    }


def _answer(piece: Json) -> Json:
    verdicts = [
        verdict
        | {
            "open_on": _day(verdict["open_on"]),
            "rows": [_row(row) for row in verdict["rows"]],
        }
        for verdict in piece["verdicts"]
    ]
    nutrients = [_nutrient(each) for each in piece["nutrients"]]
    return _piece(piece) | {"verdicts": verdicts, "nutrients": nutrients}


def _nutrient(told: Json) -> Json:
    return told | {
        "name": NUTRIENTS[told["nutrient"]],
        "open_on": _day(told["open_on"]),
        "terms": _terms(told["terms"]),
        "limits": [
            limit
            | {
                "name": NUTRIENTS[limit["nutrient"]],
                "full_on": _day(limit["full_on"]),
                "terms": _terms(limit["terms"]),
            }
            for limit in told["limits"]
        ],
    }


def _terms(terms: list[Json]) -> list[Json]:
    return [term | {"on": _day(term["on"])} for term in terms]


def _row(row: Json) -> Json:
    return row | {"last_on": _day(row["last_on"]), "terms": _terms(row["terms"])}


def _day(text: str | None) -> date | None:
    return None if text is None else date.fromisoformat(text)
