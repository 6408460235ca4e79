"""What a piece of ground may still get of nitrogen, phosphate and potash, and when again."""

from datetime import date, timedelta
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.core.nutrient.limits import Per
from planner.core.nutrient_rooms import nutrient_rooms, over_on
from planner.core.place import place_of
from planner.core.report.place import nutrients_as_json
from planner.core.request.place import read_place_question
from planner.core.shown import SHOWN, Units
from tests.planner.core.feeding_park import had
from tests.planner.core.scenarios import RUSHMERE

METRIC = SHOWN[Units.METRIC]
Json = dict[str, Any]
SOURCE = {"source": "Invented council"}


def limit(nutrient: str, per: str, at_most: str, **more: Any) -> Json:
    return {"nutrient": nutrient, "per": per, "at_most": at_most} | SOURCE | more


def fed(grams: int, on: str, grade: str = "20-5-10") -> Json:
    told = {"grade": grade, "slow_release": "40 %"}
    return had(-100, 300, f"{grams} g/m2", on, fertilizer=told) | {"product": "Invented granules"}


def rooms(*limits: Json, on: str = "2026-06-20", **more: Any) -> dict[str, Json]:
    """The answers for the north-west of the park, by nutrient."""
    question = read_place_question(
        {"property": RUSHMERE["property"], "on": on, "nutrient_limits": list(limits)} | more
    )
    laid = place_of(question.drawing, question.past, on=question.on)
    (piece, *_) = laid.pieces
    found = nutrient_rooms(question.nutrient_rules, piece, question.past, on=question.on)
    return {each["nutrient"]: each for each in nutrients_as_json(found, METRIC)}


def test_a_year_is_told_nutrient_by_nutrient_even_without_a_limit() -> None:
    told = rooms(history=[fed(20, "2026-05-01"), fed(10, "2026-06-01"), fed(20, "2025-12-31")])

    # 30 g of 20-5-10 are 6, 1.5 and 3 g.
    for nutrient, grams in {"N": 6.0, "P2O5": 1.5, "K2O": 3.0}.items():
        assert told[nutrient]["had"]["value"] == pytest.approx(grams)
        assert told[nutrient]["open"]
        assert len(told[nutrient]["terms"]) == 2


@pytest.mark.parametrize(
    ("per", "had_g", "full_on"),
    [("year", 6.0, "2027-01-01"), ("month", 2.0, "2026-07-01"), ("30 days", 2.0, "2026-07-01")],
)
def test_each_time_counts_its_own_and_says_when_all_of_it_is_back(
    per: str, had_g: float, full_on: str
) -> None:
    history = [fed(20, "2026-05-01"), fed(10, "2026-06-01")]

    (row,) = rooms(limit("N", per, "12 g/m2"), history=history)["N"]["limits"]

    assert row["had"]["value"] == pytest.approx(had_g)
    assert row["room"]["value"] == pytest.approx(12 - had_g)
    assert row["full_on"] == full_on


@pytest.mark.parametrize(
    ("per", "open_on"), [("year", "2027-01-01"), ("month", "2026-07-01"), ("30 days", "2026-07-10")]
)
def test_what_leaves_nothing_closes_until_it_no_longer_counts(per: str, open_on: str) -> None:
    found = rooms(limit("N", per, "2 g/m2"), history=[fed(10, "2026-06-10")])

    assert not found["N"]["open"]
    assert found["N"]["open_on"] == open_on
    assert "Invented council" in found["N"]["reasons"][0]
    assert found["K2O"]["open"]


def test_it_opens_with_the_first_application_that_leaves_some_room() -> None:
    history = [fed(10, "2026-06-01"), fed(10, "2026-06-10")]

    found = rooms(limit("N", "30 days", "4 g/m2"), history=history)["N"]

    assert found["open_on"] == "2026-07-01"
    assert found["limits"][0]["full_on"] == "2026-07-10"


def test_a_limit_of_none_ends_with_its_last_day_or_never() -> None:
    never = limit("P", "application", "0 g/m2")
    summer = never | {"from": "2026-06-01", "to": "2026-09-30"}

    assert rooms(never, history=[])["P2O5"]["open_on"] is None
    assert rooms(summer, history=[])["P2O5"]["open_on"] == "2026-10-01"


def test_a_soil_test_opens_what_it_lifts() -> None:
    none = limit("P2O5", "application", "0 g/m2", unless="soil_test")
    test = {"taken": "2026-01-10", "valid_until": "2028-01-10"}

    found = rooms(none, history=[], soil_test=test)["P2O5"]

    assert found["open"]
    assert found["limits"][0]["lifted_by_soil_test"]


def test_slow_release_may_go_down_where_soluble_nitrogen_may_not() -> None:
    limits = (
        limit("soluble N", "year", "1.2 g/m2"),
        limit("N", "application", "0 g/m2", least_slow_release="50 %"),
    )

    found = rooms(*limits, history=[fed(10, "2026-06-10")])["N"]

    assert found["open"]
    # 10 g of 20 % with 40 % slow hold 1.2 g that are not.
    assert found["limits"][0]["room"]["value"] == pytest.approx(0.0, abs=1e-9)


def test_a_blackout_of_a_nutrient_closes_it() -> None:
    winter = {"from": "06-15", "to": "07-04", "substance": "nitrogen", "source": "Invented law"}

    found = rooms(history=[], blackouts=[winter])

    assert found["N"]["open_on"] == "2026-07-05"
    assert found["P2O5"]["open"]


@pytest.mark.parametrize(
    "past",
    [
        {},
        {"history": [], "history_since": "2026-06-02"},
        {"history": [had(-100, 300, "20 g/m2", "2026-06-10") | {"product": "Unknown"}]},
    ],
    ids=["nobody says", "known in part", "unknown product"],
)
def test_what_nobody_knows_is_not_nothing(past: Json) -> None:
    found = rooms(limit("N", "month", "4 g/m2"), **past)["N"]

    assert found["had"] is None
    assert found["limits"][0]["room"] is None
    assert found["open"]


days = st.dates(date(2023, 1, 1), date(2028, 12, 31))


@given(applied_on=days, per=st.sampled_from([Per.YEAR, Per.MONTH, Per.THIRTY_DAYS]))
def test_an_application_counts_until_the_day_that_is_told(applied_on: date, per: Per) -> None:
    again_on = over_on(per, applied_on)

    assert per.counts(applied_on, on=again_on - timedelta(days=1))
    assert not per.counts(applied_on, on=again_on)
    assert again_on > applied_on
