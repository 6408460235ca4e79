"""Bringing the demo scenario into the database. What is there already stays as it is."""

import json
from collections.abc import Callable
from dataclasses import dataclass
from datetime import date, datetime
from typing import Any

from django.db import transaction

from planner.management.scenario.aerial.picture import CREDIT, LONG_SIDE_PX, picture_of
from planner.management.scenario.association import write_association
from planner.management.scenario.feeding import load_feeding
from planner.management.scenario.machines import write_machines
from planner.management.scenario.mixing import write_labels, write_mixes, write_mixing
from planner.management.scenario.past import load_past
from planner.management.scenario.prices import write_prices
from planner.management.scenario.quotes import write_quotes
from planner.management.scenario.scene import FOLDER, Scene, all_scenes
from planner.management.scenario.seasons import write_jobs, write_programmes, write_temperatures
from planner.management.scenario.stock import load_stock
from planner.management.scenario.tanks import write_tank_uses
from planner.selectors.equipment import machines_of
from planner.selectors.plans import Asked
from planner.selectors.products import mixes_of
from properties.core.units import parse_quantity
from properties.models import Person, Picture, Property
from properties.selectors.places import properties_of
from properties.selectors.rules import setback_rules_of
from properties.services.firms import found_firm, set_rule
from properties.services.outlines import save_drawing
from properties.services.places import PlaceFacts, add_property, set_picture

Tell = Callable[[str], None]


@dataclass(frozen=True)
class Shown:
    """The plan that the command prints: who asks, for what, on which day."""

    person: Person
    asked: Asked
    on: date


@dataclass(frozen=True)
class Scenario:
    """The firm of the demo as its file describes it."""

    written: dict[str, Any]

    def at(self, moment: str) -> datetime:
        """A moment of the scenario."""
        return datetime.fromisoformat(self.written[moment])


def read_scenario() -> Scenario:
    """Read the file of the firm."""
    return Scenario(json.loads((FOLDER / "firm.json").read_text(encoding="utf-8")))


def load(*, tell: Tell, picture_px: int = LONG_SIDE_PX) -> Shown:
    """Add what is missing of the demo, and say which plan shows it."""
    scenario = read_scenario()
    with transaction.atomic():
        owner = _people(scenario, tell)
        write_machines(scenario.written, owner)
        _downwind(scenario, owner)
        write_labels(scenario.written, owner)
        write_mixes(scenario.written, owner)
        write_mixing(scenario.written, owner)
        write_tank_uses(scenario.written, owner)
        load_feeding(scenario.written, owner=owner, at=scenario.at("founded_at"))
        write_programmes(scenario.written, owner)
        write_temperatures(scenario.written, owner)
        places = [(_place(scenario, owner, scene), scene) for scene in all_scenes()]
        load_past(scenario.written, owner=owner, at=scenario.at("drawn_at"))
        write_jobs(scenario.written, owner)
        write_prices(owner)
        load_stock(owner)
        write_association(owner, at=scenario.at("drawn_at"))
        write_quotes(owner)
    for place, scene in places:
        _picture(place, scene, tell=tell, picture_px=picture_px)
    return _shown(scenario)


def _people(scenario: Scenario, tell: Tell) -> Person:
    """The people of the firm; the firm is founded with the first of them."""
    known = {person.email: person for person in Person.objects.filter(email__in=_emails(scenario))}
    firm = next((person.firm for person in known.values()), None)
    if firm is None:
        tell(f"Founding {scenario.written['firm']['name']} (invented) ...")
        firm = found_firm(**scenario.written["firm"], at=scenario.at("founded_at"))
    for facts in scenario.written["people"]:
        if facts["email"] not in known:
            password = scenario.written["password"]
            known[facts["email"]] = Person.objects.create_user(
                password=password, firm=firm, **facts
            )
    return known[scenario.written["drawn_by"]]


def _emails(scenario: Scenario) -> list[str]:
    return [facts["email"] for facts in scenario.written["people"]]


def _downwind(scenario: Scenario, owner: Person) -> None:
    """Let the owner have checked the distances that grow downwind, once."""
    for rule in setback_rules_of(owner).filter(checked_by=None, downwind=None):
        if rule.kind in scenario.written["downwind"]:
            rule.downwind = parse_quantity(scenario.written["downwind"][rule.kind])
            rule.source = "Our own rule for practice (invented)"
            set_rule(person=owner, rule=rule, at=scenario.at("drawn_at"))


def _place(scenario: Scenario, owner: Person, scene: Scene) -> Property:
    """The property of a scene, with its first drawing if nobody has drawn there yet."""
    place = properties_of(owner).filter(name=scene.facts["name"]).first()
    if place is None:
        lon, lat = scene.middle
        facts = PlaceFacts(**scene.facts, longitude=lon, latitude=lat)
        place = add_property(firm=owner.firm, facts=facts)
    if place.drawing_number == 0:
        save_drawing(
            place,
            person=owner,
            at=scenario.at("drawn_at"),
            base=0,
            why=scenario.written["why"],
            collection=scene.collection(),
        )
    return place


def _picture(place: Property, scene: Scene, *, tell: Tell, picture_px: int) -> None:
    """Draw the picture of a place, unless a picture of it is there and can be opened."""
    present = Picture.objects.filter(property=place).first()
    if present and present.file.name and present.file.storage.exists(present.file.name):
        return
    tell(f"Drawing {place.name} from above ...")
    drawn = picture_of(scene, long_side_px=picture_px)
    set_picture(place, name="From above", credit=CREDIT, content=drawn.content, bounds=drawn.bounds)


def _shown(scenario: Scenario) -> Shown:
    wanted = scenario.written["shown"]
    person = Person.objects.get(email=wanted["person"])
    asked = Asked(
        place=properties_of(person).get(name=wanted["place"]),
        machine=machines_of(person).get(name=wanted["machine"]),
        hand_tool=machines_of(person).get(name=wanted["hand_tool"]),
        wind_speed=parse_quantity(wanted["wind_speed"]),
        wind_from=wanted["wind_from"],
        mix=mixes_of(person).get(name=wanted["mix"]),
        temperature=parse_quantity(wanted["temperature"]),
    )
    return Shown(person, asked, date.fromisoformat(wanted["on"]))
