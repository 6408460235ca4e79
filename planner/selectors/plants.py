"""Turning stored rows into a request for plants that are treated one by one."""

from dataclasses import dataclass
from datetime import date
from typing import Any

from planner.models import Machine, Mix
from planner.selectors.plans import place_facts, weather_facts, work_facts
from properties.core.units import Quantity
from properties.models import Person, Property


@dataclass(frozen=True)
class PlantsAsked:
    """What a person wants planned: how many plants, told or counted at a place, with what."""

    machine: Machine
    mix: Mix
    spray_each: Quantity
    count: int | None = None
    place: Property | None = None
    wind_speed: Quantity | None = None


def plants_request_for(person: Person, asked: PlantsAsked, *, day: date) -> dict[str, Any]:
    """Write the request for plants. Refused if the machine is not calibrated."""
    request = work_facts(person, asked.machine, asked.mix, day=day)
    plants: dict[str, Any] = {"spray_each": asked.spray_each.to_the_last_digit}
    if asked.count is not None:
        plants["count"] = asked.count
    elif asked.place is not None:
        request["property"] = place_facts(asked.place, day=day)["property"]
    if weather := weather_facts(asked.wind_speed, ""):
        request["weather"] = weather
    return request | {"plants": plants}
