"""A plan as the page shows it: big figures first, each with its working at hand.

Built from the same JSON that the command line writes, so that the page cannot say
anything else.
"""

from collections.abc import Mapping
from typing import Any

from planner.web.findings import together
from planner.web.ground_account import account_of
from planner.web.kept_from import feature_names, kept_from
from planner.web.label_sheet import ingredients, jar_products, label_sheet
from planner.web.limits import limits_of
from planner.web.slope_sheet import slopes_of, slopes_that_differ
from properties.core.units import Quantity
from properties.core.working import Figure, Input
from properties.models import Person, Property
from properties.web.drawing_board import layers

Json = dict[str, Any]


def sheet(plan: Json, *, place: Property, request: Json, person: Person) -> dict[str, Any]:
    """Arrange a plan for its page, one that was just worked out or one that was kept."""
    figures = figures_of(plan)
    return {
        "plan": plan,
        "figures": figures,
        "working_groups": grouped_by(GROUPS, figures),
        "loads": plan["loads"],
        "tools": _tools(plan),
        "cross_use": _cross_use(plan),
        "account": account_of(plan),
        "uncertain_products": _uncertain_products(plan),
        "products": [
            product_keys(f"products[{n}]", product) for n, product in enumerate(plan["products"])
        ],
        "passes": _spreader_passes(plan),
        "slopes": slopes_of(plan),
        "nutrients": _nutrients(plan),
        "kept_from": kept_from(plan),
        "limits": limits_of(plan),
        "refusals": plan["refusals"],
        "warnings": together(plan["warnings"], feature_names(plan)),
        "notes": plan["notes"],
        "label_sheet": label_sheet(plan),
        "jar_products": jar_products(plan),
        "ingredients": ingredients(plan),
        "map_json": {
            "collection": request["property"],
            "treatable": plan["treatable"],
            "no_spray": plan["no_spray"],
            "closed": [face["shape"] for face in plan.get("faces", ()) if not face["open"]],
            "passes": _passes(plan),
            "slopes": slopes_that_differ(plan),
            "hand": next((part["shape"] for part in plan.get("parts", ())[1:]), None),
        }
        | layers(person, place),
    }


TOOLS = {"machine": "Machine", "hand_tool": "Hand tool"}


def _passes(plan: Json) -> list[Json]:
    """List the lines that a machine is driven along, rounds first."""
    passes = plan.get("passes") or {}
    return [passes[name] for name in ("rings", "lines") if passes.get(name)]


def _spreader_passes(plan: Json) -> list[Json]:
    """List the passes of a spreader, each figure with the key of its working."""
    passes = (plan.get("spread") or {}).get("passes", ())
    return [
        each
        | {"key": {part: f"spread.passes[{n}].{part}" for part in ("amount", "amount_to_measure")}}
        for n, each in enumerate(passes)
    ]


#: How a person reads the nutrients, in the order of a plan.
NUTRIENTS = {
    "N": "Nitrogen (N)",
    "soluble N": "of it soluble",
    "P2O5": "Phosphate (P2O5)",
    "K2O": "Potash (K2O)",
    "P": "Phosphorus as such (P)",
    "K": "Potassium as such (K)",
}


def _nutrients(plan: Json) -> list[Json]:
    """Name each nutrient that a plan puts down, with the key of its working."""
    return [
        {"key": f"nutrients[{n}].rate", "name": NUTRIENTS[each["nutrient"]]}
        for n, each in enumerate(plan.get("nutrients") or ())
        if each["rate"] and each["rate"]["value"]
    ]


def _uncertain_products(plan: Json) -> list[Json]:
    """Name each product whose amount may be off, with the key of its working."""
    products = (plan.get("uncertainty") or {}).get("products", ())
    return [
        {
            "name": f"{product['name']}, ±",
            "key": f"uncertainty.products[{n}].plus_minus",
            "with_output_name": f"{product['name']}, with the error of the output, ±",
            "with_output": f"uncertainty.products[{n}].with_output",
        }
        for n, product in enumerate(products)
    ]


def _tools(plan: Json) -> list[Json]:
    """Give each tool its loads; a plan with one tool has all of them together."""
    loads = [_load(f"loads[{n}]", load) for n, load in enumerate(plan["loads"])]
    parts = plan.get("parts") or [{"tool": "machine", "area": plan["treatable_area"]}]
    return [
        {
            "name": TOOLS[part["tool"]],
            "area": part["area"],
            "loads": [load for load in loads if load.get("tool", part["tool"]) == part["tool"]],
        }
        for part in parts
    ]


def _cross_use(plan: Json) -> list[Json]:
    """Name the tools of each wrong use in words."""
    return [
        use | {"mix_of": TOOLS[use["mix_of"]], "used_in": TOOLS[use["used_in"]].lower()}
        for use in plan.get("cross_use") or ()
    ]


#: What the working of each part of a plan is called, by how its keys begin.
GROUPS = {
    "The ground": (
        "areas_by_shape",
        "turf",
        "obstacle",
        "no_spray",
        "treatable",
        "machine",
        "hand",
        "rate_area",
    ),
    "Every bit of turf": ("accounting",),
    "What the ground has had, and may still get": ("closed_area", "faces", "limits"),
    "The passes": ("passes",),
    "On slopes, or on spots": ("slopes", "spots", "level_area"),
    "How far off it may be": ("uncertainty",),
    "Output and finished spray": ("output", "carrier", "stays_in", "mixed_volume"),
    "Products for the whole job": ("products",),
    "Passes, bags and catch tests": ("spread",),
    "Nutrients": ("nutrient",),
    "Each load": ("loads",),
    "Each tool": ("parts",),
    "One tool’s mix in the other": ("cross_use",),
    "What is in the tank": ("surplus",),
    "What works in the products": ("active_ingredients",),
    "Mixing": ("jar_test", "water_conditioning"),
    "After the work": ("keep_off",),
}


def figures_of(plan: Json) -> dict[str, Figure]:
    """Read the working of every figure of a plan, by the figure's place in it."""
    return {entry["figure"]: _figure(entry) for entry in plan["working"]}


def grouped_by(
    titles: Mapping[str, tuple[str, ...]], figures: Mapping[str, Figure]
) -> list[tuple[str, list[Figure]]]:
    """Put workings under titles by how their keys begin; a title without any is left out."""
    groups = [
        (title, [figure for key, figure in figures.items() if key.startswith(begins)])
        for title, begins in titles.items()
    ]
    return [(title, group) for title, group in groups if group]


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
    # A plan that was kept long ago has no steps.
    steps = load.get("steps") or []
    how = {step["name"]: step for step in steps if "name" in step}
    waters = {
        step["do"]: f"{key}.steps[{n}].water" for n, step in enumerate(steps) if "water" in step
    }
    return {
        **load,
        "key": {part: f"{key}.{part}" for part in ("volume", "area", "water")},
        "products": [
            product_keys(f"{key}.products[{n}]", product) | how.get(product["name"], {})
            for n, product in enumerate(load["products"])
        ],
        **waters,
    }


def product_keys(key: str, product: Json) -> Json:
    """Give a product the keys of its workings, and its amount as its measure shows it."""
    keys = ("amount", "amount_to_measure", "rate_used", "rate_after_rounding")
    return {
        **product,
        "key": {part: f"{key}.{part}" for part in keys},
        "on_measure": _on_measure(product),
    }


def _on_measure(product: Json) -> Quantity | None:
    """Say the amount in the unit of its measure, where the plan is shown in another one."""
    amount, measure = product["amount_to_measure"], product.get("measure")
    if not amount or not measure or amount["unit"] == measure["unit"]:
        return None
    return quantity_in(amount).to(measure["unit"])
