"""Reading a spreader, a fertilizer and limits on nutrients: every fault with a way out."""

import copy
from typing import Any

import pytest

from planner.core.request import read_request
from planner.core.request.fertilizer import parse_grade
from properties.core.errors import FaultsFound, Refused
from tests.planner.core.asking import HERBICIDE, MACHINE, asking
from tests.planner.core.scenarios import RUSHMERE

Json = dict[str, Any]
FEED = RUSHMERE["mix"][0]
SPREADER = RUSHMERE["machine"]
TESTS = SPREADER["calibration"]


def faults(request: Json) -> dict[str, str]:
    with pytest.raises(FaultsFound) as found:
        read_request(request)
    return {fault.field: str(fault) for fault in found.value.faults}


def with_spreader(**changes: Any) -> Json:
    return RUSHMERE | {"machine": SPREADER | changes}


def with_feed(**changes: Any) -> Json:
    return RUSHMERE | {"mix": [FEED | changes]}


def without(members: Json, *names: str) -> Json:
    return {name: value for name, value in members.items() if name not in names}


def test_a_spreader_has_its_tests_and_no_tanks() -> None:
    machine = read_request(RUSHMERE).machine

    assert machine.tanks == ()
    assert machine.spreading is not None
    assert machine.spreading.deflector
    assert machine.spreading.hopper is not None


def test_twice_over_is_the_usual() -> None:
    request = RUSHMERE | {"machine": without(SPREADER, "times_over")}

    spreading = read_request(request).machine.spreading

    assert spreading is not None
    assert spreading.times_over == 2


def test_a_drop_spreader_keeps_what_a_deflector_keeps() -> None:
    drop = without(SPREADER, "deflector") | {"kind": "drop_spreader"}

    assert read_request(RUSHMERE | {"machine": drop}).machine.method == "granular_deflector"


@pytest.mark.parametrize(
    ("changes", "field", "words"),
    [
        ({"tanks": ["20 gal"]}, "machine.tanks", "has no tank"),
        ({"fill_limit": "20 gal"}, "machine.fill_limit", "has no tank"),
        ({"headlands": 1}, "machine.headlands", "not driven in passes"),
        ({"hopper": "0 kg"}, "machine.hopper", "not above zero"),
        ({"hopper": "20 L"}, "machine.hopper", "not a weight"),
        ({"times_over": 3}, "machine.times_over", "right angles"),
        ({"times_over": True}, "machine.times_over", "right angles"),
        ({"deflector": "yes"}, "machine.deflector", "true or false"),
        ({"kind": "drop_spreader"}, "machine.deflector", "throws nothing aside"),
        ({"output": "10 g/m2"}, "machine", "Both a calibration and an output"),
        ({"calibration": TESTS | {"method": "measured_course"}}, "machine.calibration.method",
         "weigh_back"),
        ({"calibration": TESTS | {"runs": []}}, "machine.calibration.runs", "weigh what is left"),
        ({"calibration": TESTS | {"course_length": "25 m"}}, "machine.calibration",
         "given twice"),
        ({"calibration": without(TESTS, "area")}, "machine.calibration.runs[0].area", "ground"),
        ({"calibration": without(TESTS, "runs")}, "machine.calibration.runs", "missing"),
        ({"calibration": TESTS | {"area": "0 m2"}}, "machine.calibration.area", "not above zero"),
        ({"calibration": TESTS | {"runs": [{"setting": "M", "used": "1 kg"}]}},
         "machine.calibration.runs[0].setting", "A is 1"),
        ({"calibration": TESTS | {"runs": [{"setting": True, "used": "1 kg"}]}},
         "machine.calibration.runs[0].setting", "A is 1"),
        ({"calibration": TESTS | {"runs": [{"used": "1 kg"}]}},
         "machine.calibration.runs[0].setting", "on the dial"),
        ({"calibration": TESTS | {"runs": [{"setting": 6}]}},
         "machine.calibration.runs[0].used", "what was left"),
        ({"calibration": TESTS | {"runs": [{"setting": 6, "used": "0 kg"}]}},
         "machine.calibration.runs[0].used", "not above zero"),
        ({"calibration": TESTS | {"runs": ["1 kg"]}}, "machine.calibration.runs[0]", "object"),
        ({"calibration": "none"}, "machine.calibration", "object"),
    ],
)  # fmt: skip
def test_what_cannot_be_right_about_a_spreader_is_told(
    changes: Json, field: str, words: str
) -> None:
    assert words in faults(with_spreader(**changes))[field]


def test_a_spreader_needs_some_output() -> None:
    request = RUSHMERE | {"machine": without(SPREADER, "calibration")}

    assert "catch tests" in faults(request)["machine.calibration"]


def test_a_spreader_needs_its_swath() -> None:
    assert "machine.swath" in faults(RUSHMERE | {"machine": without(SPREADER, "swath")})


@pytest.mark.parametrize("name", ["hopper", "deflector", "times_over"])
def test_a_sprayer_has_nothing_of_a_spreader(name: str) -> None:
    found = faults(asking(machine=MACHINE | {name: SPREADER[name]}))

    assert "rotary_spreader" in found[f"machine.{name}"]


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        ({"mix": []}, "nothing to put down"),
        ({"mix": [FEED, FEED | {"name": "Second"}]}, "one product at a time"),
        ({"mix": [HERBICIDE]}, "weight per area"),
        ({"mix": [without(FEED, "nutrient_target") | {"rate": "2 oz wt/gal"}]}, "weight per area"),
        ({"mix": [FEED | {"formulation": "WG"}]}, "mixed with water"),
    ],
)
def test_a_spreader_puts_down_one_dry_product(changes: Json, words: str) -> None:
    assert words in faults(RUSHMERE | changes)["mix"]


def test_a_sprayer_cannot_spray_granules() -> None:
    granule = {"name": "Invented granule", "rate": "2 lb/1000 sq ft", "formulation": "G"}

    assert "spread dry" in faults(asking(mix=[granule]))["mix"]


@pytest.mark.parametrize(
    "member",
    [
        {"hand_tool": without(MACHINE, "kind") | {"kind": "hand_gun"}},
        {"tank_now": {"spray": "2 gal", "products": {FEED["name"]: "2 kg"}}},
        {"passes": True},
    ],
)
def test_a_spreader_is_planned_without_what_only_spray_has(member: Json) -> None:
    (name,) = member

    assert "spreader" in faults(RUSHMERE | member)[name]


def test_only_two_passes_have_a_first() -> None:
    request = with_spreader(times_over=1) | {"first_pass_used": "20 kg"}

    assert "once" in faults(request)["first_pass_used"]


def test_a_sprayer_has_no_first_pass() -> None:
    assert "sprays" in faults(asking(first_pass_used="20 lb"))["first_pass_used"]


@pytest.mark.parametrize(
    ("grade", "words"),
    [
        ("60-60-60", "180 %"),
        ("0-0-0", "no nutrient"),
        ("18-3", "18-3-9"),
        ("18/3/9", "18-3-9"),
        ("-1-3-9", "18-3-9"),
        (18, "18-3-9"),
    ],
)
def test_a_grade_that_cannot_be_is_told(grade: object, words: str) -> None:
    with pytest.raises(Refused) as refused:
        parse_grade(grade)

    assert words in str(refused.value)


@pytest.mark.parametrize("text", ["18-3-9", " 18 - 3 - 9 ", "18–3–9", "18.0-3.0-9"])
def test_a_grade_is_read_as_people_write_it(text: str) -> None:
    assert str(parse_grade(text)) == "18-3-9"


FERTILIZER = FEED["fertilizer"]


@pytest.mark.parametrize(
    ("changes", "field", "words"),
    [
        ({"fertilizer": FERTILIZER | {"grade": "60-60-60"}}, "mix[0].fertilizer.grade", "180 %"),
        ({"fertilizer": without(FERTILIZER, "grade")}, "mix[0].fertilizer.grade", "missing"),
        ({"fertilizer": FERTILIZER | {"bag": "0 kg"}}, "mix[0].fertilizer.bag", "not above zero"),
        ({"fertilizer": FERTILIZER | {"slow_release": "120 %"}},
         "mix[0].fertilizer.slow_release", "between 0 % and 100 %"),
        ({"rate": "20 g/m2"}, "mix[0].nutrient_target", "Both a rate"),
        ({"nutrient_target": {}}, "mix[0].nutrient_target", "one nutrient"),
        ({"nutrient_target": {"N": "1 g/m2", "P": "1 g/m2"}}, "mix[0].nutrient_target",
         "one nutrient"),
        ({"nutrient_target": {"Fe": "1 g/m2"}}, "mix[0].nutrient_target.Fe", "not part"),
        ({"nutrient_target": {"N": "1 mL/m2"}}, "mix[0].nutrient_target.N", "not a weight"),
        ({"fertilizer": {"grade": "0-0-22"}}, "mix[0].nutrient_target", "holds no N"),
    ],
)  # fmt: skip
def test_what_cannot_be_right_about_a_fertilizer_is_told(
    changes: Json, field: str, words: str
) -> None:
    assert words in faults(with_feed(**changes))[field]


def test_a_target_needs_a_grade() -> None:
    request = RUSHMERE | {"mix": [without(FEED, "fertilizer")]}

    assert "grade" in faults(request)["mix[0].nutrient_target"]


def test_a_fertilizer_by_volume_needs_its_density() -> None:
    liquid = {
        "name": "Invented liquid feed",
        "rate": "6 fl oz/1000 sq ft",
        "fertilizer": {"grade": "4-0-0"},
    }

    assert "density" in faults(asking(mix=[liquid]))["mix[0].fertilizer"]


@pytest.mark.parametrize("density", [None, 10.7, "10.7 kg"])
def test_a_target_of_a_liquid_without_density_is_a_weight(density: object) -> None:
    label = {} if density is None else {"label": {"density": density}}
    feed = FEED | {"formulation": "liquid fertilizer"} | label

    if density is None:
        assert read_request(asking(mix=[feed])).products[0].rate.unit == "g/m2"
    else:
        assert "mix[0].label.density" in faults(asking(mix=[feed]))


LIMIT = RUSHMERE["nutrient_limits"][0]


@pytest.mark.parametrize(
    ("changes", "field", "words"),
    [
        ({"nutrient": "Fe"}, "nutrient_limits[0].nutrient", "soluble N"),
        ({"per": "week"}, "nutrient_limits[0].per", "application, year, month, 30 days"),
        (
            {"per": "year", "least_slow_release": "20 %"},
            "nutrient_limits[0].least_slow_release",
            "on N per year",
        ),
        ({"at_most": "-1 g/m2"}, "nutrient_limits[0].at_most", "below zero"),
        ({"source": ""}, "nutrient_limits[0].source", "line of text"),
        ({"unless": "rain"}, "nutrient_limits[0].unless", "soil_test"),
        ({"from": "2026-05-01", "to": "2026-04-01"}, "nutrient_limits[0].to", "begins on"),
    ],
)
def test_what_cannot_be_right_about_a_limit_is_told(changes: Json, field: str, words: str) -> None:
    request = copy.deepcopy(RUSHMERE) | {"nutrient_limits": [LIMIT | changes]}

    assert words in faults(request)[field]


@pytest.mark.parametrize("limit", ["no limit", without(LIMIT, "nutrient", "per", "at_most")])
def test_a_limit_has_its_members(limit: object) -> None:
    found = faults(RUSHMERE | {"nutrient_limits": [limit]})

    assert any(field.startswith("nutrient_limits[0]") for field in found)


@pytest.mark.parametrize("name", ["from", "to"])
def test_a_limit_with_days_needs_the_day(name: str) -> None:
    request = without(RUSHMERE, "on", "soil_test")

    found = faults(request | {"nutrient_limits": [LIMIT | {name: "2026-05-01"}]})

    assert "2026-05-20" in found[f"nutrient_limits[0].{name}"]


def test_a_day_that_cannot_be_read_is_told_once() -> None:
    limits = [LIMIT | {"from": "2026-05-01"}]

    assert list(faults(RUSHMERE | {"on": "today", "nutrient_limits": limits})) == ["on"]


@pytest.mark.parametrize(
    ("test", "field", "words"),
    [
        ({"taken": "2025-03-14"}, "soil_test.valid_until", "three years"),
        ({"valid_until": "2025-03-14"}, "soil_test.taken", "missing"),
        (
            {"taken": "2025-03-14", "valid_until": "2025-02-29"},
            "soil_test.valid_until",
            "February 28",
        ),
        ({"taken": "2025-03-14", "valid_until": "2025-03-13"}, "soil_test.valid_until", "ended on"),
    ],
)
def test_a_soil_test_has_its_days(test: Json, field: str, words: str) -> None:
    assert words in faults(RUSHMERE | {"soil_test": test})[field]


def test_a_soil_test_needs_the_day_of_the_work() -> None:
    assert "2026-05-20" in faults(without(RUSHMERE, "on"))["soil_test"]


def test_what_the_ground_has_had_is_read_by_nutrient() -> None:
    rules = read_request(
        RUSHMERE | {"nutrients_so_far": {"N": "1 lb/1000 sq ft", "P2O5": "0 g/m2"}}
    )

    assert [name.value for name in rules.nutrient_rules.so_far] == ["N", "P2O5"]
    assert "nutrients_so_far.Fe" in faults(RUSHMERE | {"nutrients_so_far": {"Fe": "1 g/m2"}})
