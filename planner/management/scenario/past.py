"""What the places of the demo have had, and its blackout dates."""

from collections.abc import Mapping
from dataclasses import replace
from datetime import date, datetime, time
from typing import Any
from zoneinfo import ZoneInfo

from planner.models import BlackoutRule, KnownSince, PastApplication, Seeding
from planner.selectors.applications import blackouts_of
from planner.selectors.equipment import machines_of
from planner.selectors.products import products_of
from planner.services.applications import (
    Entered,
    record_application,
    record_seeding,
    say_known_since,
)
from planner.services.blackouts import set_blackout
from properties.core.units import parse_quantity
from properties.models import Person, Property
from properties.selectors.people import people_of
from properties.selectors.places import properties_of

_EVENING = time(18, 0)


def load_past(written: Mapping[str, Any], *, owner: Person, at: datetime) -> None:
    """Add what is missing to drawn places; one of which anything is known stays as it is."""
    since = date.fromisoformat(written["history_known_since"])
    for place in properties_of(owner).filter(drawing_number__gt=0):
        if not _is_known(place):
            say_known_since(place, since=since, entered=Entered(owner, at))
            _enter(written, owner, place)
    if not blackouts_of(owner).exists():
        for facts in written["blackouts"]:
            rule = BlackoutRule(
                firm=owner.firm,
                substance=facts["substance"],
                from_day=facts["from"],
                to_day=facts["to"],
                source=facts["source"],
            )
            set_blackout(rule, person=owner, at=at)


def _is_known(place: Property) -> bool:
    return any(
        model.objects.filter(property=place).exists()
        for model in (KnownSince, PastApplication, Seeding)
    )


def _enter(written: Mapping[str, Any], owner: Person, place: Property) -> None:
    people = {person.email: person for person in people_of(owner)}
    for facts in written["history"]:
        if facts["place"] == place.name:
            record_application(
                place,
                product=products_of(owner).get(name=facts["product"]),
                rate=parse_quantity(facts["rate"]),
                applied_on=date.fromisoformat(facts["on"]),
                refs=facts["refs"],
                entered=replace(
                    _entered(facts, people, place),
                    machine=machines_of(owner).filter(name=facts["with"]).first(),
                ),
            )
    for facts in written["seedings"]:
        if facts["place"] == place.name:
            record_seeding(
                place,
                sown_on=date.fromisoformat(facts["on"]),
                refs=facts["refs"],
                entered=_entered(facts, people, place),
            )


def _entered(facts: Mapping[str, Any], people: Mapping[str, Person], place: Property) -> Entered:
    day = date.fromisoformat(facts["on"])
    at = datetime.combine(day, _EVENING, tzinfo=ZoneInfo(place.time_zone))
    return Entered(people[facts["by"]], at, facts.get("note", ""))
