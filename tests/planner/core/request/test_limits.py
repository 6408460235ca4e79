"""What a label allows on one piece of ground, as it is told, and every slip in its place."""

from typing import Any

import pytest

from planner.core.label.labels import Label
from planner.core.label.limits import ActiveIngredient, MonthDay, UseLimits, Year, YearKind
from planner.core.request import read_request
from properties.core.units import Quantity
from tests.planner.core.asking import HERBICIDE, Json, asking
from tests.planner.core.request.test_whole import faults_of

LIMITS: Json = {
    "per_application": "1.5 fl oz/1000 sq ft",
    "per_year": "3.4 fl oz/1000 sq ft",
    "year": "season",
    "season_from": "03-01",
    "uses_per_year": 3,
    "interval": "30 days",
}
INGREDIENT: Json = {
    "name": "invented-A",
    "content": "4 lb/gal",
    "per_application": "0.5 lb/acre",
    "per_year": "1.0 lb/acre",
}


def with_label(**members: Any) -> Json:
    label = HERBICIDE["label"] | members
    return asking(mix=[HERBICIDE | {"label": label}], on="2026-07-06")


def label_of(**members: Any) -> Label:
    return read_request(with_label(**members)).products[0].label


def test_the_limits_of_a_label_are_read_as_they_were_written() -> None:
    limits = label_of(limits=LIMITS).limits

    assert limits == UseLimits(
        Quantity(1.5, "fl oz/1000 sq ft"),
        Quantity(3.4, "fl oz/1000 sq ft"),
        Year(YearKind.SEASON, MonthDay(3, 1)),
        uses_per_year=3,
        interval_days=30,
    )


def test_an_interval_may_be_told_in_hours_that_make_whole_days() -> None:
    assert label_of(limits={"interval": "72 h"}).limits.interval_days == 3


def test_what_nobody_copied_is_unknown() -> None:
    label = label_of()

    assert label.limits == UseLimits()
    assert not label.limits.needs_history
    assert label.active_ingredients is None
    assert (label.seeding.after_days, label.seeding.before_days) == (None, None)


def test_an_ingredient_is_read_with_its_limits_in_the_year_of_the_label() -> None:
    label = label_of(limits={"year": "rolling"}, active_ingredients=[INGREDIENT])

    assert label.active_ingredients == (
        ActiveIngredient(
            "invented-A",
            Quantity(4, "lb/gal"),
            UseLimits(Quantity(0.5, "lb/acre"), Quantity(1.0, "lb/acre"), Year(YearKind.ROLLING)),
        ),
    )


def test_an_ingredient_may_have_a_year_of_its_own() -> None:
    label = label_of(
        limits={"year": "rolling"}, active_ingredients=[INGREDIENT | {"year": "calendar"}]
    )

    assert label.active_ingredients is not None
    assert label.active_ingredients[0].limits.year.kind is YearKind.CALENDAR


def test_a_label_may_say_that_nothing_in_it_is_limited() -> None:
    assert label_of(active_ingredients=[]).active_ingredients == ()


def test_a_share_of_the_weight_of_a_liquid_needs_its_density() -> None:
    by_weight = INGREDIENT | {"content": "43.7 %"}

    faults = faults_of(with_label(active_ingredients=[by_weight]))
    assert set(faults) == {"mix[0].label.active_ingredients[0].content"}
    assert "Add what the product weighs" in faults["mix[0].label.active_ingredients[0].content"]

    label = label_of(active_ingredients=[by_weight], density="9.2 lb/gal")
    assert label.density == Quantity(9.2, "lb/gal")


def test_the_days_round_sowing_are_read() -> None:
    seeding = label_of(seeding={"after": "60 days", "before": "21 days"}).seeding

    assert (seeding.after_days, seeding.before_days) == (60, 21)


@pytest.mark.parametrize(
    ("limits", "member", "words"),
    [
        ({"per_year": "3.4 oz wt/1000 sq ft"}, "per_year", "cannot be compared with the rate"),
        ({"per_year": "3.4 fl oz"}, "per_year", "not a volume per area"),
        ({"per_year": "0 fl oz/1000 sq ft"}, "per_year", "is not above zero"),
        ({"year": "fiscal"}, "year", "calendar, rolling, season"),
        ({"year": "season"}, "season_from", "Write the day the season begins"),
        ({"season_from": "03-01"}, "season_from", "Only a season begins on a day"),
        ({"year": "season", "season_from": "02-29"}, "season_from", "Write 02-28 or 03-01"),
        ({"year": "season", "season_from": "13-01"}, "season_from", "not a day of the year"),
        ({"year": "season", "season_from": 301}, "season_from", "not a day of the year"),
        ({"uses_per_year": 0}, "uses_per_year", "a whole number from 1 to"),
        ({"uses_per_year": True}, "uses_per_year", "a whole number from 1 to"),
        ({"uses_per_year": 2.5}, "uses_per_year", "a whole number from 1 to"),
        ({"interval": "36 h"}, "interval", "is not a number of whole days"),
        ({"interval": "30 ft"}, "interval", "not a time"),
        ({"interval": "-1 day"}, "interval", "is below zero"),
        ({"interval": 30}, "interval", "has no unit"),
        ({"yearly": "3 fl oz/acre"}, "yearly", "not part of a plan request"),
    ],
)
def test_a_slip_in_the_limits_is_told_at_its_member(limits: Json, member: str, words: str) -> None:
    faults = faults_of(with_label(limits=limits))

    assert set(faults) == {f"mix[0].label.limits.{member}"}
    assert words in faults[f"mix[0].label.limits.{member}"]


@pytest.mark.parametrize(
    ("change", "member", "words"),
    [
        ({"content": "4 gal"}, ".content", "not a weight per volume"),
        ({"content": "101 %"}, ".content", "cannot be right"),
        ({"per_year": "1 fl oz/acre"}, ".per_year", "not a weight per area"),
        ({"name": ""}, ".name", "not a name"),
        ({"share": "4 %"}, ".share", "not part of a plan request"),
    ],
)
def test_a_slip_in_an_ingredient_is_told_at_its_member(
    change: Json, member: str, words: str
) -> None:
    path = f"mix[0].label.active_ingredients[0]{member}"

    faults = faults_of(with_label(active_ingredients=[INGREDIENT | change]))

    assert set(faults) == {path}
    assert words in faults[path]


def test_an_ingredient_needs_a_name_and_a_content() -> None:
    faults = faults_of(with_label(active_ingredients=[{}, 7]))

    path = "mix[0].label.active_ingredients"
    assert set(faults) == {f"{path}[0].name", f"{path}[0].content", f"{path}[1]"}


def test_an_ingredient_is_there_once() -> None:
    twice = [INGREDIENT, INGREDIENT | {"name": "INVENTED-A"}]

    faults = faults_of(with_label(active_ingredients=twice))

    assert set(faults) == {"mix[0].label.active_ingredients[1].name"}


def test_ingredients_are_not_more_than_the_product() -> None:
    def parts(*shares: str) -> Json:
        told = [
            {"name": f"invented-{number}", "content": share} for number, share in enumerate(shares)
        ]
        return with_label(active_ingredients=told, density="9.2 lb/gal")

    faults = faults_of(parts("70 %", "40 %"))

    second = "mix[0].label.active_ingredients[1].content"
    assert set(faults) == {second}
    assert "1.1 times the weight of the product" in faults[second]
    assert len(read_request(parts("60 %", "40 %")).products) == 1


def test_limits_are_read_even_where_the_rate_cannot_be() -> None:
    label = {"limits": LIMITS | {"interval": "x"}, "active_ingredients": [INGREDIENT]}

    faults = faults_of(asking(mix=[{"name": "A", "rate": "1 oz/acre", "label": label}]))

    assert set(faults) == {"mix[0].rate", "mix[0].label.limits.interval"}


def test_a_day_that_the_year_does_not_have_says_so() -> None:
    assert "2026 has no February 29" in faults_of(asking(on="2026-02-29"))["on"]
    assert "not a day" in faults_of(asking(on="2026-02-30"))["on"]
    assert str(read_request(asking(on="2028-02-29")).on) == "2028-02-29"
