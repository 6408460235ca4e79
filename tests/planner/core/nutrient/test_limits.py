"""Limits on nutrients: what holds, what is lifted, what may still go down."""

from datetime import date
from typing import Any

import pytest

from planner.core.nutrient.limits import (
    Checked,
    NutrientLimit,
    NutrientRules,
    Per,
    SoilTest,
    checked_limits,
    most_product,
)
from planner.core.nutrient.nutrients import Fertilizer, Grade, Nutrient, added_nutrients
from properties.core.units import Quantity

FEED = Fertilizer(Grade(18, 3, 9), slow_release=Quantity(40, "%"))
DAY = date(2026, 9, 10)
SOURCE = "Invented council"


def limit(
    nutrient: Nutrient, at_most: str, per: Per = Per.APPLICATION, **more: Any
) -> NutrientLimit:
    value, unit = at_most.split(" ", 1)
    return NutrientLimit(nutrient, per, Quantity(float(value), unit), SOURCE, **more)


def checked(rules: NutrientRules, g_per_m2: float) -> tuple[Checked, ...]:
    return checked_limits(rules, added_nutrients([(g_per_m2 / 1000, FEED)]))


# Maryland Code, Agriculture, section 8-803.5: 0.9 lb of N and 0.7 lb of it soluble per
# 1,000 sq ft and application. 5 lb of an 18-0-0 with 40 % slow are 0.9 and 0.54.
@pytest.mark.parametrize(
    ("lb", "slow", "verdicts"), [(5.0, 40, [True, True]), (5.01, 40, [False, True]),
                                 (5.0, 10, [True, False])]
)  # fmt: skip
def test_the_limits_of_a_state_are_kept_to_the_last_digit(
    lb: float, slow: float, verdicts: list[bool]
) -> None:
    feed = Fertilizer(Grade(18, 0, 0), slow_release=Quantity(slow, "%"))
    rules = NutrientRules(
        (
            limit(Nutrient.N, "0.9 lb/1000 sq ft"),
            limit(Nutrient.SOLUBLE_N, "0.7 lb/1000 sq ft"),
        )
    )

    found = checked_limits(rules, added_nutrients([(Quantity(lb, "lb/1000 sq ft").si, feed)]))

    assert [each.allowed for each in found] == verdicts


def test_a_limit_per_year_counts_what_the_ground_has_had() -> None:
    yearly = limit(Nutrient.N, "12 g/m2", Per.YEAR)
    rules = NutrientRules((yearly,), {Nutrient.N: Quantity(8.5, "g/m2")})

    (each,) = checked(rules, 20)

    assert each.total == pytest.approx(0.0121)
    assert each.allowed is False
    assert each.room == pytest.approx(0.0035)


def test_what_the_ground_has_had_is_unknown_and_not_zero() -> None:
    (each,) = checked(NutrientRules((limit(Nutrient.N, "12 g/m2", Per.YEAR),)), 20)

    assert each.allowed is None
    assert each.room is None


def test_phosphate_so_far_counts_as_phosphorus_too() -> None:
    yearly = limit(Nutrient.P, "0.5 g/m2", Per.YEAR)

    (each,) = checked(NutrientRules((yearly,), {Nutrient.P2O5: Quantity(0.5, "g/m2")}), 20)

    # 0.5 × 0.4364 so far, and 20 × 3 % × 0.4364 now.
    assert each.total == pytest.approx(0.4364e-3 * (0.5 + 0.6), rel=1e-3)


NO_P = limit(Nutrient.P2O5, "0 g/m2", unless_soil_test=True)


@pytest.mark.parametrize(
    ("valid_until", "on", "allowed"),
    [
        (date(2026, 9, 10), DAY, True),
        (date(2026, 9, 9), DAY, False),
        (date(2028, 2, 29), None, False),
    ],
)
def test_phosphorus_needs_a_soil_test_that_is_valid_on_the_day(
    valid_until: date, on: date | None, allowed: bool
) -> None:
    test = SoilTest(date(2025, 3, 14), valid_until)

    (each,) = checked(NutrientRules((NO_P,), soil_test=test, on=on), 20)

    assert each.allowed is allowed


def test_a_limit_on_what_is_not_put_down_speaks_against_nothing() -> None:
    nothing = checked_limits(NutrientRules((NO_P,)), added_nutrients([]))

    assert nothing[0].allowed is True


@pytest.mark.parametrize(
    ("first", "last", "holds"),
    [
        (None, None, True),
        (DAY, DAY, True),
        (date(2026, 9, 11), None, False),
        (None, date(2026, 9, 9), False),
    ],
)
def test_a_limit_holds_on_its_days(first: date | None, last: date | None, holds: bool) -> None:
    dated = limit(Nutrient.N, "4 g/m2", first_day=first, last_day=last)

    assert bool(NutrientRules((dated,), on=DAY).holding) is holds
    assert bool(NutrientRules((dated,)).holding) is not dated.is_dated


def test_the_least_room_decides_how_much_product_may_go_down() -> None:
    rules = NutrientRules(
        (
            limit(Nutrient.N, "4.4 g/m2"),
            limit(Nutrient.SOLUBLE_N, "2.2 g/m2"),
            limit(Nutrient.N, "12 g/m2", Per.YEAR),
            limit(Nutrient.K2O, "3 g/m2", Per.YEAR),
            NO_P,
        ),
        {Nutrient.N: Quantity(7.8, "g/m2")},
        SoilTest(date(2025, 3, 14), date(2028, 3, 13)),
        DAY,
    )

    # 2.2 / 0.108 g/m² is less than 4.4 / 0.18 and 4.2 / 0.18; nobody knows about potash.
    assert most_product(checked(rules, 0), [FEED]) == pytest.approx(0.0022 / 0.108)
    assert most_product(checked(rules, 0), [FEED, FEED]) is None
    assert most_product((), [FEED]) is None


def test_a_limit_names_its_place() -> None:
    assert limit(Nutrient.N, "4 g/m2").origin == SOURCE
    assert limit(Nutrient.N, "4 g/m2", place="Mere").origin == "Invented council (Mere)"


@pytest.mark.parametrize(
    ("lb", "slow", "allowed"),
    [(0.9, 20, True), (0.9, 19, False), (0.7, 0, True), (0.71, None, None), (0.7, None, True)],
)
def test_more_nitrogen_at_once_only_with_enough_slow_release(
    lb: float, slow: float | None, allowed: bool | None
) -> None:
    # Maryland Code, Agriculture, section 8-803.5: 0.9 lb of N at once, at least a fifth of it
    # slow release, and 0.7 lb of it soluble at most.
    told = None if slow is None else Quantity(slow, "%")
    feed = Fertilizer(Grade(20, 0, 0), slow_release=told)
    rule = limit(Nutrient.N, "0.7 lb/1000 sq ft", least_slow_release=Quantity(20, "%"))
    rate = Quantity(lb / 0.2, "lb/1000 sq ft").si

    (each,) = checked_limits(NutrientRules((rule,)), added_nutrients([(rate, feed)]))

    assert each.allowed is allowed
    assert each.lifted_by_slow_release is (slow == 20)


@pytest.mark.parametrize(
    ("per", "earlier", "counts"),
    [
        (Per.YEAR, date(2026, 1, 1), True),
        (Per.YEAR, date(2025, 12, 31), False),
        (Per.MONTH, date(2026, 9, 1), True),
        (Per.MONTH, date(2026, 8, 31), False),
        (Per.THIRTY_DAYS, date(2026, 8, 12), True),
        (Per.THIRTY_DAYS, date(2026, 8, 11), False),
        (Per.APPLICATION, DAY, False),
    ],
)
def test_what_was_put_down_counts_within_its_time(per: Per, earlier: date, counts: bool) -> None:
    assert per.counts(earlier, on=DAY) is counts
    assert per.counts(DAY, on=earlier) is counts


@pytest.mark.parametrize(
    ("per", "on", "so_far"),
    [
        (Per.MONTH, DAY, 0.0),
        (Per.THIRTY_DAYS, DAY, 0.0),
        (Per.THIRTY_DAYS, date(2026, 1, 29), None),
        (Per.MONTH, None, None),
        (Per.APPLICATION, None, 0.0),
    ],
)
def test_a_year_without_any_has_no_month_with_some(
    per: Per, on: date | None, so_far: float | None
) -> None:
    rules = NutrientRules(so_far={Nutrient.N: Quantity(0, "g/m2")}, on=on)

    assert rules.so_far_of(Nutrient.N, per) == so_far
    assert rules.so_far_of(Nutrient.K2O, per) == (0.0 if per is Per.APPLICATION else None)
