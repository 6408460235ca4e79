"""Figures of two tools, a mixed tank and a slope, reconstructed by hand from their working."""

import re
from typing import Any

import pytest

from planner.core.ground.accounting import Fate
from planner.core.plan import plan_from_json
from planner.core.report import plan_as_json
from tests.planner.core.asking import (
    HERBICIDE,
    LAWN,
    MACHINE,
    area,
    corners_of,
    place,
    point,
    with_output,
)
from tests.planner.core.scenarios import COPPERLEAF, QUILLBROOK, in_wind
from tests.planner.core.workings.test_workings import (
    ADJUVANT,
    GRANULE,
    MARKER,
    POWDER,
    by_hand,
    found_at,
    quantities_in,
)

MIX = [HERBICIDE, GRANULE, POWDER, ADJUVANT, MARKER]
AMOUNTS = ["9 fl oz", "1 oz wt", "12 oz wt", "3 fl oz", "20 fl oz"]
NAMES = [product["name"] for product in MIX]
TANK = {"tool": "hand_tool", "spray": "4 gal", "products": dict(zip(NAMES, AMOUNTS, strict=True))}

# A bank whose label meets the map, ground for both tools, ground for none, and many loads.
RICH: dict[str, Any] = {
    "property": place(
        LAWN | {"properties": {"kind": "turf", "slope": "20 %"}},
        area("side", "turf", corners_of(90, 0, 140, 60), slope={"rise": "1 m", "run": "8 m"}),
        area("back", "turf", corners_of(300, 0, 340, 50), gate="4 ft", name="Back"),
        area("strip", "turf", corners_of(200, 0, 206, 60), only="hand_tool"),
        area("walk", "walk", corners_of(0, 30, 100, 37)),
        area("pond", "pond", corners_of(0, 50, 100, 60), downwind_setback="12 ft"),
        point("tree", "tree", 20, 20),
    ),
    "machine": MACHINE | {"width": "5 ft", "tanks": ["1 gal", "3 L"]},
    "hand_tool": with_output(
        "2 gal/1000 sq ft", kind="backpack_sprayer", swath="3 ft", tanks=["4 gal"], width="4.5 ft"
    ),
    "setback_rules": [
        {"kind": "pond", "distance": "5 ft", "method": "boom", "source": "Invented firm"},
        {"kind": "pond", "distance": "20 ft", "method": "backpack", "source": "Invented firm"},
        {"kind": "tree_or_shrub", "distance": "3 ft", "source": "Invented firm"},
    ],
    "mix": MIX,
    "weather": {"wind_from": "N", "wind_speed": "5 mph"},
    "measures": {"liquid": ["10 mL", "0.05 fl oz"], "dry": ["0.02 oz wt", "0.1 g"]},
    "rate_meets": "plan",
    "tank_now": TANK,
}
SHORT = RICH | {"tank_now": TANK | {"spray": "0.5 gal"}}
NO_WIND = RICH | {"weather": {}}

PLACED = QUILLBROOK | {
    "property": place(
        *(
            feature | {"properties": feature["properties"] | {"position_error": "1 ft"}}
            for feature in QUILLBROOK["property"]["features"]
        )
    ),
    "better_error": "3 in",
}

# Two products with one ingredient, and ground that has had different things, some of it closed.
LIMITED_LABEL = HERBICIDE["label"] | {
    "limits": {"per_year": "3.4 fl oz/1000 sq ft", "year": "rolling", "interval": "30 days"},
    "active_ingredients": [
        {"name": "Invented-A", "content": "4 lb/gal", "per_year": "9 lb/acre"},
        {"name": "Invented-B", "content": "1 lb/gal", "per_application": "2 lb/acre"},
    ],
}
OTHER_LABEL = {"active_ingredients": [{"name": "invented-a", "content": "20 %"}]}
WHERE = [
    area("", "turf", corners_of(*corners))["geometry"]
    for corners in ((0, 0, 60, 70), (30, 0, 140, 40), (110, 0, 120, 60))
]
PAST = RICH | {
    "on": "2026-07-06",
    "mix": [
        HERBICIDE | {"label": LIMITED_LABEL},
        GRANULE | {"label": OTHER_LABEL},
        *MIX[2:],
    ],
    "history": [
        {
            "on": "2025-07-10",
            "product": NAMES[0],
            "rate": "0.3 fl oz/1000 sq ft",
            "where": WHERE[0],
        },
        {"on": "2026-05-01", "product": NAMES[1], "rate": "0.3 lb/acre", "where": WHERE[1]},
        {"on": "2026-06-20", "product": NAMES[0], "rate": "1 mL/m2", "where": WHERE[2]},
    ],
    "seedings": [{"on": "2026-06-01", "where": WHERE[2]}],
}

# A lawn of a grass that the label forbids is left out, whatever the tool.
BENT = area("bent", "turf", corners_of(360, 0, 400, 50), turfgrasses=["creeping_bentgrass"])
SPARED = RICH | {
    "property": RICH["property"] | {"features": [*RICH["property"]["features"], BENT]},
    "turfgrasses": ["tall_fescue"],
    "mix": [
        HERBICIDE
        | {
            "label": HERBICIDE["label"]
            | {"tolerance": {"tall_fescue": "tolerates", "creeping_bentgrass": "forbidden"}}
        },
        *MIX[1:],
    ],
}

# Of a rate per area and a least share of the spray the greater counts, with each tool another.
GREATER = {
    "property": place(LAWN, area("strip", "turf", corners_of(200, 0, 206, 60))),
    "machine": with_output("0.5 gal/1000 sq ft"),
    "hand_tool": with_output(
        "2 gal/1000 sq ft", kind="backpack_sprayer", swath="3 ft", tanks=["4 gal"]
    ),
    "mix": [
        {"name": "Oil", "rate": "0.4 fl oz/1000 sq ft", "label": {"least_in_spray": "0.25 %"}},
        {"name": "Salt", "rate": "1 oz wt/1000 sq ft", "label": {"least_in_spray": "1 oz wt/gal"}},
    ],
}

WITH_A_REST = RICH | {
    "machine": RICH["machine"] | {"fill_limit": ["0.9 gal", "2.8 L"], "unsprayable": "0.1 gal"},
    "hand_tool": RICH["hand_tool"] | {"unsprayable": "0.2 gal"},
}
PLANS = {
    f"{name}, {units}": plan_as_json(plan_from_json(request | {"units": units}))
    for name, request in {
        "placed": PLACED,
        "rich": RICH,
        "short": SHORT,
        "with a rest": WITH_A_REST,
        "past": PAST,
        "spared": SPARED,
        "greater": GREATER,
        "no wind": NO_WIND,
        "Quillbrook": QUILLBROOK,
        "Copperleaf": in_wind("190 deg", "7 mph"),
        "on hold": in_wind("230 deg", "11 mph"),
        "calm": COPPERLEAF,
    }.items()
    for units in ("us", "metric")
}
WORKING = [
    pytest.param(plan, entry, id=f"{name}: {entry['figure']}")
    for name, plan in PLANS.items()
    for entry in plan["working"]
]

#: What is not worked out but told as it was given, or only drawn.
GIVEN = re.compile(
    r"whichever_is_more|^label_facts|limits\[\d+\]\.per_|applications\[\d+\]\.rate$|"
    r"label_range|measure$|left_out|passes\.swath$|remeasure\.error$|^working|^wind\.|spray_in_tank|in_tank$"
)


@pytest.mark.parametrize(("plan", "entry"), WORKING)
def test_the_inputs_shown_give_the_figure_by_the_formula_shown(
    plan: Any, entry: dict[str, Any]
) -> None:
    inputs = [abs(each["value"]) for each in entry["inputs"]]

    # A sum of areas, or a difference of amounts, is as exact as its largest part.
    is_sum = re.search("area|left_over|missing|room", entry["figure"])
    slack = 1e-9 * max([*inputs, 1e-9]) if is_sum else 0
    assert by_hand(entry) == pytest.approx(entry["result"]["value"], rel=1e-11, abs=slack)


@pytest.mark.parametrize(("plan", "entry"), WORKING)
def test_the_result_of_the_working_is_the_figure_of_the_plan(
    plan: Any, entry: dict[str, Any]
) -> None:
    figure = found_at(plan, entry["figure"])

    if isinstance(figure, dict):
        assert (figure["value"], figure["unit"]) == tuple(entry["result"].values())
    else:
        assert figure == entry["result"]["value"]
    assert entry["source"].endswith(".")


@pytest.mark.parametrize("plan", PLANS.values(), ids=list(PLANS))
def test_every_figure_of_the_plan_has_a_working_and_only_one(plan: Any) -> None:
    derived = [entry["figure"] for entry in plan["working"]]

    wanted = {path for path in quantities_in(plan) if not GIVEN.search(path)}
    assert wanted - set(derived) == set()
    assert len(derived) == len(set(derived))


def fates_of(plan: dict[str, Any]) -> set[str]:
    return {share["fate"] for share in plan["accounting"]["shares"]}


def test_the_rich_plan_is_rich_enough() -> None:
    plan = PLANS["rich, us"]

    past = PLANS["past, us"]
    assert set(Fate) - fates_of(plan) == {Fate.CLOSED, Fate.SPARED}
    assert Fate.CLOSED in fates_of(past)
    assert Fate.SPARED in fates_of(PLANS["spared, us"])
    assert len(past["faces"]) > 4
    assert [(each["substance"]) for each in past["limits"]] == [None, "Invented-A", "Invented-B"]
    assert len(plan["loads"]) > 4
    assert plan["surplus"]["spray_left_over"]["value"] > 0
    assert PLANS["short, us"]["surplus"]["spray_missing"]["value"] > 0
    assert "downwind_distance" in plan["no_spray"]["features"][0]["properties"]
