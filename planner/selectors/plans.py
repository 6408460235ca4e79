"""Turning stored rows into a plan request, and the request into a plan.

The page and the command line read the same request through the same door, so a
stored property's plan can be exported and computed again anywhere.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from typing import Any

from planner.core.answers import answer
from planner.core.machine.machines import DRIVEN_KINDS
from planner.models import Machine, Mix
from planner.selectors.applications import past_of
from planner.selectors.calibrations import (
    calibration_for_plan,
    calibration_members,
    fitting_members,
    fittings_row,
)
from planner.selectors.equipment import measure_members
from planner.selectors.labels import mix_item, refuse_unchecked
from planner.selectors.mixing import mixing_as_asked, past_rates
from planner.selectors.names import named
from planner.selectors.nutrients import may_feed, nutrient_members
from planner.selectors.spreaders import spreader_members
from planner.selectors.tanks import tanks_before
from properties.core.outlines import write_drawing
from properties.core.units import Quantity
from properties.models import Firm, Person, Property, SetbackRule, WindRule
from properties.selectors.outlines import drawing_of
from properties.selectors.rules import position_errors_of, setback_rules_at, wind_rule_of


@dataclass(frozen=True)
class TankNow:
    """What is mixed already, and for which tool."""

    tool: str
    spray: Quantity
    products: dict[str, Quantity]


@dataclass(frozen=True)
class Asked:
    """What a person wants planned: where, with what, in which wind."""

    place: Property
    machine: Machine
    mix: Mix
    hand_tool: Machine | None = None
    wind_speed: Quantity | None = None
    wind_from: str = ""
    tank_now: TankNow | None = None
    passes: bool = False
    temperature: Quantity | None = None
    temperature_high: Quantity | None = None
    rain_in: Quantity | None = None
    so_far: Mapping[str, Quantity] = field(default_factory=dict)
    first_pass_used: Quantity | None = None
    spots_area: Quantity | None = None
    spots_drawn: bool = False
    #: The day of the work, where it is not the day on which somebody asks.
    on: date | None = None


def request_for(person: Person, asked: Asked, *, day: date) -> dict[str, Any]:
    """Write the plan request of stored rows.

    Refused if a tool is not calibrated, or a label not checked where the firm asks for it.
    """
    day = asked.on or day
    request = work_facts(person, asked.machine, asked.mix, day=day)
    request |= place_facts(asked.place, day=day)
    request |= {
        "position_errors": {
            row.measured_by: row.error.to_the_last_digit for row in position_errors_of(person)
        },
    }
    request |= past_of(asked.place, day)
    if asked.hand_tool is not None:
        request |= hand_tool_facts(asked.hand_tool, request.get("tanks_before", []), day)
    request |= _spots_or_passes(asked)
    if asked.first_pass_used is not None:
        request["first_pass_used"] = asked.first_pass_used.to_the_last_digit
    if any(may_feed(part.product) for part in asked.mix.parts.all()):
        request |= nutrient_members(asked.place, day, so_far=asked.so_far)
    if asked.tank_now is not None:
        request["tank_now"] = _tank_now(asked.tank_now)
    if weather := weather_facts(asked.wind_speed, asked.wind_from) | _heat_and_rain(asked):
        request["weather"] = weather
    if asked.place.turfgrasses:
        request["turfgrasses"] = asked.place.turfgrasses
    return request


def _spots_or_passes(asked: Asked) -> dict[str, Any]:
    """Write how much of the turf is spots; over spots that are not drawn there are no passes."""
    if asked.spots_area is not None:
        return {"spots": {"area": asked.spots_area.to_the_last_digit}}
    told: dict[str, Any] = {"spots": {"drawn": True}} if asked.spots_drawn else {}
    if asked.passes and not asked.machine.is_spreader:
        told["passes"] = True
    return told


def hand_tool_facts(
    tool: Machine, machine_tanks: list[dict[str, Any]], day: date
) -> dict[str, Any]:
    """Write the hand tool, and what its tanks held beside those of the machine."""
    held = [*machine_tanks, *tanks_before("hand_tool", tool, day=day)]
    return {"hand_tool": _tool("hand_tool", tool, day)} | ({"tanks_before": held} if held else {})


def _mix(mix: Mix, firm: Firm) -> list[dict[str, Any]]:
    """Write the mix, each product with the rates it was planned at before."""
    items, before = [mix_item(part) for part in mix.parts.all()], past_rates(firm)
    for item in items:
        if rates := before.get(item["name"]):
            item["past_rates"] = rates
    return items


def work_facts(person: Person, machine: Machine, mix: Mix, *, day: date) -> dict[str, Any]:
    """Write what holds wherever the work is done.

    Refused if the machine is not calibrated, or a label not checked where the firm asks for it.
    """
    if person.firm.labels_need_check:
        refuse_unchecked(part.product for part in mix.parts.all())
    facts: dict[str, Any] = {
        "units": person.units,
        "on": day.isoformat(),
        "machine": _machine(machine, mix, day),
        "mix": _mix(mix, person.firm),
        **mixing_as_asked(mix, person.firm),
        **measure_members(person.firm),
        # Nothing fills in: a distance that neither label, feature nor rule gives is unknown.
        "setback_defaults": {},
        "wind_rule": _wind_rule(wind_rule_of(person.firm)),
    }
    if held := tanks_before("machine", machine, day=day):
        facts["tanks_before"] = held
    return facts


def place_facts(place: Property, *, day: date) -> dict[str, Any]:
    """Write what is drawn at a property, and the rules that hold there."""
    return {
        "property": named(write_drawing(drawing_of(place))),
        "setback_rules": [_rule(rule) for rule in setback_rules_at(place, day)],
    }


def plan_for(request: dict[str, Any]) -> dict[str, Any]:
    """Compute a plan through the one door, as the JSON that the command line writes."""
    return answer(request)


def _machine(machine: Machine, mix: Mix, day: date) -> dict[str, Any]:
    """Write the machine; a spreader with its tests of what the mix is of."""
    if not machine.is_spreader:
        return _tool("machine", machine, day)
    first = mix.parts.first()
    return spreader_members(machine, None if first is None else first.product, on=day)


def _tool(field: str, machine: Machine, day: date) -> dict[str, Any]:
    calibration, fittings = calibration_for_plan(field, machine, on=day), fittings_row(machine)
    told = ((name, getattr(machine, name)) for name in ("width", "speed"))
    optional = {name: quantity.to_the_last_digit for name, quantity in told if quantity}
    if machine.kind in DRIVEN_KINDS:
        optional["headlands"] = machine.headlands
    optional |= _of_tanks(machine) | fitting_members(fittings)
    return optional | {
        "kind": machine.kind,
        "swath": machine.swath.to_the_last_digit,
        "tanks": [tank.capacity.to_the_last_digit for tank in machine.tanks.all()],
        "calibration": calibration_members(calibration, fittings, on=day),
    }


def _of_tanks(machine: Machine) -> dict[str, list[str]]:
    """What was told of how far the tanks are filled, and of what cannot be sprayed."""
    tanks = machine.tanks.all()
    told = {}
    if any(tank.fill_limit for tank in tanks):
        limits = [tank.fill_limit or tank.capacity for tank in tanks]
        told["fill_limit"] = [limit.to_the_last_digit for limit in limits]
    if all(tank.unsprayable for tank in tanks):
        left = [tank.unsprayable for tank in tanks if tank.unsprayable]
        told["unsprayable"] = [volume.to_the_last_digit for volume in left]
    return told


def _rule(rule: SetbackRule) -> dict[str, Any]:
    told: dict[str, Any] = {
        "kind": rule.kind,
        "distance": rule.distance.to_the_last_digit,
        "source": f"{rule.firm.name}: {rule.source}",
        "from": rule.from_on.isoformat(),
    }
    if rule.method:
        told["method"] = rule.method
    if rule.downwind is not None:
        told["downwind"] = rule.downwind.to_the_last_digit
    if rule.only_at is not None:
        told["place"] = f"at {rule.only_at.name}"
    if rule.to_on is not None:
        told["to"] = rule.to_on.isoformat()
    if rule.checked_by_id is None:
        told["example"] = True
    return told


def _wind_rule(rule: WindRule) -> dict[str, str]:
    return {
        "half_angle": rule.half_angle.to_the_last_digit,
        "judged": rule.judged,
        "hold_above": rule.hold_above.to_the_last_digit,
        "calm_below": rule.calm_below.to_the_last_digit,
        "source": rule.source,
    }


def _tank_now(tank: TankNow) -> dict[str, Any]:
    return {
        "tool": tank.tool,
        "spray": tank.spray.to_the_last_digit,
        "products": {name: amount.to_the_last_digit for name, amount in tank.products.items()},
    }


def weather_facts(wind_speed: Quantity | None, wind_from: str) -> dict[str, str]:
    """Write the wind, as far as somebody told it."""
    weather = {}
    if wind_speed is not None:
        weather["wind_speed"] = wind_speed.to_the_last_digit
    if wind_from:
        weather["wind_from"] = wind_from
    return weather


def _heat_and_rain(asked: Asked) -> dict[str, str]:
    return {
        name: told.to_the_last_digit
        for name in ("temperature", "temperature_high", "rain_in")
        if (told := getattr(asked, name)) is not None
    }
