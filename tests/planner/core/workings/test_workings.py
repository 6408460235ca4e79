"""Every figure of a plan, reconstructed by hand from its own working."""

import math
import re
from typing import Any

import pytest

from planner.core.plan import plan_from_json
from planner.core.report import plan_as_json
from tests.planner.core.asking import (
    HERBICIDE,
    LAWN,
    MACHINE,
    area,
    asking,
    corners_of,
    place,
    point,
    with_output,
)
from tests.planner.core.request.test_calibration import CATCH, GUN, PLOT

GRANULE = {"name": "Invented granule", "rate": "0.5 lb/acre", "formulation": "WP"}
POWDER = {"name": "Invented powder", "rate": "1 lb/100 gal", "formulation": "WP"}
ADJUVANT = {"name": "Invented × adjuvant (2)", "rate": "0.25 %", "formulation": "NIS"}
MARKER = {"name": "Invented marker", "rate": "1 fl oz/5 gal", "formulation": "SC"}

LABEL = HERBICIDE["label"] | {"setbacks": {"pond": "25 ft"}}

RICH = asking(
    property=place(
        LAWN | {"properties": {"kind": "turf", "name": "Front + 1", "slope": "20 %"}},
        area("side", "turf", corners_of(90, 0, 140, 60), slope="5 deg"),
        area("strip", "turf", corners_of(200, 0, 206, 60)),
        area("house", "building", corners_of(60, 10, 80, 30)),
        area("walk", "walk", corners_of(55, 15, 90, 20)),
        area("pond", "pond", corners_of(0, 50, 40, 60), setback="10 ft"),
        point("tree", "tree", 20, 20),
        point("hive", "beehive", 130, 50, setback="2 m"),
        point("drain", "storm_drain", 100, 5),
    ),
    machine=MACHINE
    | {
        "tanks": ["1 gal", "3 L"],
        "calibration": {
            "method": "measured_course",
            "course_length": "30 yd",
            "volumes_used": ["0.9 gal", "3.4 L", "3.5 qt", "120 fl oz", "1.5 gal"],
        },
    },
    mix=[HERBICIDE | {"label": LABEL}, GRANULE, POWDER, ADJUVANT, MARKER],
    setback_defaults={"tree": "3 ft"},
    measures={"liquid": ["10 mL", "0.05 fl oz"], "dry": ["0.02 oz wt", "0.1 g"]},
)

STATED = asking(machine=with_output("30 L/ha", kind="backpack_sprayer"), mix=[])
COARSE = asking(mix=[HERBICIDE, ADJUVANT], measures={"liquid": ["1 gal"]})
NEAT = asking(mix=[HERBICIDE | {"rate": "2 gal/1000 sq ft"}])
PLACED = RICH | {
    "property": place(
        *(
            feature | {"properties": {"position_error": "1.5 ft", **feature["properties"]}}
            for feature in RICH["property"]["features"]
        ),
        *(
            point(f"hive {number}", "beehive", 5 + number, 5, setback="1 ft", measured_by="tape")
            for number in range(8)
        ),
    ),
    "position_errors": {"tape": "0.2 m"},
}
DRIVEN = asking(machine=MACHINE | {"headlands": 2, "speed": "3.5 mph", "turn_time": "0.1 min"})
ROUNDS = asking(machine=MACHINE | {"headlands": 2, "speed": "5 km/h", "swath": "25 ft"})

PLOT_BY_AREA = {
    name: value for name, value in PLOT.items() if name not in ("plot_length", "plot_width")
} | {"plot_area": "31.6 m2"}
CAUGHT = asking(machine=MACHINE | {"calibration": CATCH | {"times": ["34 s", "33 s", "0.9 min"]}})
OF_THE_COURSE = ("course_length", "times")
READ_OFF = asking(
    machine=MACHINE
    | {
        "calibration": {name: value for name, value in CATCH.items() if name not in OF_THE_COURSE}
        | {"speed": "6 km/h"}
    }
)
WALKED = asking(machine=MACHINE | {"kind": "hand_gun", "calibration": GUN})
PLOTTED = asking(machine=MACHINE | {"kind": "backpack_sprayer", "calibration": PLOT})
ACRE_PART = asking(machine=PLOTTED["machine"] | {"calibration": PLOT_BY_AREA})

SLOPED = asking(
    property=place(
        LAWN,
        area("bank", "turf", corners_of(200, 0, 260, 60), slope="12 deg"),
        area("steep", "turf", corners_of(300, 0, 340, 60), slope="60 %"),
    ),
    machine=MACHINE
    | {
        "pump": "fixed",
        "speed": "4 mph",
        "turn_time": "6 s",
        "sides": 3,
        "calibration": MACHINE["calibration"]
        | {
            "level_speed": "4 mph",
            "slope_speeds": [
                {"slope": "10 %", "speed": "3.8 mph"},
                {"slope": "30 %", "speed": "5 km/h"},
            ],
        },
    },
    mix=[HERBICIDE | {"rate": "1.05 fl oz/1000 sq ft"}, ADJUVANT],
)

PLANS = {
    f"{name}, {units}": plan_as_json(plan_from_json(request | {"units": units}))
    for name, request in {
        "rich": RICH,
        "stated": STATED,
        "coarse": COARSE,
        "neat": NEAT,
        "driven": DRIVEN,
        "placed": PLACED,
        "rounds": ROUNDS,
        "caught": CAUGHT,
        "read off": READ_OFF,
        "walked": WALKED,
        "plotted": PLOTTED,
        "acre part": ACRE_PART,
        "sloped": SLOPED,
    }.items()
    for units in ("us", "metric")
}
WORKING = [
    pytest.param(plan, entry, id=f"{name}: {entry['figure']}")
    for name, plan in PLANS.items()
    for entry in plan["working"]
]

HAND = {"ceil": math.ceil, "sqrt": math.sqrt, "min": min, "max": max, "__builtins__": {}}


def by_hand(entry: dict[str, Any]) -> float:
    """Put the inputs into the formula, and work it out."""
    values = {each["name"]: repr(float(each["value"])) for each in entry["inputs"]}
    names = sorted(map(re.escape, values), key=len, reverse=True)
    text = entry["formula"]
    if names:
        text = re.sub("|".join(names), lambda found: f"({values[found[0]]})", text)
    for ours, python in (("×", "*"), ("−", "-"), ("²", "**2")):
        text = text.replace(ours, python)
    return float(eval(text, HAND))  # noqa: S307 - a formula of our own, in a test


def found_at(plan: Any, figure: str) -> Any:
    for step in re.findall(r"[^.\[\]]+", figure):
        plan = plan[int(step)] if isinstance(plan, list) else plan[step]
    return plan


@pytest.mark.parametrize(("plan", "entry"), WORKING)
def test_the_inputs_shown_give_the_figure_by_the_formula_shown(
    plan: Any, entry: dict[str, Any]
) -> None:
    inputs = [abs(each["value"]) for each in entry["inputs"]]

    # A sum of areas is as exact as its largest part.
    slack = 1e-9 * max([*inputs, 1e-9]) if "area" in entry["figure"] else 0
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
    assert entry["name"]


#: What is not worked out but told as it was given, or only drawn.
GIVEN = re.compile(
    r"label_range|measure$|passes\.swath$|remeasure\.error$|flukes\[\d+\]\.(volume|time)$"
    r"|nozzles\[\d+\]\.catch$|left_out|^working"
)


def quantities_in(value: Any, path: str = "") -> list[str]:
    if isinstance(value, dict):
        own = [path] if {"value", "unit"} <= set(value) else []
        return own + [
            found
            for name, inner in value.items()
            for found in quantities_in(inner, f"{path}.{name}" if path else name)
        ]
    if isinstance(value, list):
        return [
            found
            for number, inner in enumerate(value)
            for found in quantities_in(inner, f"{path}[{number}]")
        ]
    return []


@pytest.mark.parametrize("plan", PLANS.values(), ids=list(PLANS))
def test_every_figure_of_the_plan_has_a_working_and_only_one(plan: Any) -> None:
    derived = [entry["figure"] for entry in plan["working"]]

    wanted = {path for path in quantities_in(plan) if not GIVEN.search(path)}
    assert wanted <= set(derived)
    assert len(derived) == len(set(derived))


def test_the_rich_plan_is_rich_enough() -> None:
    plan = PLANS["rich, us"]

    assert plan["output"]["flukes"]
    assert len(plan["loads"]) > 3
    assert plan["hand_area"]["value"] > 0
    assert plan["obstacle_area"]["value"] > 0
    assert "counted twice" in next(
        entry["formula"] for entry in plan["working"] if entry["figure"] == "turf_area"
    )
    distances = [zone["properties"]["distance"] for zone in plan["no_spray"]["features"]]
    assert distances[-1] is None
    assert any(portion["amount_to_measure"] for portion in plan["loads"][0]["products"])
