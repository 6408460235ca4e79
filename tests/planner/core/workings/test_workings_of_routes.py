"""Every figure of a route, reconstructed by hand from its own working."""

from typing import Any

import pytest

from planner.core.answers import answer
from tests.planner.core.asking import LAWN, MACHINE, area, corners_of, place
from tests.planner.core.scenarios import PENNYWHISTLE, lawns
from tests.planner.core.workings.test_workings import by_hand, found_at, quantities_in

MIX = [
    *PENNYWHISTLE["mix"],
    {"name": "Invented granule", "rate": "0.5 lb/acre", "formulation": "WP"},
    {"name": "Invented powder", "rate": "1 lb/100 gal", "formulation": "WP"},
    {"name": "Invented adjuvant", "rate": "0.25 %", "formulation": "NIS"},
]
BED = area("bed", "flower_bed", corners_of(40, 20, 50, 30), setback="3 ft")
READ = [
    {"name": "Mill House", "property": place(LAWN, BED), "gauge_after": "105 gal"},
    *lawns(20_000, 15_000),
    {"reload": "nurse_tank"},
    {"name": "Half a house", "property": place(LAWN, BED), "parts": 2},
    {"area": "3000 sq ft", "parts": 3},
    *lawns(30_000),
    {"reload": "yard"},
    *lawns(41_000),
]
RICH = PENNYWHISTLE | {
    "mix": MIX,
    "machine": MACHINE | {"tanks": ["200 gal"], "fill_limit": "190 gal", "unsprayable": "3 gal"},
    "route": {
        "stops": READ,
        "weight_limit": "400 kg",
        "next_lawns": [{"area": "1 acre"}],
        "refill": {"in_tank": "6 gal"},
        "rinse": {"count": 2, "volume": "40 L"},
    },
}
STRONG = PENNYWHISTLE | {
    "tank_now": {"spray": "9 gal", "products": {MIX[0]["name"]: "54 fl oz"}},
    "route": {"stops": lawns(30_000, 10_000)},
}

HEAVY = RICH | {
    "mix": [
        *(
            product | {"label": product.get("label", {}) | {"density": "11 lb/gal"}}
            for product in (MIX[0], MIX[3])
        ),
        *MIX[1:3],
    ]
}
SHARED = PENNYWHISTLE | {"route": {"stops": lawns(5_000, 4_000)}}
BANK = area("bank", "turf", corners_of(200, 0, 260, 60), slope="20 %")
#: Closed on the day.
CORNER = area("corner", "turf", corners_of(0, 0, 12, 12))["geometry"]
#: Too narrow for the machine.
STRIP = area("strip", "turf", corners_of(300, 0, 301.2, 20))
LATHE = area("lathe", "turf", corners_of(310, 0, 311.2, 20))
SLOPED = PENNYWHISTLE | {
    "machine": MACHINE
    | {
        "tanks": ["200 gal"],
        "unsprayable": "3 gal",
        "pump": "fixed",
        "calibration": MACHINE["calibration"]
        | {"level_speed": "4 mph", "slope_speeds": [{"slope": "20 %", "speed": "3.4 mph"}]},
    },
    "route": {"stops": [{"name": "Bank House", "property": place(LAWN, BED, BANK), "parts": 2}]},
}
BY_HAND = SLOPED | {
    "on": "2026-07-06",
    "mix": [MIX[0] | {"label": MIX[0]["label"] | {"limits": {"interval": "28 day"}}}, *MIX[1:]],
    "route": {
        "stops": [
            {
                "name": "Bank House",
                "property": place(LAWN, BED, BANK, STRIP, LATHE),
                "parts": 2,
                "history": [
                    {
                        "on": "2026-07-01",
                        "product": MIX[0]["name"],
                        "rate": "1 fl oz/acre",
                        "where": CORNER,
                    }
                ],
            },
            {"area": "9000 sq ft", "hand_area": "900 sq ft", "parts": 3},
            {"area": "800 sq ft", "hand_area": "800 sq ft"},
            {"reload": "yard"},
            *lawns(3_000),
            {"area": "900 sq ft", "hand_area": "100 sq ft"},
        ],
        "hand_tool": {
            "kind": "backpack_sprayer",
            "swath": "3 ft",
            "tanks": ["4 gal"],
            "unsprayable": "0.1 gal",
            "calibration": {
                "method": "measured_course",
                "course_length": "30 ft",
                "volumes_used": ["12 fl oz", "12.1 fl oz", "11.9 fl oz"],
            },
        },
    },
}
PLANS = {
    f"{name}, {units}": answer(request | {"units": units})
    for name, request in {
        "pennywhistle": PENNYWHISTLE,
        "rich": RICH,
        "strong": STRONG,
        "heavy": HEAVY,
        "shared": SHARED,
        "sloped": SLOPED,
        "by hand": BY_HAND,
    }.items()
    for units in ("us", "metric")
}
WORKING = [
    pytest.param(plan, entry, id=f"{name}: {entry['figure']}")
    for name, plan in PLANS.items()
    for entry in plan["working"]
]


@pytest.mark.parametrize(("plan", "entry"), WORKING)
def test_the_inputs_shown_give_the_figure_by_the_formula_shown(
    plan: Any, entry: dict[str, Any]
) -> None:
    inputs = [abs(each["value"]) for each in entry["inputs"]]

    # A difference is as exact as the larger of its two terms.
    slack = 1e-11 * max([*inputs, 1e-9])
    assert by_hand(entry) == pytest.approx(entry["result"]["value"], rel=1e-10, abs=slack)


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
    paths = quantities_in({"output": plan["output"], "route": plan["route"]})

    wanted = {path for path in paths if not path.endswith(".measure") and "label_range" not in path}
    assert wanted <= set(derived)
    assert len(derived) == len(set(derived))


def test_the_rich_plan_is_rich_enough() -> None:
    route = PLANS["rich, us"]["route"]

    assert len(route["loads"]) >= 2
    assert route["refill"]["loads"]
    assert route["gauge"]["stops"]
    assert any(not lawn["today"] for lawn in route["leftover"]["lawns"])
