"""What a year leaves of every limit at a property, with a season in it."""

from datetime import date
from typing import Any

from planner.core.season.figures import room_figure
from planner.core.season.rooms import RoomLeft, YearlyRoom, rooms_left
from planner.core.shown import SHOWN, Units
from planner.selectors.applications import past_of
from planner.selectors.labels import mix_item
from planner.selectors.names import named
from planner.selectors.nutrients import nutrient_members
from planner.selectors.seasons import Season, entries_of
from properties.core.outlines import write_drawing
from properties.models import Person
from properties.selectors.outlines import drawing_of

__all__ = ["RoomLeft", "YearlyRoom", "room_figure", "yearly_rooms"]

Json = dict[str, Any]


def yearly_rooms(person: Person, season: Season) -> tuple[YearlyRoom, ...]:
    """Work out what is left of each yearly limit at the end of the year of a season.

    FaultsFound if a row cannot be read, or outlines of the past cannot be told apart.
    """
    entries = list(entries_of(season))
    last = date(season.year, 12, 31)
    past = past_of(season.place, last)
    history = [*past.get("history", ()), *entries]
    if "history" not in past and entries:
        past["history_since"] = min(entry["on"] for entry in entries)
    if history:
        past["history"] = history
    question = {
        "property": named(write_drawing(drawing_of(season.place))),
        "products": _products(season),
        "on": max(last.isoformat(), *(entry["on"] for entry in entries), ""),
        **past,
    }
    nutrients = nutrient_members(season.place, last, so_far={})
    shown = SHOWN[Units(person.units)]
    return rooms_left(question, nutrients, planned=len(entries), shown=shown)


def _products(season: Season) -> list[Json]:
    """List every product of the programme once, as an item of a mix."""
    parts = (part for each in season.rounds for part in each.round.mix.parts.all())
    return list({part.product_id: mix_item(part) for part in parts}.values())
