"""A plan as plain text in columns, for the terminal. It shows figures and works out none."""

import textwrap
from collections.abc import Iterable
from typing import Any

from planner.management.scenario.loading import Shown
from properties.core.showing import shown as spelled
from properties.core.units import Quantity

Json = dict[str, Any]
_WIDTH = 78
_CAUTION = (
    "CAUTION: every product and rate here is invented. In real work the label in your hand decides"
    " (rate, wind, heat, protective equipment), then local codes and your licensed judgement."
)
_AREAS = (
    ("turf_area", "Turf as drawn"),
    ("obstacle_area", "- under buildings, drives, walks"),
    ("no_spray_area", "- left untreated on purpose"),
    ("treatable_area", "= treatable"),
)
_ONE_TOOL = (("hand_area", "  of it too narrow for the swath"),)
_TWO_TOOLS = (("machine_area", "  of it by the machine"), ("hand_area", "  of it by hand"))
_TOOLS = {"machine": "machine", "hand_tool": "hand tool"}


def plan_text(plan: Json, *, request: Json, shown: Shown) -> str:
    """Write a plan the way a person reads it: the ground, the spray, each load, what to heed."""
    blocks = [
        _head(shown),
        ["THE GROUND", *_columns(_areas(plan))],
        ["THE SPRAY", *_columns(_spray(plan))],
        ["PRODUCTS FOR THE WHOLE JOB", *_columns(_products(plan))],
        *(_load(load) for load in plan["loads"]),
        ["LEFT UNTREATED ON PURPOSE", *_columns(_left_out(plan, request))],
        ["REFUSED", *_sentences(plan["refusals"])] if plan["refusals"] else [],
        ["WARNINGS", *_sentences(plan["warnings"])] if plan["warnings"] else [],
        textwrap.wrap(_CAUTION, _WIDTH),
    ]
    return "\n" + "\n\n".join("\n".join(block) for block in blocks if block) + "\n"


def _head(shown: Shown) -> list[str]:
    place = shown.asked.place
    title = f"PLAN  {place.name}, {place.address}"
    return [
        title,
        "=" * len(title),
        f"{place.firm.name}, {shown.on:%B} {shown.on.day}, {shown.on.year}",
        _tools(shown),
        f"{shown.asked.mix}",
        f"Wind {spelled(speed)} from {shown.asked.wind_from}"
        if (speed := shown.asked.wind_speed)
        else "Wind not read",
    ]


def _tools(shown: Shown) -> str:
    tools = (shown.asked.machine, shown.asked.hand_tool)
    return " and ".join(str(tool) for tool in tools if tool)


def _areas(plan: Json) -> list[list[str]]:
    members = _AREAS + (_TWO_TOOLS if plan.get("parts") else _ONE_TOOL)
    return [[name, _said(plan[member])] for member, name in members]


def _spray(plan: Json) -> list[list[str]]:
    parts = plan.get("parts") or [{"tool": "machine", "output": plan["output"]}]
    return [
        *([f"Output of the {_TOOLS[part['tool']]}", *_measured(part["output"])] for part in parts),
        ["Finished spray", _said(plan["carrier_volume"])],
    ]


def _measured(output: Json) -> list[str]:
    runs = f"{output['runs_kept']} of {output['runs']} measured runs"
    return [_said(output), f"mean of {runs}" if output["runs"] else "stated, not measured"]


def _products(plan: Json) -> list[list[str]]:
    rows = [
        [
            product["name"],
            _poured(product),
            _said(_in_all_loads(plan, product)),
            _said(product["rate_used"]),
        ]
        for product in plan["products"]
    ]
    return [["", "to pour", "exactly", "rate"], *rows]


def _in_all_loads(plan: Json, product: Json) -> Json:
    """What all loads hold exactly: more than the ground gets, where some stays in the hose."""
    used = [used for load in plan["loads"] for used in load["products"]]
    amounts: list[Json] = [each["amount"] for each in used if each["name"] == product["name"]]
    needed: Json = product["amount"]
    if {amount["unit"] for amount in amounts} != {needed["unit"]}:
        return needed
    return needed | {"value": sum(amount["value"] for amount in amounts)}


def _load(load: Json) -> list[str]:
    title = f"LOAD {load['number']}, {_TOOLS[load['tool']]}: {_said(load['volume'])}"
    water = [] if load["water"] is None else [["Water", _said(load["water"])]]
    rows = [[product["name"], *_amounts(product)] for product in load["products"]]
    return [
        f"{title} in {load['tank']}, for {_said(load['area'])}",
        *_columns([["", "measure", "exactly"], *water, *rows]),
    ]


def _amounts(product: Json) -> list[str]:
    """What to measure out, if a measure can show it, and the exact amount."""
    return [_to_measure(product), _said(product["amount"])]


def _poured(product: Json) -> str:
    """What all loads take together, in the unit of the plan: one load may be on a syringe."""
    amount = product["amount_to_measure"]
    return "-" if amount is None else _said(amount)


def _to_measure(product: Json) -> str:
    """The amount in the unit of the measure that shows it: 8 mL on a syringe."""
    amount, measure = product["amount_to_measure"], product["measure"]
    if amount is None:
        return "-"
    poured = Quantity(amount["value"], amount["unit"])
    return spelled(poured if measure is None else poured.to(measure["unit"]))


def _left_out(plan: Json, request: Json) -> list[list[str]]:
    """Each feature with its own ground, the strip beside it, and how wide that is and why."""
    names = {
        feature["id"]: feature["properties"].get("name") or feature["properties"]["kind"]
        for feature in request["property"]["features"]
    }
    zones = {zone["properties"]["feature"]: zone["properties"] for zone in _zones(plan)}
    rows = [
        [
            names[part["feature"]],
            _said(part["own_ground"]),
            _said(part["strip"]),
            _why(zones[part["feature"]]),
        ]
        for part in plan["left_out"]
        if part["own_ground"]["value"] or part["strip"]["value"]
    ]
    return [["", "itself", "strip", "distance"], *rows]


def _zones(plan: Json) -> list[Json]:
    zones: list[Json] = plan["no_spray"]["features"]
    return zones


def _why(zone: Json) -> str:
    """The distance and what it rests on; the page of the plan has the whole reason."""
    rests_on: str = zone["reason"].partition(":")[0].partition(" of ")[0].partition(" (")[0]
    return rests_on if zone["distance"] is None else f"{_said(zone['distance'])}, {rests_on}"


def _said(entry: Json) -> str:
    return spelled(Quantity(entry["value"], entry["unit"]))


def _sentences(findings: Iterable[Json]) -> list[str]:
    """The first finding of each kind, and how many more there are of it."""
    kinds: dict[str, list[str]] = {}
    for finding in findings:
        kinds.setdefault(finding["code"], []).append(finding["message"])
    return [
        line
        for first, *more in kinds.values()
        for line in textwrap.wrap(
            f"{first} ({len(more)} more like this.)" if more else first,
            _WIDTH,
            initial_indent="  - ",
            subsequent_indent="    ",
        )
    ]


def _columns(rows: list[list[str]]) -> list[str]:
    """Rows in columns: the first and the last flush left, figures flush right."""
    widths = [
        max((len(row[at]) for row in rows if at < len(row)), default=0)
        for at in range(max((len(row) for row in rows), default=0))
    ]
    return [
        "  "
        + "  ".join(
            cell.ljust(width) if at in {0, 3} else cell.rjust(width)
            for at, (cell, width) in enumerate(zip(row, widths, strict=False))
        ).rstrip()
        for row in rows
    ]
