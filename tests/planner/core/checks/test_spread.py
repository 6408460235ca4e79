"""What is said about a spreader and its catch tests."""

import pytest

from properties.core.errors import FaultsFound
from tests.planner.core.asking import area, corners_of
from tests.planner.core.feeding_park import (
    FEED,
    had,
    planned,
    refusals,
    warnings,
    with_label,
    with_tests,
)
from tests.planner.core.scenarios import RUSHMERE


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


def test_tests_of_an_unnamed_product_are_taken_with_a_warning() -> None:
    request = with_tests((6, "1.00 kg"))
    del request["machine"]["calibration"]["product"]

    assert refusals(request) == {}
    assert "calibration_product_unknown" in warnings(request)


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
