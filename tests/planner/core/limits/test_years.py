"""The year of a yearly limit, and the days that most years do not have."""

from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.core.label.limits import MonthDay, UseLimits, Year, YearKind, a_year_after
from planner.core.past import Blackout
from properties.core.units import Quantity

CALENDAR = Year()
ROLLING = Year(YearKind.ROLLING)
SEASON = Year(YearKind.SEASON, MonthDay(3, 1))
YEARS = st.sampled_from([CALENDAR, ROLLING, SEASON, Year(YearKind.SEASON, MonthDay(12, 31))])
DAYS = st.dates(date(2000, 1, 1), date(2060, 12, 31))


@pytest.mark.parametrize(
    ("year", "applied_on", "released_on"),
    [
        (CALENDAR, date(2026, 1, 1), date(2027, 1, 1)),
        (CALENDAR, date(2026, 12, 31), date(2027, 1, 1)),
        (ROLLING, date(2026, 7, 6), date(2027, 7, 6)),
        # The later of the two days that could be meant.
        (ROLLING, date(2028, 2, 29), date(2029, 3, 1)),
        (ROLLING, date(2027, 2, 28), date(2028, 2, 28)),
        (SEASON, date(2026, 2, 28), date(2026, 3, 1)),
        (SEASON, date(2026, 3, 1), date(2027, 3, 1)),
        (SEASON, date(2028, 2, 29), date(2028, 3, 1)),
    ],
)
def test_an_application_counts_until_its_year_is_over(
    year: Year, applied_on: date, released_on: date
) -> None:
    assert year.released_on(applied_on) == released_on
    assert year.counts(applied_on, on=released_on - timedelta(days=1))
    assert not year.counts(applied_on, on=released_on)


@pytest.mark.parametrize(
    ("year", "on", "first"),
    [
        (CALENDAR, date(2026, 7, 6), date(2026, 1, 1)),
        (ROLLING, date(2026, 7, 6), date(2025, 7, 5)),
        (SEASON, date(2026, 7, 6), date(2026, 3, 1)),
        (SEASON, date(2026, 3, 1), date(2026, 3, 1)),
        (SEASON, date(2026, 2, 28), date(2025, 3, 1)),
    ],
)
def test_a_year_begins_on_its_first_day(year: Year, on: date, first: date) -> None:
    assert year.first_day(on) == first


@given(year=YEARS, applied_on=DAYS, days=st.integers(0, 800))
def test_nothing_before_the_first_day_counts(year: Year, applied_on: date, days: int) -> None:
    on = applied_on + timedelta(days=days)

    if year.counts(applied_on, on=on):
        assert applied_on >= year.first_day(on)


def test_a_limit_looks_back_to_its_year_and_its_interval() -> None:
    unit = "fl oz/1000 sq ft"
    on = date(2026, 1, 10)

    assert UseLimits(per_application=Quantity(1, unit)).looks_back_to(on) == on
    assert UseLimits(uses_per_year=2).looks_back_to(on) == date(2026, 1, 1)
    assert UseLimits(per_year=Quantity(1, unit), interval_days=30).looks_back_to(on) == date(
        2025, 12, 12
    )


def test_an_application_does_not_count_before_it_is_made() -> None:
    assert not CALENDAR.counts(date(2026, 7, 7), on=date(2026, 7, 6))
    assert CALENDAR.counts(date(2026, 7, 6), on=date(2026, 7, 6))


@given(year=YEARS, applied_on=DAYS)
def test_no_application_counts_longer_than_a_year_and_a_day(year: Year, applied_on: date) -> None:
    days = (year.released_on(applied_on) - applied_on).days

    # February 29 counts until March 1, which is 366 days.
    assert 1 <= days <= 366


@given(day=DAYS)
def test_twelve_months_end_on_the_same_day_but_for_one(day: date) -> None:
    after = a_year_after(day)

    if (day.month, day.day) == (2, 29):
        assert (after.month, after.day) == (3, 1)
    else:
        assert (after.month, after.day, after.year) == (day.month, day.day, day.year + 1)


@pytest.mark.parametrize(
    ("applied_on", "again_on"),
    [
        (date(2028, 1, 30), date(2028, 2, 29)),
        (date(2026, 1, 30), date(2026, 3, 1)),
        (date(2026, 6, 8), date(2026, 7, 8)),
    ],
)
def test_thirty_days_may_end_on_the_last_of_february(applied_on: date, again_on: date) -> None:
    assert UseLimits(interval_days=30).open_again_on(applied_on) == again_on


WINTER = Blackout(MonthDay(12, 1), MonthDay(3, 1), "invented rule", substance="N")
SUMMER = Blackout(MonthDay(6, 1), MonthDay(9, 30), "invented rule", product="F")


@pytest.mark.parametrize(
    ("rule", "day", "over"),
    [
        (WINTER, date(2026, 12, 1), date(2027, 3, 2)),
        (WINTER, date(2027, 3, 1), date(2027, 3, 2)),
        (WINTER, date(2028, 2, 29), date(2028, 3, 2)),
        (SUMMER, date(2026, 6, 1), date(2026, 10, 1)),
        (SUMMER, date(2026, 9, 30), date(2026, 10, 1)),
    ],
)
def test_both_ends_of_a_blackout_are_in_it(rule: Blackout, day: date, over: date) -> None:
    assert rule.holds_on(day)
    assert rule.over_after(day) == over
    assert not rule.holds_on(over)


@pytest.mark.parametrize(
    ("rule", "day"),
    [
        (WINTER, date(2026, 11, 30)),
        (WINTER, date(2026, 3, 2)),
        (SUMMER, date(2026, 5, 31)),
        (SUMMER, date(2026, 10, 1)),
    ],
)
def test_the_days_beside_a_blackout_are_open(rule: Blackout, day: date) -> None:
    assert not rule.holds_on(day)


@given(
    first=st.dates(date(2001, 1, 1), date(2001, 12, 31)),
    last=st.dates(date(2001, 1, 1), date(2001, 12, 31)),
)
def test_a_blackout_is_for_always_only_if_every_day_is_in_it(first: date, last: date) -> None:
    rule = Blackout(
        MonthDay(first.month, first.day), MonthDay(last.month, last.day), "x", product="F"
    )

    year = [date(2001, 1, 1) + timedelta(days=day) for day in range(365)]
    assert rule.is_always == all(rule.holds_on(day) for day in year)
