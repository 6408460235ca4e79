"""The fullest ground decides the rate, what is measured out, and what a mixed tank may do."""

from typing import Any

import pytest

from tests.planner.core.asking import Json, area, asking, corners_of, place
from tests.planner.core.limits.asking import (
    EAST,
    INGREDIENT,
    ON,
    PRODUCT,
    WEST,
    YEARLY,
    codes,
    ground,
    had,
    job,
    limited,
    planned,
)
from tests.planner.core.scenarios import RUSHMERE


def test_each_tool_rounds_within_the_room_of_its_own_ground() -> None:
    gun = {"kind": "hand_gun", "swath": "3 ft", "tanks": ["5 gal"], "output": "2 gal/1000 sq ft"}
    strip = area("strip", "turf", corners_of(200, 0, 206, 100), only="hand_tool")
    lawn = area("lawn", "turf", corners_of(0, 0, 100, 50))
    measures = {"liquid": ["0.1 fl oz"]}
    # The strip has 1.2 left, the lawn everything: 0.6 sq ft thousands need 0.72 fl oz.
    request = job(
        YEARLY,
        had((200, 0, 206, 100), rate="2.2 fl oz/1000 sq ft"),
        property=place(lawn, strip),
        measures=measures,
        hand_tool=gun,
    )

    plan = planned(request)

    assert plan["refusals"] == []
    (of_hand,) = plan["parts"][1]["products"]
    # 0.8 would be nearer than 0.7 is in a lawn with room; here it is 1.33.
    assert of_hand["amount_to_measure"]["value"] == 0.7


def test_a_measure_that_is_too_coarse_for_the_room_says_so() -> None:
    request = job(YEARLY, had(WEST, EAST, rate="2.2 fl oz/1000 sq ft"))

    plan = planned(request | {"measures": {"liquid": ["7 fl oz"]}})

    (refusal,) = plan["refusals"]
    assert refusal["code"] == "measure_too_coarse"
    assert "what the ground may still get (1.2 fl oz/1000 sq ft)" in refusal["message"]


def test_a_limit_at_once_is_kept_without_any_past() -> None:
    limits = {"per_application": "1.1 fl oz/1000 sq ft"}

    plan = planned(asking(mix=[limited(limits)]))

    (refusal,) = plan["refusals"]
    assert refusal["code"] == "rate_above_application"
    assert "1.1 fl oz/1000 sq ft is the highest rate that keeps it" in refusal["message"]
    assert codes(plan, "warnings") == []
    allowed = planned(asking(mix=[limited(limits, rate="1.1 fl oz/1000 sq ft")]))
    assert allowed["refusals"] == []


# 1.2 fl oz/1,000 sq ft are 52.272 fl oz/acre, with 4 lb in 128 fl oz 1.6335 lb/acre.


def test_an_ingredient_is_added_up_over_products() -> None:
    other = {"on": "2026-05-01", "product": "Other", "rate": "8 fl oz/acre", "where": ground(WEST)}
    content = {"active_ingredients": [{"name": "invented-a", "content": "2 lb/gal"}]}
    label = {"active_ingredients": [INGREDIENT | {"per_year": "1.7 lb/acre"}]}

    plan = planned(asking(mix=[limited({}, label=label)], history=[other | content], on=ON))

    (limit,) = plan["limits"]
    assert limit["substance"] == "Invented-A"
    # 8 fl oz of 2 lb/gal are 0.125 lb.
    received = sorted(face["received"]["value"] for face in limit["faces"])
    assert received == [0, pytest.approx(0.125)]
    (refusal,) = plan["refusals"]
    assert refusal["code"] == "rate_above_room"
    assert "of Invented-A are asked for" in refusal["message"]
    # (1.7 - 0.125) / 1.6335 of 1.2 is 1.157.
    assert "1.157 fl oz/1000 sq ft is the highest rate" in refusal["message"]


def two_with_one_ingredient(per_year: str) -> Json:
    ingredient = INGREDIENT | {"per_year": per_year}
    one = limited({}, label={"active_ingredients": [ingredient]})
    two = {
        "name": "Second",
        "rate": "32 fl oz/acre",
        "formulation": "SL",
        "label": {
            "rate_min": "10 fl oz/acre",
            "rate_max": "40 fl oz/acre",
            "active_ingredients": [{"name": "Invented-A", "content": "2 lb/gal"}],
        },
    }
    return asking(mix=[one, two], history=[], on=ON)


def test_two_products_of_a_mix_share_the_room_of_their_ingredient() -> None:
    plan = planned(two_with_one_ingredient("2 lb/acre"))

    # 1.6335 + 0.5 lb/acre against 2: both down to 93.74 %, 1.1249 and 29.997.
    assert codes(plan) == ["rate_above_room", "rate_above_room"]
    first, second = (refusal["message"] for refusal in plan["refusals"])
    assert "1.124 fl oz/1000 sq ft is the highest rate" in first
    assert "0.6886 fl oz/1000 sq ft is the highest rate" in second
    assert "below the label" not in first


def test_a_highest_rate_below_the_label_is_called_so() -> None:
    plan = planned(two_with_one_ingredient("1.4 lb/acre"))

    # 1.4 of 2.1335 lb/acre are 65.6 %, so 0.787 of 1.2, and the label begins at 1.
    assert "it is below the label’s lowest" in plan["refusals"][0]["message"]


def test_ground_without_room_for_the_lowest_rate_of_an_ingredient_is_closed() -> None:
    label = {"active_ingredients": [INGREDIENT]}

    plan = planned(asking(mix=[limited({}, label=label)], history=[], on=ON))

    # 0.5 lb/acre are 0.367 fl oz/1,000 sq ft, and the label begins at 1.
    assert codes(plan) == ["nothing_open"]


def test_no_ground_has_no_faces() -> None:
    house = area("house", "building", corners_of(-5, -5, 105, 55))
    lawn = area("lawn", "turf", corners_of(0, 0, 100, 50))

    plan = planned(job(YEARLY, had(WEST), property=place(lawn, house)))

    assert plan["faces"] == []
    assert codes(plan) == ["nothing_treatable"]


def test_of_two_tools_the_one_with_less_room_is_told() -> None:
    gun = {"kind": "hand_gun", "swath": "3 ft", "tanks": ["5 gal"], "output": "2 gal/1000 sq ft"}
    strip = area("strip", "turf", corners_of(200, 0, 206, 100), only="hand_tool")
    lawn = area("lawn", "turf", corners_of(0, 0, 100, 50))
    request = job(
        YEARLY,
        had((0, 0, 100, 50), rate="2.4 fl oz/1000 sq ft"),
        had((200, 0, 206, 100), rate="2.3 fl oz/1000 sq ft"),
        property=place(lawn, strip),
    )

    plan = planned(request | {"hand_tool": gun})

    (refusal,) = plan["refusals"]
    assert "1 fl oz/1000 sq ft is the highest rate that holds everywhere" in refusal["message"]


def test_a_rate_per_spray_is_held_to_what_the_ground_gets() -> None:
    wetter = {
        "name": "Wetter",
        "rate": "1 %",
        "formulation": "NIS",
        "label": {
            "rate_min": "0.5 %",
            "rate_max": "2 %",
            "limits": {"per_year": "2 fl oz/1000 sq ft"},
        },
    }
    past = {"on": "2026-05-01", "product": "Wetter", "rate": "0.8 fl oz/1000 sq ft"}

    plan = planned(asking(mix=[wetter], history=[past | {"where": ground(WEST)}], on=ON))

    # The machine puts down about 1 gal/1,000 sq ft, so 1 % is about 1.28 fl oz; 1.2 are left.
    (refusal,) = plan["refusals"]
    assert refusal["code"] == "rate_above_room"
    assert "% is the highest rate" in refusal["message"]


def test_a_spreader_is_held_to_what_it_really_puts_down() -> None:
    feed = RUSHMERE["mix"][0]
    lawn = area("", "turf", corners_of(0, 0, 70, 35), unit_m=1)["geometry"]

    def after(rate: str) -> Any:
        label = {"limits": {"per_year": "40 g/m2"}}
        past = {"on": "2026-05-01", "product": feed["name"], "rate": rate, "where": lawn}
        return planned(RUSHMERE | {"mix": [feed | {"label": label}], "history": [past]})

    # Asked for are 20 g/m², the third catch test gives 20.2.
    assert codes(after("19.8 g/m2")) == []
    (refusal,) = after("19.9 g/m2")["refusals"]
    assert refusal["code"] == "rate_above_room"
    assert "20.2 g/m2 are asked for" in refusal["message"]
    assert "20.1 g/m2 is the highest rate" in refusal["message"]


def test_a_tank_too_strong_for_the_fullest_corner_is_refused() -> None:
    request = job(YEARLY, had(WEST, rate="2.2 fl oz/1000 sq ft"))
    # 6 gal at 1 gal/1,000 sq ft: 7.8 fl oz are 1.3 per 1,000, and 1.2 are left in the west.
    tank = {"spray": "6 gal", "products": {PRODUCT: "7.8 fl oz"}}

    plan = planned(request | {"tank_now": tank})

    assert codes(plan) == ["tank_above_room"]
    assert plan["surplus"]["products"][0]["allowed"] is False
    weaker = tank | {"products": {PRODUCT: "7.1 fl oz"}}
    assert codes(planned(request | {"tank_now": weaker})) == []
