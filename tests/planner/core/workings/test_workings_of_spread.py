"""Figures of a spreader and of nutrients, reconstructed by hand from their working."""

import re
from typing import Any

import pytest

from planner.core.plan import plan_from_json
from planner.core.report import plan_as_json
from tests.planner.core.asking import area, asking, corners_of, place
from tests.planner.core.feeding_park import FEED, LIQUID, with_tests
from tests.planner.core.scenarios import RUSHMERE
from tests.planner.core.workings.test_workings import by_hand, found_at, quantities_in

MACHINE = RUSHMERE["machine"]
COURSE = {
    "method": "weigh_back",
    "course_length": "25 m",
    "runs": [{"setting": 6, "used": "1.01 kg"}, {"setting": 6, "used": "2.2 lb"}],
}
SLOPE = {
    "property": place(
        area("lawn", "turf", corners_of(0, 0, 70, 35), unit_m=1, slope="25 %", position_error="1 m")
    ),
    "rate_meets": "plan",
}
STATED = {name: value for name, value in MACHINE.items() if name not in {"calibration", "hopper"}}

PLANS = {
    f"{name}, {units}": plan_as_json(plan_from_json(request | {"units": units}))
    for name, request in {
        "rushmere": RUSHMERE | {"first_pass_used": "50 lb"},
        "between": with_tests((5, "0.9 kg"), (6, "1.1 kg"), (6, "1.12 kg")),
        "falling": with_tests((6, "0.9 kg"), (5, "1.1 kg")),
        "slope": RUSHMERE | SLOPE | {"machine": MACHINE | {"calibration": COURSE}},
        "stated": RUSHMERE | {"machine": STATED | {"output": "2 lb/1000 sq ft"}},
        "potassium": RUSHMERE
        | {"mix": [FEED | {"nutrient_target": {"K": "1.5 g/m2"}}], "nutrients_so_far": {}},
        "released": RUSHMERE
        | {
            "nutrient_limits": [
                RUSHMERE["nutrient_limits"][0] | {"least_slow_release": "20 %"},
                RUSHMERE["nutrient_limits"][0] | {"per": "30 days"},
            ],
            "nutrients_lately": {"30 days": {"N": "0.4 g/m2"}},
        },
        "liquid": asking(
            mix=[LIQUID, LIQUID | {"name": "Second", "fertilizer": {"grade": "3-1-2"}}],
            nutrient_limits=RUSHMERE["nutrient_limits"],
        ),
    }.items()
    for units in ("us", "metric")
}
WORKING = [
    pytest.param(plan, entry, id=f"{name}: {entry['figure']}")
    for name, plan in PLANS.items()
    for entry in plan["working"]
    if re.match("spread|nutrient|output|products", entry["figure"])
]

#: What is told as it was given.
GIVEN = re.compile(
    r"label_range|measure$|left_out|^working|at_most$|so_far$|least_slow_release$|bag$|full$|used$|passes\.swath$"
)


@pytest.mark.parametrize(("plan", "entry"), WORKING)
def test_the_inputs_shown_give_the_figure_by_the_formula_shown(
    plan: Any, entry: dict[str, Any]
) -> None:
    # A deviation is a small difference of two rates.
    slack = 1e-10 if "deviation" in entry["figure"] else 1e-14
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
    assert wanted <= set(derived)
    assert len(derived) == len(set(derived))
