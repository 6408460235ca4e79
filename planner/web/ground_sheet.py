"""What a place has had, as its page shows it."""

from datetime import date
from typing import Any

from planner.selectors.ground import Asked
from properties.models import Person, Property
from properties.web.drawing_board import layers

Json = dict[str, Any]


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
    return _piece(piece) | {"verdicts": verdicts}


def _row(row: Json) -> Json:
    terms = [term | {"on": _day(term["on"])} for term in row["terms"]]
    return row | {"last_on": _day(row["last_on"]), "terms": terms}


def _day(text: str | None) -> date | None:
    return None if text is None else date.fromisoformat(text)
