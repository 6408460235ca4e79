"""Turning a day's route of stored rows into a request, and the request into a plan."""

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date
from typing import Any

from planner.models import Machine, Mix
from planner.selectors.applications import past_of
from planner.selectors.nutrients import may_feed, nutrient_members
from planner.selectors.plans import hand_tool_facts, place_facts, weather_facts, work_facts
from properties.core.units import Quantity
from properties.models import Person, Property

#: Where a tank may be filled, as a request says it.
RELOADS: dict[str, dict[str, Any]] = {
    "yard": {"reload": "yard", "name": "The yard"},
    "nurse_tank": {"reload": "nurse_tank", "name": "Nurse tank"},
    "safe_tap": {
        "reload": "customer_tap",
        "name": "Customer’s tap",
        "permission": True,
        "air_gap": True,
    },
    "bare_tap": {"reload": "customer_tap", "name": "Customer’s tap", "permission": True},
}


@dataclass(frozen=True)
class Lawn:
    """A property on the route, and what the gauge showed on leaving it."""

    place: Property
    gauge_after: Quantity | None = None


@dataclass(frozen=True)
class GaugeReading:
    """What the gauge showed after a load; what that began with, where not as planned."""

    after_load: int
    in_tank: Quantity
    started_with: Quantity | None = None
    put_in: Mapping[str, Quantity] = field(default_factory=dict)


@dataclass(frozen=True)
class DayAsked:
    """What a person wants driven: lawns and words of ``RELOADS``, with what, from which tank."""

    machine: Machine
    mix: Mix
    legs: tuple[Lawn | str, ...]
    tank: int = 1
    weight_limit: Quantity | None = None
    next_lawn: Property | None = None
    wind_speed: Quantity | None = None
    wind_from: str = ""
    reading: GaugeReading | None = None
    hand_tool: Machine | None = None


def day_request_for(person: Person, asked: DayAsked, *, day: date) -> dict[str, Any]:
    """Write the request of a day's route. Refused if the machine is not calibrated."""
    request = work_facts(person, asked.machine, asked.mix, day=day)
    if weather := weather_facts(asked.wind_speed, asked.wind_from):
        request["weather"] = weather
    route: dict[str, Any] = {"stops": list(_stops(asked.legs, day)), "tank": asked.tank}
    if asked.weight_limit is not None:
        route["weight_limit"] = asked.weight_limit.to_the_last_digit
    if asked.next_lawn is not None:
        route["next_lawns"] = [_lawn(Lawn(asked.next_lawn), day)]
    if asked.reading is not None:
        route["refill"] = _reading(asked.reading)
    if asked.hand_tool is not None:
        told = hand_tool_facts(asked.hand_tool, request.get("tanks_before", []), day)
        route["hand_tool"] = told.pop("hand_tool")
        request |= told
    return request | _nutrients(asked, day) | {"route": route}


def _nutrients(asked: DayAsked, day: date) -> dict[str, Any]:
    """Write every limit on nutrients of any lawn: one tank has one rate for all of them.

    A soil test lifts limits where every lawn has one; the first to end is told.
    """
    if not any(may_feed(part.product) for part in asked.mix.parts.all()):
        return {}
    places = {leg.place.pk: leg.place for leg in asked.legs if isinstance(leg, Lawn)}
    told = [nutrient_members(place, day, so_far={}) for place in places.values()]
    limits: list[dict[str, Any]] = []
    for each in told:
        limits += [limit for limit in each.get("nutrient_limits", []) if limit not in limits]
    members: dict[str, Any] = {"nutrient_limits": limits} if limits else {}
    tests = [each["soil_test"] for each in told if "soil_test" in each]
    if limits and len(tests) == len(told):
        members["soil_test"] = min(tests, key=lambda test: str(test["valid_until"]))
    return members


def _stops(legs: Sequence[Lawn | str], day: date) -> Iterator[dict[str, Any]]:
    """Write the way. A lawn that stands in it several times is come to in equal parts."""
    times = Counter(leg.place.pk for leg in legs if isinstance(leg, Lawn))
    so_far: Counter[int] = Counter()
    for leg in legs:
        if isinstance(leg, str):
            yield RELOADS[leg]
            continue
        key = leg.place.pk
        so_far[key] += 1
        part = {}
        if times[key] > 1:
            name = f"{leg.place.name}, part {so_far[key]} of {times[key]}"
            part = {"name": name, "parts": times[key]}
        yield _lawn(leg, day) | part


def _lawn(lawn: Lawn, day: date) -> dict[str, Any]:
    told: dict[str, Any] = {"name": lawn.place.name, **place_facts(lawn.place, day=day)}
    told |= past_of(lawn.place, day)
    if lawn.place.turfgrasses:
        told["turfgrasses"] = lawn.place.turfgrasses
    if lawn.gauge_after is not None:
        told["gauge_after"] = lawn.gauge_after.to_the_last_digit
    return told


def _reading(reading: GaugeReading) -> dict[str, Any]:
    told: dict[str, Any] = {
        "after_load": reading.after_load,
        "in_tank": reading.in_tank.to_the_last_digit,
    }
    if reading.started_with is not None:
        told["started_with"] = reading.started_with.to_the_last_digit
    if reading.put_in:
        told["put_in"] = {name: amount.to_the_last_digit for name, amount in reading.put_in.items()}
    return told
