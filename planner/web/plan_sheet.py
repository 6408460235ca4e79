"""A plan as the page shows it: big figures first, each with its working at hand.

Built from the same JSON that the command line writes, so that the page cannot say
anything else.
"""

from typing import Any

from planner.selectors.plans import Asked
from properties.core.units import Quantity
from properties.core.working import Figure, Input
from properties.models import Person
from properties.web.drawing_board import layers

Json = dict[str, Any]


def sheet(plan: Json, *, asked: Asked, request: Json, person: Person) -> dict[str, Any]:
    """Arrange a plan for its page."""
    names = _names(request)
    figures = {entry["figure"]: _figure(entry) for entry in plan["working"]}
    return {
        "asked": asked,
        "plan": plan,
        "figures": figures,
        "working_groups": _grouped(figures),
        "loads": [_load(f"loads[{n}]", load) for n, load in enumerate(plan["loads"])],
        "products": [
            _product(f"products[{n}]", product) for n, product in enumerate(plan["products"])
        ],
        "left_out": [
            {"name": names.get(part["feature"], part["feature"]), **part}
            for part in plan["left_out"]
        ],
        "refusals": plan["refusals"],
        "warnings": plan["warnings"],
        "notes": plan["notes"],
        "map_json": {
            "collection": request["property"],
            "treatable": plan["treatable"],
            "no_spray": plan["no_spray"],
        }
        | layers(person, asked.place),
    }


def _names(request: Json) -> dict[str, str]:
    return {
        feature["id"]: feature["properties"].get("name") or feature["properties"]["kind"]
        for feature in request["property"]["features"]
    }


#: What the working of each part of a plan is called, by how its keys begin.
GROUPS = {
    "The ground": ("areas_by_shape", "turf", "obstacle", "no_spray", "treatable", "machine", "hand"),
    "Output and finished spray": ("output", "carrier"),
    "Products for the whole job": ("products",),
    "Each load": ("loads",),
}


def _grouped(figures: dict[str, Figure]) -> list[tuple[str, list[Figure]]]:
    return [
        (title, [figure for key, figure in figures.items() if key.startswith(begins)])
        for title, begins in GROUPS.items()
    ]


def _figure(entry: Json) -> Figure:
    return Figure(
        key=entry["figure"],
        name=entry["name"],
        formula=entry["formula"],
        inputs=tuple(
            Input(given["name"], Quantity(given["value"], given["unit"]))
            for given in entry["inputs"]
        ),
        result=quantity_in(entry["result"]),
        source=entry["source"],
    )


def quantity_in(entry: Json) -> Quantity:
    """Read a quantity of the plan's JSON."""
    return Quantity(entry["value"], entry["unit"])


def _load(key: str, load: Json) -> Json:
    return {
        **load,
        "key": {part: f"{key}.{part}" for part in ("volume", "area", "water")},
        "products": [
            _product(f"{key}.products[{n}]", product) for n, product in enumerate(load["products"])
        ],
    }


def _product(key: str, product: Json) -> Json:
    keys = ("amount", "amount_to_measure", "rate_used", "rate_after_rounding")
    return {**product, "key": {part: f"{key}.{part}" for part in keys}}
