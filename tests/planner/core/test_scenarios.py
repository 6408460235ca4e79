"""Whole jobs of invented firms, worked by hand to the last ounce."""

import math
from typing import Any

import pytest
import shapely

from planner.core.plan import plan_from_json
from planner.core.report import plan_as_json
from tests.planner.core.scenarios import QUILLBROOK, in_wind

# Areas may be 0.2 % off, volumes and weights 0.5 %: arcs are drawn with straight edges outside
# the circle, and the plane of the test is not one of true areas.
AREA = 2e-3
AMOUNT = 5e-3

W_1, D_1, SURFACTANT = (product["name"] for product in QUILLBROOK["mix"])


def planned(request: Any) -> Any:
    return plan_as_json(plan_from_json(request))


def named(products: Any, name: str) -> Any:
    return next(product for product in products if product["name"] == name)


def codes(findings: Any) -> list[str]:
    return [finding["code"] for finding in findings]


@pytest.fixture(scope="module")
def quillbrook() -> Any:
    return planned(QUILLBROOK)


# 80 × 45 + 110 × 70 = 11,300 sq ft of lawn and a strip of 6 × 60 = 360. The bed of 24 × 10 ft
# with b feet round it is 240 + 2 b (24 + 10) + π b²: 761.10 with 6 ft, 349.07 with 1.5 ft.
LAWN, STRIP = 80 * 45 + 110 * 70, 6 * 60
KEPT_BY_BOOM = 240 + 2 * 6 * 34 + math.pi * 36
KEPT_BY_HAND = 240 + 2 * 1.5 * 34 + math.pi * 2.25


@pytest.mark.parametrize(
    ("part", "tool", "area", "gallons"),
    [
        (0, "machine", LAWN - KEPT_BY_BOOM, 9.485),
        (1, "hand_tool", KEPT_BY_BOOM - KEPT_BY_HAND + STRIP, 1.698),
    ],
)
def test_each_tool_has_its_ground_and_its_spray(
    quillbrook: Any, part: int, tool: str, area: float, gallons: float
) -> None:
    of_tool = quillbrook["parts"][part]

    assert of_tool["tool"] == tool
    assert of_tool["area"]["value"] == pytest.approx(area, rel=AREA)
    assert of_tool["carrier_volume"]["value"] == pytest.approx(gallons, rel=AMOUNT)


@pytest.mark.parametrize(
    ("part", "product", "exact", "measured", "rate"),
    [
        (0, W_1, 12.647, 13.0, 1.2335),
        (1, W_1, 0.926, 0.9, 1.1658),
        (0, D_1, 1.581, 1.60, 0.1518),
        (1, D_1, 0.116, 0.10, 0.1295),
    ],
)
def test_each_tank_is_measured_out_for_its_own_tool(
    quillbrook: Any, part: int, product: str, exact: float, measured: float, rate: float
) -> None:
    of_tool = named(quillbrook["parts"][part]["products"], product)

    assert of_tool["amount"]["value"] == pytest.approx(exact, rel=AMOUNT)
    assert of_tool["amount_to_measure"]["value"] == measured
    assert of_tool["rate_after_rounding"]["value"] == pytest.approx(rate, rel=AMOUNT)


def test_the_surfactant_follows_the_gallons(quillbrook: Any) -> None:
    amounts = [
        named(part["products"], SURFACTANT)["amount"]["value"] for part in quillbrook["parts"]
    ]

    assert amounts == pytest.approx([3.035, 0.544], rel=AMOUNT)


def test_the_strip_round_the_bed_is_left_on_purpose_and_all_turf_is_accounted_for(
    quillbrook: Any,
) -> None:
    shares = {share["fate"]: share["area"]["value"] for share in quillbrook["accounting"]["shares"]}

    assert shares["strip"] == pytest.approx(109.1, rel=AREA)
    assert shares["own_ground"] == pytest.approx(240, rel=AREA)
    assert sum(shares.values()) == pytest.approx(quillbrook["turf_area"]["value"], rel=1e-9)
    assert quillbrook["turf_area"]["value"] == pytest.approx(LAWN + STRIP, rel=AREA)


def test_the_boom_s_mix_in_the_hand_gun_is_blocked_with_its_rate(quillbrook: Any) -> None:
    use = quillbrook["cross_use"][0]
    warning = next(
        each
        for each in quillbrook["warnings"]
        if (each["code"], each["tool"]) == ("mix_not_for_other_tool", "hand_tool")
    )

    assert (use["mix_of"], use["used_in"], use["allowed"]) == ("machine", "hand_tool", False)
    # 13 fl oz in 9.485 gal, 2.20 gal on 1,000 sq ft.
    rate = named(use["products"], W_1)
    assert rate["rate"]["value"] == pytest.approx(3.02, abs=0.01)
    assert rate["allowed"] is False
    assert warning["message"].startswith("Never put the machine’s mix into the hand tool")
    assert "3.02 fl oz/1000 sq ft of W-1 (invented) (label maximum 1.25" in warning["message"]


def test_the_job_is_not_refused_and_the_jug_alone_is(quillbrook: Any) -> None:
    jug_only = planned(QUILLBROOK | {"measures": {"liquid": ["1 fl oz"], "dry": ["0.05 oz wt"]}})

    assert quillbrook["refusals"] == []
    refused = [each for each in jug_only["refusals"] if each["product"] == W_1]
    assert [(each["code"], each["tool"]) for each in refused] == [
        ("measure_too_coarse", "hand_tool")
    ]
    assert named(jug_only["parts"][0]["products"], W_1)["amount_to_measure"]["value"] == 13


def test_the_shapes_of_the_parts_do_not_overlap_and_make_the_treatable_ground(
    quillbrook: Any,
) -> None:
    machine, hand = (shapely.geometry.shape(part["shape"]) for part in quillbrook["parts"])
    treatable = shapely.geometry.shape(quillbrook["treatable"])

    assert machine.intersection(hand).area == pytest.approx(0, abs=1e-9 * treatable.area)
    assert machine.union(hand).symmetric_difference(treatable).area < 1e-6 * treatable.area


# From, speed, then (150 − garden) × (100 − bed) sq ft, spray, product, and what is left of both.
MOMENTS = [
    ("270 deg", "6 mph", 125 * 95, (17.81, 9.5), (0.0, 0.0)),
    ("190 deg", "7 mph", 145 * 75, (16.31, 8.7), (1.50, 0.80)),
    ("225 deg", "8 mph", 125 * 75, (14.06, 7.5), (3.75, 2.00)),
]


@pytest.mark.parametrize(("come_from", "speed", "area", "needed", "left"), MOMENTS)
def test_the_ground_the_spray_and_the_surplus_follow_the_wind(
    come_from: str, speed: str, area: int, needed: tuple[float, ...], left: tuple[float, ...]
) -> None:
    plan = planned(in_wind(come_from, speed))

    assert plan["treatable_area"]["value"] == pytest.approx(area, rel=AREA)
    product, surplus = plan["products"][0], plan["surplus"]
    assert plan["carrier_volume"]["value"] == pytest.approx(needed[0], rel=AMOUNT)
    assert product["amount"]["value"] == pytest.approx(needed[1], rel=AMOUNT)
    # What is left is a small difference of two amounts: half a percent of what is in the tank.
    assert surplus["spray_left_over"]["value"] == pytest.approx(left[0], abs=AMOUNT * 17.8125)
    (in_tank,) = surplus["products"]
    assert in_tank["left_over"]["value"] == pytest.approx(left[1], abs=AMOUNT * 9.5)
    assert in_tank["rate"]["value"] == pytest.approx(0.80, rel=AMOUNT)
    assert (in_tank["allowed"], plan["hold"], plan["refusals"]) == (True, False, [])


def test_at_eleven_miles_an_hour_all_of_the_tank_is_left_over() -> None:
    plan = planned(in_wind("230 deg", "11 mph"))

    assert plan["hold"] is True
    assert codes(plan["refusals"]) == ["wind_over_label"]
    surplus = plan["surplus"]
    assert surplus["spray_needed"]["value"] == 0
    assert surplus["spray_left_over"]["value"] == 17.8125
    assert surplus["products"][0]["left_over"]["value"] == pytest.approx(9.5, rel=1e-12)


def test_the_wind_opens_ground_by_the_garden_and_closes_some_by_the_bed() -> None:
    morning, later = planned(in_wind("270 deg", "6 mph")), planned(in_wind("190 deg", "7 mph"))
    before, after = (shapely.geometry.shape(plan["treatable"]) for plan in (morning, later))
    sq_ft = morning["treatable_area"]["value"] / before.area

    # (145 − 125) × 75 sq ft beside the garden, 125 × 20 beside the bed.
    assert after.difference(before).area * sq_ft == pytest.approx(1500, rel=AREA)
    assert before.difference(after).area * sq_ft == pytest.approx(2500, rel=AREA)
    assert "not a forecast" in later["wind"]["note"]
