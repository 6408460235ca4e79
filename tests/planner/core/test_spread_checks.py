"""What is said about a spreader and its catch tests, and about nutrients beside a sprayer."""

import copy
from typing import Any

import pytest

from planner.core.plan import plan_from_json
from planner.core.report import plan_as_json
from properties.core.errors import FaultsFound
from tests.planner.core.asking import HERBICIDE, area, asking, corners_of, with_output
from tests.planner.core.scenarios import RUSHMERE

Json = dict[str, Any]
FEED = RUSHMERE["mix"][0]


def with_tests(*runs: tuple[float, str], **more: Any) -> Json:
    """The Rushmere job without limits, with these catch tests over 100 m²."""
    request = copy.deepcopy(RUSHMERE) | {"nutrient_limits": []}
    request["machine"]["calibration"] |= {
        "runs": [{"setting": setting, "used": used} for setting, used in runs]
    } | more
    return request


def planned(request: Json) -> Any:
    return plan_as_json(plan_from_json(request))


def warnings(request: Json) -> list[str]:
    return [each["code"] for each in planned(request)["warnings"]]


def refusals(request: Json) -> dict[str, str]:
    return {each["code"]: each["message"] for each in planned(request)["refusals"]}


def test_three_runs_that_agree_are_enough() -> None:
    assert "catch_tests_few" not in warnings(
        with_tests((6, "1.00 kg"), (6, "1.01 kg"), (6, "1.02 kg"))
    )


@pytest.mark.parametrize("runs", [1, 2])
def test_fewer_than_three_runs_are_told(runs: int) -> None:
    assert "catch_tests_few" in warnings(with_tests(*([(6, "1.00 kg")] * runs)))


def test_runs_at_another_setting_do_not_count_as_three() -> None:
    found = warnings(with_tests((5, "0.8 kg"), (5, "0.8 kg"), (6, "1.00 kg")))

    assert "catch_tests_few" in found


def test_a_run_that_stands_apart_is_told_and_left_out() -> None:
    found = warnings(with_tests((6, "1.00 kg"), (6, "1.2 kg"), (6, "1.01 kg"), (6, "1.00 kg")))

    assert "calibration_fluke" in found


def test_uneven_runs_are_told() -> None:
    found = warnings(with_tests((6, "0.93 kg"), (6, "1.00 kg"), (6, "1.07 kg")))

    assert "calibration_uneven" in found


def test_scattered_runs_refuse_the_plan() -> None:
    assert "calibration_scattered" in refusals(with_tests((6, "0.8 kg"), (6, "1.2 kg")))


def test_catch_tests_with_another_product_do_not_count() -> None:
    found = refusals(with_tests((6, "1.00 kg"), product="Another feed (invented)"))

    assert "Another feed" in found["calibration_other_product"]


def test_a_product_is_the_same_in_capitals() -> None:
    found = refusals(with_tests((6, "1.00 kg"), product=FEED["name"].upper()))

    assert "calibration_other_product" not in found


def test_tests_of_an_unnamed_product_are_taken_as_they_are() -> None:
    request = with_tests((6, "1.00 kg"))
    del request["machine"]["calibration"]["product"]

    assert refusals(request) == {}


def test_the_next_setting_lies_between_own_tests() -> None:
    request = with_tests((5, "0.9 kg"), (6, "1.1 kg"))

    assert planned(request)["spread"]["next_setting"] == pytest.approx(5.5)
    assert "Try setting 5.5" in refusals(request)["spread_off_target"]


@pytest.mark.parametrize(("used", "words"), [("1.1 kg", "narrower"), ("0.9 kg", "wider")])
def test_beyond_own_tests_no_setting_is_told(used: str, words: str) -> None:
    request = with_tests((6, used))

    assert planned(request)["spread"]["next_setting"] is None
    assert words in refusals(request)["spread_off_target"]


def test_a_stated_output_is_told_as_one() -> None:
    machine = {name: value for name, value in RUSHMERE["machine"].items() if name != "calibration"}
    request = with_tests((6, "1 kg")) | {"machine": machine | {"output": "10 g/m2"}}

    assert "output_stated" in warnings(request)
    assert planned(request)["output"]["method"] == "stated"


def test_scales_that_are_too_coarse_refuse_the_plan() -> None:
    request = with_tests((6, "1.00 kg")) | {"measures": {"dry": ["1 g"], "granules": ["40 kg"]}}

    assert "40 kg" in refusals(request)["measure_too_coarse"]


def test_a_rate_over_the_label_is_refused_and_not_weighed_out() -> None:
    label = {"rate_min": "10 g/m2", "rate_max": "20 g/m2"}
    request = with_tests((6, "1.01 kg")) | {"mix": [FEED | {"label": label}]}

    plan = planned(request)

    assert [each["code"] for each in plan["refusals"]] == ["rate_above_label"]
    assert plan["products"][0]["amount_to_measure"] is None
    assert plan["spread"]["catch_tests"][0]["reasons"] == ["label"]


def test_an_example_limit_is_told_as_one() -> None:
    limits = [RUSHMERE["nutrient_limits"][0] | {"example": True}]

    assert "nutrient_limit_example" in warnings(RUSHMERE | {"nutrient_limits": limits})


def test_a_year_that_nobody_told_refuses_the_plan() -> None:
    request = {name: value for name, value in RUSHMERE.items() if name != "nutrients_so_far"}

    assert "unknown is not" in refusals(request)["nutrient_so_far_unknown"]


def test_a_slow_share_that_nobody_copied_refuses_the_plan() -> None:
    feed = FEED | {"fertilizer": {"grade": "18-3-9"}}

    assert "slow release" in refusals(RUSHMERE | {"mix": [feed]})["slow_release_unknown"]


def test_a_year_that_is_used_up_leaves_nothing() -> None:
    found = refusals(RUSHMERE | {"nutrients_so_far": {"N": "12 g/m2"}})

    assert "No N may go down" in found["nutrient_over_limit"]
    assert "of this year" in found["nutrient_over_limit"]


def test_what_limits_nothing_that_is_put_down_is_not_compared() -> None:
    feed = {name: value for name, value in FEED.items() if name != "fertilizer"}
    del feed["nutrient_target"]

    plan = planned(RUSHMERE | {"mix": [feed | {"rate": "20 g/m2"}]})

    assert "nutrients" not in plan
    assert plan["spread"]["bags"] is None


LIQUID = {
    "name": "Invented liquid feed",
    "rate": "6 fl oz/1000 sq ft",
    "formulation": "liquid fertilizer",
    "fertilizer": {"grade": "4-0-0", "slow_release": "0 %"},
    "label": {"rate_max": "9 fl oz/1000 sq ft", "rate_min": "3 fl oz/1000 sq ft",
              "density": "10.68 lb/gal"},
}  # fmt: skip


def n_of(plan: Json) -> Any:
    return next(each["rate"]["value"] for each in plan["nutrients"] if each["nutrient"] == "N")


# M. Woods, Calculating how much of an element is applied in a liquid fertilizer, 19 March 2015:
# 6 fl oz of 10.68 lb/gal with 4 % N are 0.02 lb of N per 1,000 sq ft.
def test_a_sprayed_fertilizer_counts_by_its_density() -> None:
    assert n_of(planned(asking(mix=[LIQUID]))) == pytest.approx(0.0200, abs=5e-5)


def test_a_target_of_nitrogen_gives_the_volume_of_a_liquid() -> None:
    target = {name: value for name, value in LIQUID.items() if name != "rate"}

    plan = planned(asking(mix=[target | {"nutrient_target": {"N": "0.02 lb/1000 sq ft"}}]))

    assert plan["products"][0]["rate_used"]["unit"] == "fl oz/1000 sq ft"
    assert plan["products"][0]["rate_used"]["value"] == pytest.approx(6.0, abs=0.01)


def test_all_fertilizers_of_a_mix_count_together() -> None:
    other = LIQUID | {"name": "Invented second feed"}
    limit = {"nutrient": "N", "per": "application", "at_most": "0.03 lb/1000 sq ft",
             "source": "Invented council"}  # fmt: skip

    found = refusals(asking(mix=[LIQUID, other, HERBICIDE], nutrient_limits=[limit]))

    assert "Invented liquid feed and Invented second feed" in found["nutrient_over_limit"]
    assert "Lower the rates" in found["nutrient_over_limit"]


def test_a_fertilizer_by_volume_of_spray_follows_the_output_of_each_tool() -> None:
    by_spray = LIQUID | {"rate": "1 fl oz/gal", "label": {"density": "10.68 lb/gal"}}
    machine = with_output("2 gal/1000 sq ft")

    plan = planned(asking(mix=[by_spray], machine=machine))

    assert n_of(plan) == pytest.approx(2 / 128 * 10.68 * 0.04)


def had(west: float, east: float, rate: str, on: str = "2026-05-01", **more: Any) -> Json:
    """The feed put down on a strip of the park, between two distances east of its corner."""
    where = area("past", "turf", corners_of(west, -5, east, 40), unit_m=1)["geometry"]
    return {"on": on, "product": FEED["name"], "rate": rate, "where": where} | more


def with_history(*applications: Json) -> Json:
    request = {name: value for name, value in RUSHMERE.items() if name != "nutrients_so_far"}
    return request | {"history": list(applications)}


def year_of(request: Json) -> Any:
    return next(each for each in planned(request)["nutrient_limits"] if each["per"] == "year")


def test_the_fullest_spot_decides_what_the_ground_has_had() -> None:
    # 20 g/m² of 18 % on the west, 15 on the middle of both: 6.3 where they overlap.
    yearly = year_of(with_history(had(0, 35, "20 g/m2"), had(30, 50, "15 g/m2")))

    assert yearly["so_far"]["value"] == pytest.approx(6.3)
    assert yearly["total"]["value"] == pytest.approx(6.3 + 3.636)


@pytest.mark.parametrize(
    "application",
    [had(0, 35, "20 g/m2", on="2025-12-31"), had(100, 120, "20 g/m2")],
    ids=["another year", "other ground"],
)
def test_what_does_not_count_is_nothing(application: Json) -> None:
    assert year_of(with_history(application))["so_far"]["value"] == 0


def test_a_place_that_has_had_nothing_has_all_its_room() -> None:
    assert year_of(with_history())["so_far"]["value"] == 0


@pytest.mark.parametrize(("since", "so_far"), [("2026-01-01", 0.0), ("2026-01-02", None)])
def test_a_year_that_is_known_in_part_is_not_known(since: str, so_far: float | None) -> None:
    yearly = year_of(with_history() | {"history_since": since})

    assert (yearly["so_far"] and yearly["so_far"]["value"]) == so_far


def test_what_was_told_beats_the_history() -> None:
    request = with_history(had(0, 35, "20 g/m2")) | {"nutrients_so_far": {"N": "7.8 g/m2"}}

    assert year_of(request)["so_far"]["value"] == pytest.approx(7.8)


OTHER = {"product": "Another product (invented)"}


@pytest.mark.parametrize(
    ("told", "so_far"),
    [
        ({}, None),
        ({"active_ingredients": []}, 0.0),
        ({"fertilizer": False}, 0.0),
        ({"fertilizer": {"grade": "10-0-0"}}, 2.0),
        ({"fertilizer": {"grade": "10-0-0"}, "rate": "20 mL/m2", "density": "1.2 kg/L"}, 2.4),
        ({"fertilizer": {"grade": "10-0-0"}, "rate": "20 mL/m2"}, None),
    ],
)
def test_nitrogen_of_another_product_counts_if_anybody_knows_it(
    told: Json, so_far: float | None
) -> None:
    yearly = year_of(with_history(had(0, 35, "20 g/m2") | OTHER | told))

    if so_far is None:
        assert yearly["so_far"] is None
    else:
        assert yearly["so_far"]["value"] == pytest.approx(so_far)


def test_a_strip_too_narrow_for_the_throw_is_told_in_words_of_a_spreader() -> None:
    lawn = area("lawn", "turf", corners_of(0, 0, 3, 35), unit_m=1)
    request = RUSHMERE | {"property": {"type": "FeatureCollection", "features": [lawn]}}

    (words,) = (each["message"] for each in planned(request)["warnings"]
                if each["code"] == "hand_area")  # fmt: skip

    assert "drop spreader" in words


def test_a_route_is_not_planned_with_a_spreader() -> None:
    with pytest.raises(FaultsFound) as found:
        planned(RUSHMERE | {"route": {"start": "depot", "stops": []}})

    assert "route" in {fault.field for fault in found.value.faults}


def test_a_place_without_ground_has_no_first_pass() -> None:
    far = [rule | {"distance": "90 m"} for rule in RUSHMERE["setback_rules"]]

    plan = planned(RUSHMERE | {"setback_rules": far, "first_pass_used": "20 kg"})

    assert "first_pass" not in plan["spread"]
    assert plan["spread"]["bags"]["count"] == 0
    assert "nothing_treatable" in [each["code"] for each in plan["refusals"]]


def with_label(limits: Json, *applications: Json) -> Json:
    """The park with a label that limits the feed itself, and no other limits."""
    label = {"rate_max": "25 g/m2", "rate_min": "10 g/m2", "limits": limits}
    return with_history(*applications) | {"nutrient_limits": [], "mix": [FEED | {"label": label}]}


def test_a_limit_of_the_label_counts_both_passes() -> None:
    plan = planned(with_label({"per_year": "45 g/m2"}, had(0, 35, "20 g/m2")))

    fed, fresh = sorted(plan["limits"][0]["faces"], key=lambda face: face["room"]["value"])
    # 22.62 kg twice on 2,240 m² are 20.2 g/m².
    for face, received in ((fed, 40.2), (fresh, 20.2)):
        assert face["received_after"]["unit"] == "g/m2"
        assert face["received_after"]["value"] == pytest.approx(received, abs=0.01)
    assert plan["refusals"] == []


def test_what_really_goes_down_must_keep_the_limit_of_the_label() -> None:
    # 20 g/m² were asked for and would keep it; the spreader gives 20.2.
    plan = planned(with_label({"per_application": "20.1 g/m2"}))

    assert [each["code"] for each in plan["refusals"]] == ["rate_above_application"]
    assert plan["products"][0]["amount_to_measure"] is None


def test_a_limit_that_binds_moves_the_setting_to_try() -> None:
    limits = [RUSHMERE["nutrient_limits"][0] | {"at_most": "3.42 g/m2"}]
    request = with_tests((5, "0.9 kg"), (6, "1.1 kg")) | {"nutrient_limits": limits}

    # 3.42 g/m² of 18 % are 19 g/m², 9.5 a pass: a quarter of the way from 9 to 11.
    assert planned(request)["spread"]["next_setting"] == pytest.approx(5.25)


@pytest.mark.parametrize(
    ("limits", "told"), [(RUSHMERE["nutrient_limits"], True), ([], False)], ids=["some", "none"]
)
def test_a_granule_without_a_grade_is_told_where_nutrients_are_limited(
    limits: list[Json], told: bool
) -> None:
    granule = {"name": FEED["name"], "rate": "20 g/m2", "formulation": "G"}

    found = warnings(RUSHMERE | {"nutrient_limits": limits, "mix": [granule]})

    assert ("nutrients_unknown" in found) is told
