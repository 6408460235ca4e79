"""A job with single plants as its page shows it, built from the JSON that the command writes."""

from typing import Any

from planner.web.findings import together
from planner.web.label_sheet import label_sheet
from planner.web.plan_sheet import figures_of, grouped_by, product_keys

Json = dict[str, Any]

#: What the working of each part is called, by how its keys begin.
GROUPS = {"All plants": ("plants.",), "Products": ("products",), "Each load": ("loads",)}


def plants_sheet(plan: Json) -> dict[str, Any]:
    """Arrange the plan of single plants for its page."""
    figures = figures_of(plan)
    return {
        "plan": plan,
        "plants": plan["plants"],
        "figures": figures,
        "working_groups": grouped_by(GROUPS, figures),
        "products": [
            product_keys(f"products[{n}]", product) for n, product in enumerate(plan["products"])
        ],
        "loads": [_load(n, load) for n, load in enumerate(plan["loads"])],
        "label_sheet": label_sheet(plan),
        "refusals": plan["refusals"],
        "warnings": together(plan["warnings"], {}),
    }


def _load(n: int, load: Json) -> Json:
    return load | {
        "key": {part: f"loads[{n}].{part}" for part in ("volume", "plants", "water")},
        "products": [
            product_keys(f"loads[{n}].products[{m}]", product)
            for m, product in enumerate(load["products"])
        ],
    }
