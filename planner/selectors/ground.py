"""What a spot or a lawn of a property may still get, product by product."""

from dataclasses import dataclass
from datetime import date
from typing import Any

from planner.core.limits.faces import Piece
from planner.core.mix.products import Product
from planner.core.nutrient_rooms import NutrientRoom, nutrient_rooms
from planner.core.place import Place, piece_at, pieces_in, place_of, verdict_on
from planner.core.report.place import asked_as_json, nutrients_as_json, place_as_json
from planner.core.request.place import PlaceQuestion, read_place_question
from planner.core.shown import SHOWN, Units
from planner.selectors.applications import limited_products, past_of
from planner.selectors.names import named
from planner.selectors.nutrients import nutrient_members
from properties.core.outlines import write_drawing
from properties.models import Person, Property
from properties.selectors.outlines import drawing_of

Json = dict[str, Any]


@dataclass(frozen=True)
class Asked:
    """Which part of a property is asked about: a spot, a lawn, or none yet."""

    spot: tuple[float, float] | None = None
    lawn: str = ""


def ground_of(person: Person, place: Property, asked: Asked, *, day: date) -> Json:
    """Tell what a property has had, and what the part that is asked about may still get.

    Refused if there is no such lawn; FaultsFound if a row cannot be read, or the outlines
    of the past cannot be told apart.
    """
    drawn = named(write_drawing(drawing_of(place)))
    question = read_place_question(
        {
            "property": drawn,
            "products": limited_products(person, place),
            "on": day.isoformat(),
            **past_of(place, day),
            **nutrient_members(place, day, so_far={}),
        }
    )
    shown = SHOWN[Units(person.units)]
    laid = place_of(question.drawing, question.past, on=day)
    answers = [
        asked_as_json(piece, _verdicts(question.products, piece, laid), laid, shown)
        | {"nutrients": nutrients_as_json(_nutrients(question, piece), shown)}
        for piece in _pieces(laid, asked)
    ]
    told = place_as_json(laid, shown)
    return told | {"drawing": drawn, "asked": answers, "beside": _is_beside(asked, answers)}


def _pieces(laid: Place, asked: Asked) -> tuple[Piece, ...]:
    if asked.spot is not None:
        found = piece_at(laid, asked.spot)
        return () if found is None else (found,)
    return pieces_in(laid, asked.lawn) if asked.lawn else ()


def _is_beside(asked: Asked, answers: list[Json]) -> bool:
    """Whether a spot was asked about that is no turf."""
    return asked.spot is not None and not answers


def _verdicts(products: tuple[Product, ...], piece: Piece, laid: Place) -> list[Any]:
    return [verdict_on(product, piece, laid) for product in products]


def _nutrients(question: PlaceQuestion, piece: Piece) -> tuple[NutrientRoom, ...]:
    return nutrient_rooms(question.nutrient_rules, piece, question.past, on=question.on)
