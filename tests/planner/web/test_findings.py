"""Warnings are told by kind, the most pressing first, each with the whole of its words."""

import ast
from pathlib import Path
from typing import Any

from planner.web.findings import HEADLINES, together

CORE = Path("planner/core")
#: What is found about prices and stores is told on their own pages.
NO_PLANS = {"pricing", "stock"}
#: Findings that refuse a plan; they stand in a list of their own.
REFUSALS = {
    "adjuvant_forbidden",
    "adjuvant_missing",
    "calibration_expired",
    "calibration_needs_another_run",
    "calibration_off_target",
    "calibration_other_product",
    "first_pass_off",
    "delivered_above_label",
    "delivered_above_room",
    "gauge_not_believable",
    "lawn_room_too_small",
    "leftover_too_strong",
    "calibration_void",
    "do_not_mix",
    "jar_test_failed",
    "measure_too_coarse",
    "mix_stronger_than_water",
    "nothing_open",
    "nothing_treatable",
    "nozzles_uneven",
    "nutrient_over_limit",
    "nutrient_so_far_unknown",
    "rain_too_soon",
    "rate_above_application",
    "rate_above_label",
    "rate_above_room",
    "rate_for_another_area",
    "rate_for_each_plant",
    "rate_for_other_turf",
    "rate_ten_times_off",
    "route_stretch_too_long",
    "setback_unknown",
    "slope_carrier_above_label",
    "slope_carrier_below_label",
    "slope_rate_above_label",
    "slope_rate_below_label",
    "slow_release_unknown",
    "spread_off_target",
    "tank_above_room",
    "temperature_over_label",
    "temperature_under_label",
    "tank_not_rinsed",
    "too_many_loads",
    "turf_not_tolerant",
    "uses_mixed",
    "wind_over_firm",
    "wind_over_label",
    "wind_under_label",
    "droplets_too_fine",
    "spray_too_strong",
    "spray_too_thin",
    "droplets_too_coarse",
}


def _finding(code: str, message: str, **about: str) -> dict[str, Any]:
    return {"code": code, "message": message, **about}


def _codes_of_the_core() -> set[str]:
    calls = (
        node
        for path in CORE.rglob("*.py")
        if not NO_PLANS & set(path.parts)
        for node in ast.walk(ast.parse(path.read_text()))
        if isinstance(node, ast.Call) and getattr(node.func, "id", "") == "Finding"
    )
    codes = {call.args[0].value for call in calls if isinstance(call.args[0], ast.Constant)}
    return {str(code) for code in codes}


def test_every_warning_of_the_core_has_a_headline() -> None:
    assert len(_codes_of_the_core()) > 20
    assert _codes_of_the_core() <= HEADLINES.keys() | REFUSALS


def test_the_wind_is_told_before_a_distance_and_an_unknown_kind_last() -> None:
    told = together(
        [
            _finding("something_new", "New."),
            _finding("setback_example", "Bed."),
            _finding("wind_unknown", "Wind."),
        ],
        {},
    )

    assert [one["code"] for one in told] == ["wind_unknown", "setback_example", "something_new"]
    assert told[2]["headline"] == ""


def test_distances_of_one_kind_are_one_line_with_every_name_and_every_word() -> None:
    (told,) = together(
        [
            _finding("setback_example", "First.", feature="a"),
            _finding("setback_example", "Second.", feature="b"),
            _finding("setback_example", "Third.", feature="a"),
        ],
        {"a": "Rose bed", "b": "Pond"},
    )

    assert told["about"] == ["Rose bed", "Pond"]
    assert told["messages"] == ["First.", "Second.", "Third."]
