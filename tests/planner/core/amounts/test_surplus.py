"""A tank that is mixed already: what is left over, what is missing, what it may be used for."""

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.core.plan import plan_from_json
from planner.core.report import plan_as_json
from properties.core.errors import FaultsFound
from tests.planner.core.asking import HERBICIDE, LAWN, area, asking, corners_of, place, with_output

STRIP = area("strip", "turf", corners_of(200, 0, 206, 60))
GUN = with_output("2 gal/1000 sq ft", kind="hand_gun", swath="3 ft", tanks=["5 gal"])
GRANULE = {
    "name": "Invented granule",
    "rate": "0.15 oz wt/1000 sq ft",
    "formulation": "WG",
    "label": {"rate_min": "0.1 oz wt/1000 sq ft", "rate_max": "0.2 oz wt/1000 sq ft"},
}
SURFACTANT = {
    "name": "Invented surfactant",
    "rate": "0.25 %",
    "formulation": "NIS",
    "label": {"rate_min": "0.1 %", "rate_max": "0.5 %"},
}
MIX = [HERBICIDE, GRANULE, SURFACTANT]


def asked(spray: str, *amounts: str, **changes: Any) -> Any:
    """A lawn of 5,000 sq ft at 1 gal/1,000 sq ft: 5 gal with 6 fl oz, 0.75 oz wt, 1.6 fl oz."""
    mix = changes.get("mix", MIX)
    names = [product["name"] for product in mix]
    tank = {"spray": spray, "products": dict(zip(names, amounts, strict=False))}
    request = {"machine": with_output("1 gal/1000 sq ft"), "mix": mix, "tank_now": tank}
    return asking(**(request | changes))


def planned(spray: str, *amounts: str, **changes: Any) -> Any:
    return plan_as_json(plan_from_json(asked(spray, *amounts, **changes)))


def values(surplus: Any, member: str) -> list[float]:
    return [product[member]["value"] for product in surplus["products"]]


def codes(plan: Any) -> list[str]:
    return [refusal["code"] for refusal in plan["refusals"]]


def test_what_is_not_needed_is_left_over_at_the_tank_s_own_strength() -> None:
    plan = planned("8 gal", "9.6 fl oz", "1.2 oz wt", "2.56 fl oz")

    surplus = plan["surplus"]
    # 5 of 8 gal are needed: five eighths of each product.
    assert surplus["spray_needed"]["value"] == pytest.approx(5, rel=2e-5)
    assert surplus["spray_left_over"]["value"] == pytest.approx(3, rel=1e-4)
    assert values(surplus, "needed") == pytest.approx([6, 0.75, 1.6], rel=2e-5)
    assert values(surplus, "left_over") == pytest.approx([3.6, 0.45, 0.96], rel=1e-4)
    assert values(surplus, "missing") == [0, 0, 0]
    assert values(surplus, "rate") == pytest.approx([1.2, 0.15, 0.25], rel=1e-9)
    assert codes(plan) == []


def test_what_is_missing_makes_up_the_rate_for_all_the_spray() -> None:
    plan = planned("2 gal", "2.5 fl oz", "0.2 oz wt", "0.64 fl oz")

    surplus = plan["surplus"]
    assert surplus["spray_missing"]["value"] == pytest.approx(3, rel=1e-4)
    assert surplus["spray_left_over"]["value"] == 0
    assert values(surplus, "missing") == pytest.approx([3.5, 0.55, 0.96], rel=1e-4)
    assert values(surplus, "rate") == pytest.approx([1.2, 0.15, 0.25], rel=1e-9)
    assert codes(plan) == []


def test_a_tank_that_is_too_strong_is_refused_as_it_is() -> None:
    plan = planned("8 gal", "12.1 fl oz", "1.2 oz wt", "2.56 fl oz")

    # 12.1 fl oz in 8 gal at 1 gal/1,000 sq ft are 1.5125, over 1.5.
    assert codes(plan) == ["tank_above_label"]
    (refusal,) = plan["refusals"]
    assert "1.512 fl oz/1000 sq ft" in refusal["message"]
    assert plan["surplus"]["products"][0]["allowed"] is False


def test_a_strong_tank_may_be_thinned_and_nothing_is_taken_out() -> None:
    # 7 fl oz are more than the 6 that 5 gal need: thinned they give 1.4, inside the label.
    thinned = planned("2 gal", "7 fl oz", "0.2 oz wt", "0.64 fl oz")
    too_much = planned("2 gal", "8 fl oz", "0.2 oz wt", "0.64 fl oz")

    assert values(thinned["surplus"], "missing")[0] == 0
    assert values(thinned["surplus"], "rate")[0] == pytest.approx(1.4, rel=1e-4)
    assert codes(thinned) == []
    assert codes(too_much) == ["tank_above_label"]
    assert "made up to what is needed" in too_much["refusals"][0]["message"]


def test_a_tank_that_is_too_thin_is_refused() -> None:
    plan = planned("8 gal", "7.9 fl oz", "1.2 oz wt", "2.56 fl oz")

    assert codes(plan) == ["tank_below_label"]
    assert "0.9875 fl oz/1000 sq ft" in plan["refusals"][0]["message"]


def test_the_boom_s_tank_in_the_hand_gun_gives_twice_the_rate() -> None:
    request = asked(
        "1 gal",
        "1.2 fl oz",
        "0.15 oz wt",
        "0.32 fl oz",
        property=place(LAWN, STRIP),
        hand_tool=GUN,
    )
    request["tank_now"]["tool"] = "hand_tool"

    plan = plan_as_json(plan_from_json(request))

    # The strip of 360 sq ft takes 0.72 gal of the hand gun.
    assert plan["surplus"]["tool"] == "hand_tool"
    assert plan["surplus"]["spray_needed"]["value"] == pytest.approx(0.72, rel=1e-4)
    assert values(plan["surplus"], "rate") == pytest.approx([2.4, 0.3, 0.25], rel=1e-9)
    assert codes(plan) == ["tank_above_label", "tank_above_label"]


def test_where_nothing_is_treatable_all_of_the_tank_is_left_over() -> None:
    house = area("house", "building", corners_of(-1, -1, 101, 51))

    plan = planned("8 gal", "9.6 fl oz", "1.2 oz wt", "2.56 fl oz", property=place(LAWN, house))

    assert plan["surplus"]["spray_left_over"]["value"] == 8
    assert codes(plan) == ["nothing_treatable"]


def test_an_unlabelled_product_in_the_tank_is_neither_allowed_nor_refused() -> None:
    plan = planned("8 gal", "12.1 fl oz", mix=[HERBICIDE | {"label": {}}])

    assert plan["surplus"]["products"][0]["allowed"] is None
    assert codes(plan) == []


def test_a_tank_of_plain_water_is_a_tank() -> None:
    surplus = planned("8 gal", mix=[])["surplus"]

    assert surplus["products"] == []
    assert surplus["spray_left_over"]["value"] == pytest.approx(3, rel=1e-4)


def test_a_plan_without_a_tank_has_no_surplus() -> None:
    assert "surplus" not in plan_as_json(plan_from_json(asking()))


@given(spray=st.decimals("0.5", "20", places=2), product=st.decimals("0", "20", places=2))
def test_what_is_in_the_tank_is_used_or_left_over(spray: Any, product: Any) -> None:
    plan = planned(f"{spray} gal", f"{product} fl oz", mix=[HERBICIDE])

    surplus = plan["surplus"]
    (in_tank,) = surplus["products"]
    enough = surplus["spray_missing"]["value"] == 0
    spray_used = surplus["spray_in_tank"]["value"] - surplus["spray_left_over"]["value"]
    assert spray_used + surplus["spray_missing"]["value"] == pytest.approx(
        surplus["spray_needed"]["value"], abs=1e-9
    )
    if enough:
        assert in_tank["needed"]["value"] + in_tank["left_over"]["value"] == pytest.approx(
            float(product), abs=1e-9
        )
    else:
        assert in_tank["missing"]["value"] >= 0
        assert in_tank["rate"]["value"] >= 1.2 * (1 - 1e-9)


@pytest.mark.parametrize(
    ("tank", "where", "words"),
    [
        ({"products": {}}, "tank_now.spray", "is missing"),
        ({"spray": "5 gal"}, "tank_now.products", "is missing"),
        ({"spray": "0 gal", "products": {}}, "tank_now.spray", "not above zero"),
        ({"spray": "5 gal", "products": {}}, "tank_now.products.Invented herbicide", "0 is an"),
        (
            {"spray": "5 gal", "products": {"Invented herbicide": "6 oz wt"}},
            "tank_now.products.Invented herbicide",
            "is a weight, not a volume",
        ),
        (
            {"spray": "5 gal", "products": {"Invented herbicide": "-6 fl oz"}},
            "tank_now.products.Invented herbicide",
            "below zero",
        ),
        (
            {"spray": "5 gal", "products": {"Invented herbicide": "6 gal"}},
            "tank_now.products",
            "more than the 5 gal in the tank",
        ),
        (
            {"spray": "5 gal", "products": {"Invented herbicide": "0 fl oz", "Something": "1 g"}},
            "tank_now.products.Something",
            "not part of a plan request",
        ),
        ({"tool": "boat", "spray": "5 gal", "products": {}}, "tank_now.tool", "machine, hand_tool"),
        ({"tool": "hand_tool", "spray": "5 gal", "products": {}}, "tank_now.tool", "no hand tool"),
        ([], "tank_now", "not an object"),
    ],
)
def test_a_slip_about_the_tank_is_told(tank: Any, where: str, words: str) -> None:
    with pytest.raises(FaultsFound) as found:
        plan_from_json(asking(tank_now=tank))

    faults = {fault.field: str(fault) for fault in found.value.faults}
    assert words in faults[where]
