"""A park lawn beside a pond, fed with a spreader that first fails and then passes too easily.

Worked by hand from the job's inputs: 70 × 35 m less 3 m along the pond are 2,240 m²; 3.6 g/m²
of N from 18 % are 20 g/m² of product. Every firm, place and product is invented.
"""

from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planner.core.plan import plan_from_json
from planner.core.report import plan_as_json
from tests.planner.core.scenarios import RUSHMERE, after_runs

FEED = RUSHMERE["mix"][0]
TESTS = RUSHMERE["machine"]["calibration"]

# The plane of the test is not one of true areas.
AREA = 2e-4


def planned(request: Any) -> Any:
    return plan_as_json(plan_from_json(request))


def codes(findings: Any) -> list[str]:
    return [finding["code"] for finding in findings]


@pytest.fixture(scope="module")
def rushmere() -> Any:
    return planned(RUSHMERE)


def test_the_job_is_a_plan_without_refusals_and_without_spray(rushmere: Any) -> None:
    assert rushmere["refusals"] == []
    assert rushmere["carrier_volume"] is None
    assert rushmere["loads"] == []


def test_with_its_deflector_the_spreader_keeps_three_metres(rushmere: Any) -> None:
    assert rushmere["treatable_area"]["value"] == pytest.approx(2240, rel=AREA)


def test_without_its_deflector_it_keeps_eight(rushmere: Any) -> None:
    bare = planned(RUSHMERE | {"machine": RUSHMERE["machine"] | {"deflector": False}})

    assert bare["treatable_area"]["value"] == pytest.approx(1890, rel=AREA)
    assert bare["spread"]["bags"]["count"] == 2


# The catch tests over 100 m²: per pass, how far off, N and soluble N of both passes, verdict.
RUNS = [
    (1, 11.2, 12, 4.03, 2.419, "fail", ["tolerance", "limit"]),
    (2, 10.3, 3, 3.71, 2.225, "adjust", ["limit"]),
    (3, 10.1, 1, 3.64, 2.182, "pass", []),
]


@pytest.mark.parametrize("row", RUNS)
def test_each_catch_test_is_judged_by_target_and_limit(
    rushmere: Any, row: tuple[int, float, float, float, float, str, list[str]]
) -> None:
    run, per_pass, percent, n, soluble, verdict, reasons = row
    test = rushmere["spread"]["catch_tests"][run - 1]

    assert test["rate_of_pass"]["value"] == pytest.approx(per_pass)
    assert test["deviation_percent"] == pytest.approx(percent)
    assert test["nutrients"]["N"]["value"] == pytest.approx(n, abs=0.005)
    assert test["nutrients"]["soluble N"]["value"] == pytest.approx(soluble, abs=0.0005)
    assert (test["verdict"], test["reasons"]) == (verdict, reasons)


@pytest.mark.parametrize(
    ("runs", "refused"),
    [
        (1, ["spread_off_target", "nutrient_over_limit"]),
        (2, ["nutrient_over_limit"]),
        (3, []),
    ],
)
def test_the_plan_is_refused_until_a_catch_test_passes(runs: int, refused: list[str]) -> None:
    assert codes(planned(after_runs(runs))["refusals"]) == refused


def test_a_broken_limit_is_named_with_what_would_do() -> None:
    (refusal,) = planned(after_runs(2))["refusals"]

    for words in ("2.225 g/m2 of soluble N", "2.2 g/m2 per application", "20.37 g/m2"):
        assert words in refusal["message"]


def test_three_bags_leave_the_depot(rushmere: Any) -> None:
    spread, (product,) = rushmere["spread"], rushmere["products"]

    assert product["amount"] == {"value": pytest.approx(45.25, abs=0.01), "unit": "kg"}
    assert product["rate_used"] == {"value": pytest.approx(20.2), "unit": "g/m2"}
    assert spread["bags"]["count"] == 3
    assert spread["bags"]["left_over"]["value"] == pytest.approx(14.75, abs=0.01)


def test_each_pass_takes_half(rushmere: Any) -> None:
    for each in rushmere["spread"]["passes"]:
        assert each["amount_to_measure"] == {"value": pytest.approx(22.62), "unit": "kg"}
        assert each["rate"]["value"] == pytest.approx(10.1)
        assert each["fillings"]["count"] == 2
        assert each["fillings"]["last"]["value"] == pytest.approx(2.62)


def test_the_year_is_nearly_used_up(rushmere: Any) -> None:
    (yearly,) = (each for each in rushmere["nutrient_limits"] if each["per"] == "year")

    assert yearly["total"]["value"] == pytest.approx(11.44, abs=0.005)
    assert yearly["at_most"] == {"value": 12, "unit": "g/m2"}
    assert yearly["allowed"] is True


def test_phosphate_and_potash_are_told_as_elements(rushmere: Any) -> None:
    rates = {each["nutrient"]: each["rate"]["value"] for each in rushmere["nutrients"]}

    assert rates["P"] == pytest.approx(0.264, abs=0.0005)
    assert rates["K"] == pytest.approx(1.509, abs=0.0005)
    assert rates["P2O5"] == pytest.approx(0.606)


def test_phosphorus_is_refused_without_a_soil_test() -> None:
    without = {name: value for name, value in RUSHMERE.items() if name != "soil_test"}

    (refusal,) = planned(without)["refusals"]

    assert refusal["code"] == "nutrient_over_limit"
    assert "soil test" in refusal["message"]


@pytest.mark.parametrize(("used", "stops"), [("24.0 kg", True), ("23.7 kg", False)])
def test_a_first_pass_that_used_too_much_stops_the_second(used: str, stops: bool) -> None:
    plan = planned(RUSHMERE | {"first_pass_used": used})

    assert ("first_pass_off" in codes(plan["refusals"])) is stops
    assert plan["spread"]["first_pass"]["recalibrate"] is stops


def test_what_is_left_after_the_first_pass_is_told() -> None:
    first = planned(RUSHMERE | {"first_pass_used": "24.0 kg"})["spread"]["first_pass"]

    assert first["deviation_percent"] == pytest.approx(6.1, abs=0.05)
    assert first["left"]["value"] == pytest.approx(21.25, abs=0.01)


def test_us_units_give_the_same_plan() -> None:
    metric, us = planned(RUSHMERE), planned(RUSHMERE | {"units": "us"})

    assert us["products"][0]["amount"]["unit"] == "lb"
    assert us["products"][0]["amount"]["value"] * 0.45359237 == pytest.approx(
        metric["products"][0]["amount"]["value"]
    )
    assert us["spread"]["bags"]["count"] == metric["spread"]["bags"]["count"]
    assert codes(us["refusals"]) == codes(metric["refusals"])


@given(
    used_kg=st.floats(0.6, 1.4), target_g=st.floats(1.0, 4.0), bag_kg=st.sampled_from([10, 20, 25])
)
@settings(max_examples=20)
def test_the_same_job_typed_in_us_units_is_the_same_plan(
    used_kg: float, target_g: float, bag_kg: int
) -> None:
    def job(used: str, target: str, bag: str) -> Any:
        tests = {**TESTS, "runs": [{"setting": 6, "used": used}]}
        feed = FEED | {"nutrient_target": {"N": target}}
        feed |= {"fertilizer": FEED["fertilizer"] | {"bag": bag}}
        machine = RUSHMERE["machine"] | {"calibration": tests}
        return planned(RUSHMERE | {"machine": machine, "mix": [feed]})

    pounds, per_ksqft = 1 / 0.45359237, 92.90304 / 453.59237
    metric = job(f"{used_kg} kg", f"{target_g} g/m2", f"{bag_kg} kg")
    us = job(
        f"{used_kg * pounds} lb", f"{target_g * per_ksqft} lb/1000 sq ft", f"{bag_kg * pounds} lb"
    )

    assert codes(us["refusals"]) == codes(metric["refusals"])
    assert us["spread"]["bags"]["count"] == metric["spread"]["bags"]["count"]
    for figure in ("amount", "rate_used"):
        assert us["products"][0][figure]["value"] == pytest.approx(
            metric["products"][0][figure]["value"], rel=1e-9
        )
