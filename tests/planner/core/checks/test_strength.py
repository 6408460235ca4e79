"""How far a product is diluted at least, and how much of it the spray holds at least."""

import re
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.core.answers import answer
from planner.core.plan import Plan, plan_from_json
from properties.core.errors import FaultsFound
from tests.planner.core.asking import (
    LAWN,
    area,
    asking,
    codes,
    corners_of,
    place,
    with_output,
)

Json = dict[str, Any]

OPEN = {"rate_min": "0.001 fl oz/1000 sq ft", "rate_max": "400 fl oz/1000 sq ft"}
NIS: Json = {
    "name": "Invented surfactant",
    "rate": "0.25 %",
    "formulation": "NIS",
    "label": {"rate_min": "0.1 %", "rate_max": "60 %"},
}


def product(rate: str, **label: str) -> Json:
    bounds = OPEN if "fl oz/1000" in rate else {"rate_max": rate}
    told = {"label": bounds | label, "formulation": "SL"}
    return {"name": "Invented concentrate", "rate": rate, **told}


def planned(*mix: Json, output: str = "1 gal/1000 sq ft", **changes: Any) -> Plan:
    machine = with_output(output, unsprayable="0 gal")
    return plan_from_json(asking(machine=machine, mix=list(mix), **changes))


@pytest.mark.parametrize(
    ("rate", "strongest", "refused"),
    [
        # 2.56 fl oz in a gallon of 128 leave 125.44 of water: one part in 49.
        ("2.56 fl oz/1000 sq ft", "1 gal/50 gal", ["spray_too_strong"]),
        ("2.56 fl oz/1000 sq ft", "1 gal/49 gal", []),
        ("2.5 fl oz/1000 sq ft", "2 %", []),
        ("2 %", "2 %", ["spray_too_strong"]),
        ("1.9 %", "2 %", []),
    ],
)
def test_a_product_has_the_water_that_its_label_asks_for(
    rate: str, strongest: str, refused: list[str]
) -> None:
    assert codes(planned(product(rate, strongest_in_water=strongest)).refusals) == refused


def test_what_else_is_in_the_tank_is_no_water() -> None:
    first = product("2.5 fl oz/1000 sq ft", strongest_in_water="2 %")

    found = planned(first, NIS | {"rate": "10 %"}).refusals

    assert codes(found) == ["spray_too_strong"]


@given(ounces=st.integers(1, 60), percent=st.integers(1, 20), spray_percent=st.integers(1, 50))
def test_the_output_that_is_told_would_just_do(
    ounces: int, percent: int, spray_percent: int
) -> None:
    first = product(f"{ounces} fl oz/1000 sq ft", strongest_in_water=f"{percent} %")
    other = NIS | {"rate": f"{spray_percent} %"}
    found = [each for each in planned(first, other).refusals if each.code == "spray_too_strong"]
    if not found:
        return

    told = re.search(r"put down ([\d.,]+) gal/1000 sq ft", found[0].message)
    assert told is not None
    least = float(told[1].replace(",", ""))
    # Told to four digits.
    assert "spray_too_strong" not in codes(
        planned(first, other, output=f"{least * 1.001} gal/1000 sq ft").refusals
    )
    assert "spray_too_strong" in codes(
        planned(first, other, output=f"{least * 0.999} gal/1000 sq ft").refusals
    )


def test_without_any_water_left_no_output_would_do() -> None:
    first = product("1 fl oz/1000 sq ft", strongest_in_water="2 %")
    all_of_it = NIS | {"rate": "100 %", "label": {"rate_max": "100 %"}}

    found = [each for each in planned(first, all_of_it).refusals if "strong" in each.code]

    assert "lower rate" in next(e.message for e in found if e.code == "spray_too_strong")


@pytest.mark.parametrize(
    ("output", "ounces", "rules"),
    [
        # 0.25 % of half a gallon are 0.16 fl oz, of 2 gallons 0.64: less and more than 0.4.
        ("0.5 gal/1000 sq ft", 0.4, False),
        ("1.25 gal/1000 sq ft", 0.4, False),
        ("2 gal/1000 sq ft", 0.64, True),
    ],
)
def test_of_a_rate_per_area_and_a_share_of_the_spray_whichever_is_more_is_planned(
    output: str, ounces: float, rules: bool
) -> None:
    first = product("0.4 fl oz/1000 sq ft", least_in_spray="0.25 %")

    plan = answer(asking(machine=with_output(output, unsprayable="0 gal"), mix=[first]))

    (told,) = plan["products"]
    assert codes_of(plan) == []
    assert told["rate_used"]["value"] == pytest.approx(ounces)
    assert told["whichever_is_more"]["least_rules"] is rules
    assert told["whichever_is_more"]["rate_asked"]["value"] == pytest.approx(0.4)
    area = plan["treatable_area"]["value"] / 1000
    assert told["amount"]["value"] == pytest.approx(ounces * area)


def codes_of(plan: Json) -> list[str]:
    return [each["code"] for each in plan["refusals"]]


def test_the_greater_rate_keeps_the_highest_of_the_label() -> None:
    first = product(
        "0.4 fl oz/1000 sq ft", least_in_spray="0.25 %", rate_max="0.6 fl oz/1000 sq ft"
    )

    (found,) = planned(first, output="2 gal/1000 sq ft").refusals

    # 0.6 fl oz are 0.25 % of 240 fl oz, which are 1.875 gal.
    assert found.code == "rate_above_label"
    assert "1.875 gal/1000 sq ft at most" in found.message
    assert planned(first, output="1.875 gal/1000 sq ft").refusals == ()


def test_each_tool_has_the_greater_rate_of_its_own_output() -> None:
    gun = with_output("2 gal/1000 sq ft", kind="hand_gun", swath="3 ft", tanks=["5 gal"])
    strip = area("strip", "turf", corners_of(200, 0, 206, 60))
    request = asking(
        property=place(LAWN, strip),
        machine=with_output("0.5 gal/1000 sq ft", unsprayable="0 gal"),
        hand_tool=gun,
        mix=[product("0.4 fl oz/1000 sq ft", least_in_spray="0.25 %")],
    )

    plan = answer(request)

    rates = [part["products"][0]["rate_used"]["value"] for part in plan["parts"]]
    assert rates == [pytest.approx(0.4), pytest.approx(0.64)]
    areas = [part["area"]["value"] for part in plan["parts"]]
    mean = plan["products"][0]["rate_used"]["value"]
    assert mean * sum(areas) == pytest.approx(0.4 * areas[0] + 0.64 * areas[1])


def test_a_route_is_mixed_at_the_greater_rate() -> None:
    request = asking(
        machine=with_output("2 gal/1000 sq ft", unsprayable="0 gal"),
        mix=[product("0.4 fl oz/1000 sq ft", least_in_spray="0.25 %")],
        route={"stops": [{"area": "2000 sq ft"}]},
    )
    del request["property"]

    (load,) = answer(request)["route"]["loads"]

    assert load["products"][0]["amount"]["value"] == pytest.approx(2 * 0.64)


def test_a_rate_in_the_spray_below_its_least_is_refused_too() -> None:
    (found,) = planned(product("0.2 %", least_in_spray="0.25 %")).refusals

    assert found.code == "spray_too_thin"
    assert "Choose a rate that is not less." in found.message


def test_a_weight_in_water_is_compared_over_the_density() -> None:
    # 1 lb/gal of a liquid of 8 lb/gal is an eighth of a gallon in a gallon, 12.5 %.
    first = product("12 %", strongest_in_water="1 lb/gal", density="8 lb/gal")
    second = product("10 %", strongest_in_water="1 lb/gal", density="8 lb/gal")

    assert codes(planned(first).refusals) == ["spray_too_strong"]
    assert codes(planned(second).refusals) == []
    with pytest.raises(FaultsFound, match="cannot be compared with the rate of a liquid"):
        planned(product("12 %", strongest_in_water="1 lb/gal"))


def test_each_tool_has_its_own_strength() -> None:
    gun = with_output("2 gal/1000 sq ft", kind="hand_gun", swath="3 ft", tanks=["5 gal"])
    first = product("2.56 fl oz/1000 sq ft", strongest_in_water="2 %")

    (found,) = planned(first, hand_tool=gun).refusals

    assert found.message.startswith("Machine: ")


def test_plants_and_routes_have_the_water_that_the_label_asks_for() -> None:
    machine = with_output("1 gal/1000 sq ft", unsprayable="0 gal")
    plants = {
        "machine": machine,
        "mix": [product("2 fl oz", strongest_in_water="2 %", use="per_plant")],
        "plants": {"count": 3, "spray_each": "0.5 gal"},
    }
    route = asking(
        machine=machine,
        mix=[product("3 fl oz/1000 sq ft", strongest_in_water="2 %")],
        route={"stops": [{"area": "2000 sq ft"}]},
    )
    del route["property"]

    for request in (plants, route):
        found = [each["code"] for each in answer(request)["refusals"]]
        assert "spray_too_strong" in found


@pytest.mark.parametrize("name", ["strongest_in_water", "least_in_spray"])
def test_a_strength_is_told_as_it_was_copied_and_a_slip_is_said(name: str) -> None:
    (facts,) = answer(asking(mix=[product("1 %", **{name: "1.5 %"})]))["label_facts"]

    assert facts[name] == {"value": 1.5, "unit": "%"}
    with pytest.raises(FaultsFound, match=name):
        planned(product("1 %", **{name: "0 %"}))
    with pytest.raises(FaultsFound, match="gal is a volume, not a share"):
        planned(product("1 %", **{name: "1 gal"}))
