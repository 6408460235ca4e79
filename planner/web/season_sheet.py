"""The season of a property as its page shows it."""

from dataclasses import dataclass
from datetime import date
from typing import Any

from planner.models import Programme
from planner.selectors.programmes import window_of
from planner.selectors.seasons import Season, SeasonRound, degree_days_figure
from planner.selectors.yearly_rooms import RoomLeft, YearlyRoom, room_figure
from planner.web.season_picture import Bar, calendar, room_bar
from properties.core.showing import AREA
from properties.core.units import Quantity, quantity_of_si
from properties.core.working import Figure
from properties.models import Person

#: What came of asking for a round, for a person who plans.
OUTCOMES = {
    "fits": "fits",
    "later": "fits, on a later day",
    "part": "fits on a part",
    "refused": "does not fit",
    "unknown": "cannot be checked",
    "missed": "its days are over",
    "done": "done",
    "skipped": "skipped",
    "cancelled": "cancelled",
    "planned": "planned",
}
#: The tag that goes with it.
LOOKS = {"refused": "danger", "unknown": "warn", "part": "warn", "later": "warn", "missed": "warn"}
OPENED_BY = {"dates": "by dates", "soil": "by soil temperature", "degree_days": "by degree days"}


@dataclass(frozen=True)
class Amounts:
    """One part of the ground against a yearly limit, in the units of a person."""

    lawns: str
    area: Quantity
    used: Quantity | None
    planned: Quantity | None
    left: Quantity | None
    bar: dict[str, Any] | None
    working: Figure | None


def rounds_sheet(season: Season, person: Person) -> list[dict[str, Any]]:
    """Arrange every round with its tag."""
    return [
        {
            "each": each,
            "words": OUTCOMES[each.outcome],
            "look": LOOKS.get(each.outcome, ""),
            "due": each.opening.expected,
            "working": degree_days_figure(each, units=person.units),
            "cautions": _once([] if each.verdict is None else each.verdict.cautions),
        }
        for each in season.rounds
    ]


def season_calendar(season: Season, *, today: date) -> dict[str, Any] | None:
    """Draw the rounds of a property over the year, by what came of asking."""
    return calendar((_bar(each) for each in season.rounds), season.year, today=today)


def _bar(each: SeasonRound) -> Bar:
    window = each.opening.expected
    return Bar(each.round.name, window, each.outcome, f"{window}: {OUTCOMES[each.outcome]}")


def looks_of(found: dict[str, Any] | None) -> list[tuple[str, str]]:
    """Name what each look of a picture means."""
    return [] if found is None else [(look, OUTCOMES[look]) for look in found["looks"]]


def programme_calendar(programme: Programme, year: int, *, today: date) -> dict[str, Any] | None:
    """Draw the rounds of a programme over the year, by what opens them."""
    return calendar(
        (
            Bar(
                each.name,
                window_of(each, year),
                each.opened_by,
                f"{window_of(each, year)}, {OPENED_BY[each.opened_by]}",
            )
            for each in programme.rounds.all()
        ),
        year,
        today=today,
    )


def rooms_sheet(rooms: tuple[YearlyRoom, ...], person: Person) -> list[dict[str, Any]]:
    """Arrange what is left of every yearly limit, part by part."""
    return [
        {"room": room, "parts": [_amounts(room, place, person) for place in room.places]}
        for room in rooms
    ]


def _amounts(room: YearlyRoom, place: RoomLeft, person: Person) -> Amounts:
    used, planned, left = (
        None if amount is None else quantity_of_si(amount, room.unit)
        for amount in (place.used, place.planned, place.left)
    )
    return Amounts(
        ", ".join(place.lawns),
        quantity_of_si(place.area_m2, AREA[person.units]),
        used,
        planned,
        left,
        room_bar(place.used, place.planned, limit=place.limit),
        room_figure(room, place),
    )


def _once(cautions: Any) -> list[str]:
    return list(dict.fromkeys(each.message for each in cautions))
