"""Windows of dates, with the days that a person could get wrong."""

from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.core.label.limits import MonthDay
from planner.core.season.windows import Window, day_of_every_year, window_in
from properties.core.errors import Refused

SPRING, SUMMER = MonthDay(3, 15), MonthDay(7, 1)
days_of_every_year = st.dates(date(2001, 1, 1), date(2001, 12, 31)).map(
    lambda day: MonthDay(day.month, day.day)
)


def test_a_window_has_its_first_and_its_last_day() -> None:
    window = window_in(2026, first=SPRING, last=SUMMER)

    assert (window.first, window.last) == (date(2026, 3, 15), date(2026, 7, 1))
    assert window.holds(date(2026, 3, 15))
    assert window.holds(date(2026, 7, 1))
    assert not window.holds(date(2026, 7, 2))


def test_a_day_is_read_from_its_month_and_day() -> None:
    assert day_of_every_year("03-15", field="from_day") == SPRING


def test_a_window_may_be_one_day() -> None:
    assert window_in(2026, first=SPRING, last=SPRING).days == 1


def test_a_window_that_ends_before_it_begins_is_asked_about() -> None:
    with pytest.raises(Refused, match="goes on into the next year") as refused:
        window_in(2026, first=SUMMER, last=SPRING)

    assert refused.value.field == "to_day"


def test_a_window_goes_over_the_new_year_where_somebody_says_so() -> None:
    window = window_in(2026, first=MonthDay(11, 20), last=MonthDay(1, 10), over_new_year=True)

    assert (window.first, window.last) == (date(2026, 11, 20), date(2027, 1, 10))


def test_a_window_longer_than_a_year_is_refused() -> None:
    with pytest.raises(Refused, match="longer than a year") as refused:
        window_in(2026, first=SPRING, last=SUMMER, over_new_year=True)

    assert refused.value.field == "over_new_year"


@pytest.mark.parametrize("text", ["", "3-15", "13-01", "04-31", "W01-1", "ab-cd", "2026-03-01"])
def test_what_is_no_day_of_the_year_is_refused(text: str) -> None:
    with pytest.raises(Refused, match="no day of the year"):
        day_of_every_year(text, field="from_day")


def test_the_leap_day_is_no_end_of_a_window() -> None:
    with pytest.raises(Refused, match="February 28 or March 1"):
        day_of_every_year("02-29", field="to_day")


@given(first=days_of_every_year, last=days_of_every_year, year=st.integers(2000, 2199))
def test_of_two_days_one_way_round_makes_a_window_of_a_year_at_most(
    first: MonthDay, last: MonthDay, year: int
) -> None:
    made = []
    for over in (False, True):
        try:
            made.append(window_in(year, first=first, last=last, over_new_year=over))
        except Refused:
            continue

    assert len(made) == 1
    assert isinstance(made[0], Window)
    assert 1 <= made[0].days <= 366
