"""The passes of a machine in a plan: by hand, and against counted points."""

import json
import math
from typing import Any

import numpy as np
import pytest
import shapely

from planner.core.amounts.passes import Drive, pass_findings
from planner.core.plan import plan_from_json
from planner.core.report import plan_as_json
from planner.core.shown import SHOWN, Units
from properties.core.passes import plan_passes
from tests.planner.core.asking import (
    LATITUDE,
    LAWN,
    LONGITUDE,
    MACHINE,
    area,
    asking,
    corners_of,
    lonlat,
    place,
    with_machine,
    with_output,
)
from tests.planner.core.scenarios import QUILLBROOK

# The plane of the tests and the plane of true areas differ by some millionths.
NEARLY = 1e-4

STRIP = place(area("strip", "turf", corners_of(0, 0, 100, 14)))


def planned(request: Any) -> Any:
    return plan_as_json(plan_from_json(request))


def passes_of(**machine: Any) -> Any:
    return planned(with_machine(**machine))["passes"]


def codes(plan: Any) -> list[str]:
    return [warning["code"] for warning in plan["warnings"]]


def in_feet(line: Any) -> shapely.LineString:
    """A line in degrees as feet east and north of the anchor, where the drawing is true."""
    (east, _), (_, north) = lonlat(0.3048, 0), lonlat(0, 0.3048)
    return shapely.LineString(
        [
            ((x - LONGITUDE) / (east - LONGITUDE), (y - LATITUDE) / (north - LATITUDE))
            for x, y in line
        ]
    )


def test_lanes_alone_are_the_width_over_the_swath_and_their_way_is_added_up_by_hand() -> None:
    passes = passes_of(headlands=0, speed="4 mph", turn_time="6 s")

    # 100 × 50 ft in swaths of 10 ft: 5 lanes of 100 ft along the long side and 4 ways of 10 ft.
    assert (passes["passes"], passes["turns"], passes["headlands"]) == (5, 4, 0)
    assert passes["heading"]["value"] == pytest.approx(90, abs=0.01)
    assert passes["swath"] == {"value": 10, "unit": "ft"}
    assert passes["driven_length"] == {"value": pytest.approx(540, rel=NEARLY), "unit": "ft"}
    # 4 mph are 4 × 5280 / 3600 ft/s.
    seconds = 540 / (4 * 5280 / 3600) + 4 * 6
    assert passes["work_time"] == {"value": pytest.approx(seconds / 60, rel=NEARLY), "unit": "min"}
    assert passes["ground_area"]["value"] == pytest.approx(5000, rel=NEARLY)
    for name in ("double_sprayed_area", "missed_area", "outside_area"):
        assert passes[name]["value"] == pytest.approx(0, abs=5000 * NEARLY)
    assert passes["rings"]["coordinates"] == []


@pytest.mark.parametrize(
    ("headlands", "rings", "lanes", "driven"),
    [
        # Round the edge 2 (90 + 40), then 3 lanes of 80 and 2 ways of 10, and sqrt(50) to begin.
        (1, 1, 3, 260 + 240 + 20),
        # Twice round, 2 (90 + 40) + 2 (70 + 20); one lane of 60 is left.
        (2, 2, 1, 260 + 180 + 60),
    ],
)
def test_rounds_along_the_edge_come_first(
    headlands: int, rings: int, lanes: int, driven: float
) -> None:
    passes = passes_of(headlands=headlands)

    assert len(passes["rings"]["coordinates"]) == rings
    assert passes["passes"] == lanes == len(passes["lines"]["coordinates"])
    assert passes["turns"] == rings + lanes - 1
    # From one to the next it is less than two swaths.
    assert driven < passes["driven_length"]["value"] < driven + 20 * rings
    assert passes["double_sprayed_share"]["value"] == pytest.approx(0, abs=0.01)


def test_one_round_is_usual() -> None:
    assert passes_of() == passes_of(headlands=1)


def test_lines_are_degrees_in_driving_order_half_a_swath_from_the_edge() -> None:
    lines = passes_of(headlands=0)["lines"]

    assert lines["type"] == "MultiLineString"
    heights = [in_feet(line).bounds[1] for line in lines["coordinates"]]
    assert sorted(heights) == pytest.approx([5, 15, 25, 35, 45], abs=0.01)
    assert heights in (sorted(heights), sorted(heights, reverse=True))


def test_a_strip_of_fourteen_feet_in_swaths_of_ten_is_sprayed_twice_in_the_middle() -> None:
    plan = planned(with_machine(headlands=0) | {"property": STRIP})

    # 2 × 10 × 100 ft of swath on 1,400 sq ft.
    passes = plan["passes"]
    assert passes["double_sprayed_area"]["value"] == pytest.approx(600, rel=1e-3)
    assert passes["double_sprayed_share"]["value"] == pytest.approx(100 * 600 / 1400, rel=1e-3)
    (warning,) = [each for each in plan["warnings"] if each["code"] == "passes_overlap"]
    assert "42.9 % of the machine’s ground (600 sq ft) are sprayed twice" in warning["message"]
    # It is not in the spray.
    assert plan["carrier_volume"]["value"] == pytest.approx(1.4, rel=1e-3)
    assert "the finished spray does not include that" in passes["note"]


def test_little_overlap_is_no_warning() -> None:
    plan = planned(with_machine(headlands=0) | {"property": place(LAWN)})

    assert "passes_overlap" not in codes(plan)


HOUSE = place(
    area("lawn", "turf", [(0, 0), (100, 0), (110, 60), (40, 80), (0, 60), (0, 0)]),
    area("house", "building", corners_of(35, 20, 65, 45)),
)


def test_twice_missed_and_outside_are_what_counted_points_say() -> None:
    plan = planned(with_machine(headlands=0, swath="7 ft") | {"property": HOUSE})

    passes = plan["passes"]
    swaths = [
        in_feet(line).buffer(3.5, cap_style="flat") for line in passes["lines"]["coordinates"]
    ]
    chance = np.random.default_rng(20260520)
    count_all = 200_000
    points = shapely.points(chance.uniform((-10, -10), (120, 90), (count_all, 2)))
    lawn, house = (
        shapely.Polygon([(x, y) for x, y in in_feet(feature["geometry"]["coordinates"][0]).coords])
        for feature in HOUSE["features"]
    )
    on_ground = shapely.contains(lawn.difference(house), points)
    layers = sum(shapely.contains(swath, points).astype(int) for swath in swaths)
    square_feet = 130 * 100 / count_all
    counted = {
        "double_sprayed_area": np.where(on_ground, np.maximum(layers - 1, 0), 0).sum(),
        "outside_area": np.where(on_ground, 0, layers).sum(),
        "missed_area": (on_ground & (layers == 0)).sum(),
    }
    assert plan["hand_area"]["value"] == 0
    for name, count in counted.items():
        # One standard deviation of a count is its root.
        slack = (4 * math.sqrt(count) + 1) * square_feet
        assert passes[name]["value"] == pytest.approx(count * square_feet, abs=slack)


@pytest.mark.parametrize("kind", ["hand_gun", "backpack_sprayer"])
def test_what_is_carried_by_hand_has_no_passes(kind: str) -> None:
    plan = planned(asking(machine=with_output("1 gal/1000 sq ft", kind=kind)))

    assert {"passes", "passes_unknown"} & set(plan) == set()


def test_passes_that_nobody_wants_leave_the_rest_of_the_plan_as_it_is() -> None:
    plan, without = planned(asking()), planned(asking(passes=False))

    assert "passes" not in without
    rest = {name: value for name, value in plan.items() if name != "passes"}
    rest["working"] = [each for each in plan["working"] if "passes" not in each["figure"]]
    assert without == rest


def test_with_two_tools_the_machine_alone_has_passes_over_its_own_ground() -> None:
    plan = planned(QUILLBROOK)

    machine, hand = plan["parts"]
    assert machine["passes"] == plan["passes"]
    assert "passes" not in hand
    assert plan["passes"]["ground_area"]["value"] == pytest.approx(machine["area"]["value"])


def test_passes_are_of_the_map_whatever_the_slope() -> None:
    steep = LAWN | {"properties": {"kind": "turf", "slope": "40 %"}}

    plan = planned(asking(property=place(steep)))

    assert plan["passes"] == planned(asking())["passes"]
    assert plan["machine_area"]["value"] > plan["passes"]["ground_area"]["value"] * 1.07


def test_a_turn_whose_time_nobody_knows_is_told() -> None:
    without, turning = passes_of(speed="2 m/s"), passes_of(speed="2 m/s", turn_time="0 s")

    assert without["work_time"] == turning["work_time"]
    assert "Nobody says how long a turn takes" in without["note"]
    assert "Nobody" not in turning["note"]
    assert passes_of(turn_time="6 s")["work_time"] is None


def test_rounds_that_leave_nothing_have_no_heading() -> None:
    passes = planned(with_machine(headlands=2, swath="25 ft"))["passes"]

    assert (passes["passes"], passes["heading"]) == (0, None)
    assert len(passes["rings"]["coordinates"]) == 1


BEDS = [
    area(f"bed {n}", "bed", corners_of(10 + 18 * n, 20, 15 + 18 * n, 25), setback="3 ft")
    for n in range(10)
]
BEDDED = place(area("lawn", "turf", corners_of(0, 0, 200, 150)), *BEDS)


def test_many_corners_are_driven_only_where_somebody_asks() -> None:
    unasked, asked = (
        planned(asking(property=BEDDED, **wanted)) for wanted in ({}, {"passes": True})
    )

    assert unasked["passes"] is None
    assert unasked["passes_unknown"].startswith("The ground has many corners. Ask for")
    assert asked["passes"]["passes"] > 10
    assert "passes_unknown" not in asked


@pytest.mark.parametrize(
    ("lawn", "swath", "words"),
    [
        (corners_of(0, 0, 100, 5), "10 ft", "fits nowhere"),
        (corners_of(0, 0, 400, 50), "0.1 m", "too large"),
    ],
)
def test_ground_without_passes_says_why(lawn: Any, swath: str, words: str) -> None:
    request = with_machine(swath=swath) | {"passes": True}

    plan = planned(request | {"property": place(area("lawn", "turf", lawn))})

    assert plan["passes"] is None
    assert words in plan["passes_unknown"]


def test_the_same_request_gives_the_same_bytes() -> None:
    once, again = (json.dumps(planned(QUILLBROOK)) for _ in range(2))

    assert once == again


def test_the_figures_are_metric_where_that_is_asked_for() -> None:
    passes = planned(with_machine(speed="4 mph") | {"units": "metric"})["passes"]

    assert passes["driven_length"]["unit"] == "m"
    assert passes["missed_area"]["unit"] == "m2"
    assert passes["swath"] == {"value": pytest.approx(3.048), "unit": "m"}
    assert passes["work_time"]["unit"] == "min"


def test_sides_whose_shutting_was_not_worked_out_are_named_without_a_figure() -> None:
    drive = Drive(plan_passes(shapely.box(0, 0, 6, 30), swath_m=4, headlands=0))

    (found,) = pass_findings(drive, shown=SHOWN[Units.US], sides=3).warnings

    assert "Shut those of its 3 sides that overlap" in found.message
    assert "shut in time" not in found.message


def test_a_boom_with_two_sides_tells_what_is_left_twice_with_each_shut_in_time() -> None:
    strip = place(area("strip", "turf", corners_of(0, 0, 100, 15)))
    whole = planned(asking(property=strip, machine=MACHINE | {"headlands": 0}))
    halves = planned(asking(property=strip, machine=MACHINE | {"headlands": 0, "sides": 2}))

    # Two lanes of 10 ft over 15 ft: 5 ft are sprayed twice, one half of the second.
    assert halves["passes"]["double_sprayed_area"] == whole["passes"]["double_sprayed_area"]
    assert "sides_shut" not in whole["passes"]
    shut = halves["passes"]["sides_shut"]
    assert shut["double_sprayed_share"]["value"] == pytest.approx(0, abs=0.01)
    (words,) = (
        warning["message"] for warning in halves["warnings"] if warning["code"] == "passes_overlap"
    )
    assert "With each shut in time 0 sq ft remain" in words
