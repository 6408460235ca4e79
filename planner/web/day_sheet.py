"""A day's route as its page shows it, built from the JSON that the command line writes."""

from typing import Any

from planner.web.findings import together
from planner.web.plan_sheet import figures_of, grouped_by, product_keys

Json = dict[str, Any]

#: What the working of each part of a route is called, by how its keys begin.
GROUPS = {
    "Output": ("output",),
    "The tank and the day": (
        "route.fill_limit",
        "route.unsprayable",
        "route.one_load",
        "route.total",
    ),
    "The lawns": ("route.stops",),
    "Each load": ("route.loads",),
    "Partial loads": ("route.partial_loads",),
    "At the refill": ("route.refill", "route.gauge"),
    "What is left": ("route.leftover",),
    "The rinses": ("route.rinse",),
    "By hand: the tool and its loads": (
        "route.by_hand.output",
        "route.by_hand.fill_limit",
        "route.by_hand.unsprayable",
        "route.by_hand.one_load",
        "route.by_hand.total",
        "route.by_hand.loads",
    ),
    "By hand: the lawns": ("route.by_hand.stops",),
    "By hand: a part of a tank": ("route.by_hand.partial_loads",),
    "By hand: what is left, the rinses": ("route.by_hand.leftover", "route.by_hand.rinse"),
}


def day_sheet(plan: Json) -> dict[str, Any]:
    """Arrange the plan of a route for its page."""
    route = plan["route"]
    figures = figures_of(plan)
    names = {stop["number"]: stop["name"] for stop in route["stops"]}
    return {
        "plan": plan,
        "route": route,
        "figures": figures,
        "working_groups": grouped_by(GROUPS, figures),
        "loads": _loads("route.loads", route["loads"], names),
        "refill": _refill(route["refill"], names),
        "partial": _partial(route["partial_loads"]),
        "lawns": _lawns(route),
        "leftover": _leftover("route", route["leftover"]),
        "by_hand": _by_hand(route.get("by_hand"), names),
        "refusals": plan["refusals"],
        "warnings": together(plan["warnings"], {}),
        "notes": plan["notes"],
    }


def _by_hand(by_hand: Json | None, names: dict[int, str]) -> Json | None:
    """Arrange what the hand tool does: its loads, and what is left of them."""
    if by_hand is None:
        return None
    return by_hand | {
        "loads": _loads("route.by_hand.loads", by_hand["loads"], names),
        "left": _leftover("route.by_hand", by_hand["leftover"]),
    }


def _loads(key: str, loads: list[Json], names: dict[int, str]) -> list[Json]:
    parts = ("spray_needed", "carried", "tank", "add", "water", "left")
    return [
        load
        | {
            "key": {part: f"{key}[{n}].{part}" for part in parts},
            "lawns": [names[number] for number in load["stops"]],
            "products": [
                product_keys(f"{key}[{n}].products[{m}]", product)
                for m, product in enumerate(load["products"])
            ],
        }
        for n, load in enumerate(loads)
    ]


def _refill(refill: Json | None, names: dict[int, str]) -> Json | None:
    if refill is None:
        return None
    return refill | {
        "next": _loads("route.refill.loads", refill["loads"], names),
        "delivered": [
            product | {"key": f"route.refill.products[{n}].rate"}
            for n, product in enumerate(refill["products"])
        ],
        "naive": _naive(refill["naive"]),
    }


def _naive(naive: Json | None) -> Json | None:
    if naive is None:
        return None
    return naive | {
        "rates": [
            product | {"key": f"route.refill.naive.products[{n}].rate"}
            for n, product in enumerate(naive["products"])
        ]
    }


def _partial(rows: list[Json]) -> Json:
    """Turn the partial loads into a table: a heading for each product, a row for each step."""
    heads = [product["name"] for product in rows[0]["products"]]
    return {"heads": heads, "rows": rows}


def _lawns(route: Json) -> list[Json]:
    """List lawns and reload points in the order they are come to."""
    points = route["reload_points"]
    listed: list[Json] = [{"point": point} for point in points if not point["after_stop"]]
    by_hand = route.get("by_hand", {"stops": [None] * len(route["stops"])})["stops"]
    for stop, other in zip(route["stops"], by_hand, strict=True):
        listed.append({"stop": stop, "by_hand": other})
        after = (point for point in points if point["after_stop"] == stop["number"])
        listed += [{"point": point} for point in after]
    return listed


def _leftover(key: str, leftover: Json | None) -> Json | None:
    """Give the lawn that takes what is left, with the keys of its workings."""
    if leftover is None:
        return None
    lawns = [
        lawn
        | {
            "products": [
                product | {"key": f"{key}.leftover.lawns[{n}].products[{m}].total"}
                for m, product in enumerate(lawn["products"])
            ]
        }
        for n, lawn in enumerate(leftover["lawns"])
    ]
    return leftover | {"lawns": lawns}
