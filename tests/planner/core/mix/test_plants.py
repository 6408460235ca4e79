"""Plants treated one by one: what is mixed for them, and what is asked for first."""

import json
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.core.answers import answer, answer_text
from properties.core.errors import FaultsFound
from tests.planner.core.asking import HERBICIDE, LAWN, area, corners_of, place, point, with_output
from tests.planner.core.workings.test_workings import by_hand, found_at

Json = dict[str, Any]

DRENCH: Json = {
    "name": "Invented drench",
    "rate": "2 fl oz",
    "formulation": "SC",
    "label": {"rate_min": "1.5 fl oz", "rate_max": "2.5 fl oz", "use": "per_plant"},
}
NIS: Json = {
    "name": "Invented surfactant",
    "rate": "0.25 %",
    "formulation": "NIS",
    "label": {"rate_min": "0.1 %", "rate_max": "1 %"},
}
PACK = with_output("1 gal/1000 sq ft", kind="backpack_sprayer", swath="3 ft", tanks=["4 gal"])


def asked(*mix: Json, plants: Json | None = None, **changes: Any) -> Json:
    told = {"count": 12, "spray_each": "0.5 gal"} if plants is None else plants
    return {"machine": PACK, "mix": list(mix) or [DRENCH], "plants": told, **changes}


def codes(plan: Json, kind: str = "warnings") -> list[str]:
    return [finding["code"] for finding in plan[kind]]


def faults_of(request: Json) -> dict[str, str]:
    with pytest.raises(FaultsFound) as found:
        answer(request)
    return {fault.field: str(fault) for fault in found.value.faults}


def test_twelve_plants_get_twelve_times_what_one_gets() -> None:
    plan = answer(asked(DRENCH, NIS))

    # 12 × 0.5 gal; 12 × 2 fl oz; 0.25 % of 6 gal of 128 fl oz.
    assert plan["plants"]["spray"] == {"value": pytest.approx(6), "unit": "gal"}
    drench, surfactant = plan["products"]
    assert drench["amount"] == {"value": pytest.approx(24), "unit": "fl oz"}
    assert drench["rate_used"] == {"value": 2, "unit": "fl oz"}
    assert surfactant["amount"]["value"] == pytest.approx(1.92)
    assert (plan["warnings"], plan["refusals"]) == ([], [])


def test_a_load_is_for_whole_plants_and_ends_with_the_last() -> None:
    plan = answer(asked(plants={"count": 12, "spray_each": "0.7 gal"}))

    # 5 × 0.7 gal go into 4 gal, and a sixth plant does not.
    assert [load["plants"] for load in plan["loads"]] == pytest.approx([5, 5, 2])
    assert [load["volume"]["value"] for load in plan["loads"]] == pytest.approx([3.5, 3.5, 1.4])
    amounts = [load["products"][0]["amount"]["value"] for load in plan["loads"]]
    assert amounts == pytest.approx([10, 10, 4])


def test_what_stays_in_the_tank_is_as_strong_and_is_not_given_to_a_plant() -> None:
    machine = PACK | {"unsprayable": "0.25 gal"}

    plan = answer(asked(plants={"count": 4, "spray_each": "0.5 gal"}, machine=machine))

    (load,) = plan["loads"]
    assert load["plants"] == pytest.approx(4)
    assert load["volume"]["value"] == pytest.approx(2.25)
    # 2 fl oz in half a gallon are 4 in a gallon.
    assert load["products"][0]["amount"]["value"] == pytest.approx(9)


def test_a_plant_that_takes_more_than_a_tank_is_done_from_full_tanks() -> None:
    plan = answer(asked(plants={"count": 1, "spray_each": "10 gal"}))

    assert [load["volume"]["value"] for load in plan["loads"]] == pytest.approx([4, 4, 2])


def test_plants_are_counted_from_the_points_that_are_drawn() -> None:
    many = {"type": "MultiPoint", "coordinates": [[-90, 40], [-89.99995, 40.00001]]}
    drawn = place(
        point("elm", "tree_or_shrub", 10, 10),
        point("oaks", "tree_or_shrub", 10, 10) | {"geometry": many},
        area("hedge", "tree_or_shrub", corners_of(0, 0, 30, 3), name="Yew hedge"),
        point("roses", "flower_bed", 5, 5),
        LAWN,
    )

    plan = answer(asked(plants={"spray_each": "0.5 gal"}, property=drawn))

    assert (plan["plants"]["count"], plan["plants"]["counted"]) == (3, ["elm", "oaks"])
    (warning,) = plan["warnings"]
    assert warning["code"] == "plants_uncounted"
    assert "Yew hedge" in warning["message"]
    beds = {"spray_each": "0.5 gal", "kind": "flower_bed"}
    assert answer(asked(plants=beds, property=drawn))["plants"]["count"] == 1


def test_a_request_as_text_is_answered_too() -> None:
    assert answer_text(json.dumps(asked())) == answer(asked())


def test_without_a_number_nothing_is_planned() -> None:
    untold = faults_of(asked(plants={"spray_each": "1 gal"}))
    assert "Nobody says how many" in untold["plants.count"]
    turf = {"property": place(LAWN), "machine": PACK, "mix": [DRENCH]}
    assert "nobody says how many plants there are" in faults_of(turf)["mix[0].rate"]
    drawn = faults_of(asked(plants={"spray_each": "1 gal"}, property=place(LAWN)))
    assert "draw each as a point" in drawn["plants.count"]


@pytest.mark.parametrize(
    ("changes", "where", "words"),
    [
        ({"mix": [HERBICIDE]}, "mix", "is for an area, and plants get an amount each"),
        ({"plants": {"count": 0, "spray_each": "1 gal"}}, "plants.count", "0"),
        ({"plants": {"count": 3}}, "plants.spray_each", "missing"),
        ({"plants": {"count": 3, "spray_each": "0 gal"}}, "plants.spray_each", "not above zero"),
        ({"history": []}, "history", "one by one"),
        ({"mix": [DRENCH | {"rate": "100 gal"}]}, "mix[0].rate", "cannot be right"),
        (
            {"mix": [DRENCH | {"label": {"rate_max": "2 fl oz/1000 sq ft"}}]},
            "mix[0].label.rate_max",
            "the rate asked for is a volume per plant",
        ),
        ({"mix": [DRENCH | {"formulation": "WP"}]}, "mix[0].rate", "is a dry product"),
        (
            {"machine": {"kind": "drop_spreader", "swath": "3 ft", "output": "1 lb/1000 sq ft"}},
            "machine.kind",
            "does not treat single plants",
        ),
    ],
)
def test_what_does_not_go_with_plants_is_said_where_it_stands(
    changes: Json, where: str, words: str
) -> None:
    found = faults_of(asked() | {"on": "2026-05-01"} | changes)

    assert words in " ".join(message for field, message in found.items() if field == where)


def test_a_dry_product_is_weighed_over_its_density() -> None:
    label = {"rate_max": "3 fl oz", "density": "8 lb/gal"}
    powder = DRENCH | {"formulation": "WP", "label": label}

    (product,) = answer(asked(powder))["products"]

    # A gallon of 128 fl oz weighs 128 oz at 8 lb/gal: an ounce by weight to each fluid ounce.
    assert product["amount"] == {"value": pytest.approx(24), "unit": "oz wt"}


@pytest.mark.parametrize(
    ("rate", "code"), [("2.6 fl oz", "rate_above_label"), ("1.4 fl oz", "rate_below_label")]
)
def test_a_rate_outside_the_label_is_refused(rate: str, code: str) -> None:
    assert codes(answer(asked(DRENCH | {"rate": rate})), "refusals") == [code]


def test_what_cannot_be_checked_for_plants_is_said() -> None:
    label = DRENCH["label"] | {
        "limits": {"per_year": "4 fl oz/1000 sq ft"},
        "setbacks": {"pond": "25 ft"},
    }

    found = codes(answer(asked(DRENCH | {"label": label})))

    assert found == ["plant_ground_unknown", "plant_distances_unchecked"]


def test_wind_over_the_label_holds_plants_too() -> None:
    label = DRENCH["label"] | {"wind_max": "8 mph"}

    plan = answer(asked(DRENCH | {"label": label}, weather={"wind_speed": "12 mph"}))

    assert (plan["hold"], codes(plan, "refusals")) == (True, ["wind_over_label"])


def test_more_loads_than_anybody_mixes_are_refused() -> None:
    plan = answer(asked(plants={"count": 100_000, "spray_each": "3 gal"}))

    assert "too_many_loads" in codes(plan, "refusals")
    assert plan["loads"] == []


@given(
    count=st.integers(1, 400),
    each_ml=st.integers(50, 20_000),
    rate_ml=st.integers(1, 40),
    stays_ml=st.integers(0, 900),
)
def test_the_loads_hold_what_all_plants_get_and_what_stays(
    count: int, each_ml: int, rate_ml: int, stays_ml: int
) -> None:
    drench = DRENCH | {"rate": f"{rate_ml} mL", "label": {"use": "per_plant"}}
    machine = PACK | {"unsprayable": f"{stays_ml} mL", "tanks": ["15 L"]}
    plants = {"count": count, "spray_each": f"{each_ml} mL"}

    plan = answer(asked(drench, plants=plants, machine=machine, units="metric"))

    if plan["loads"]:
        assert sum(load["plants"] for load in plan["loads"]) == pytest.approx(count)
        mixed = sum(load["products"][0]["amount"]["value"] for load in plan["loads"])
        assert mixed == pytest.approx(count * rate_ml + stays_ml * rate_ml / each_ml)
    for entry in plan["working"]:
        assert by_hand(entry) == pytest.approx(entry["result"]["value"], rel=1e-9)
        figure = found_at(plan, entry["figure"])
        assert (figure["value"] if isinstance(figure, dict) else figure) == (
            entry["result"]["value"]
        )
