"""When the window of a round is open, and when nobody knows."""

from datetime import date, timedelta

import pytest

from planner.core.season.degree_days import Scale
from planner.core.season.openings import (
    DegreeDayTrigger,
    Opening,
    SoilTrigger,
    State,
    opening_of,
)
from planner.core.season.readings import Reading, SoilRule
from planner.core.season.windows import Window

APRIL = Window(date(2026, 4, 1), date(2026, 4, 20))
FIRST = date(2026, 3, 1)
WARM = SoilTrigger(SoilRule(10.0, 3), FIRST)
COOL = SoilTrigger(SoilRule(20.0, 2, is_falling=True), FIRST)
#: Each day of these tests has 5 °C day, so it opens on the 10th day and is over on the 20th.
DEGREES = DegreeDayTrigger(Scale(10.0), FIRST, first=50.0, last=95.0)


def _soil(*read: float | None) -> list[Reading]:
    days = [(FIRST + timedelta(days=n), soil) for n, soil in enumerate(read)]
    return [Reading(day, soil_c=soil) for day, soil in days if soil is not None]


def _air(days: int, *, without: tuple[int, ...] = ()) -> list[Reading]:
    return [
        Reading(FIRST + timedelta(days=n), 20.0, 10.0) for n in range(days) if n + 1 not in without
    ]


def _on(readings: list[Reading], trigger: SoilTrigger | DegreeDayTrigger, day: date) -> Opening:
    return opening_of(APRIL, trigger, readings, on=day)


@pytest.mark.parametrize(
    ("day", "state"),
    [
        (date(2026, 3, 31), State.NOT_YET),
        (date(2026, 4, 1), State.OPEN),
        (date(2026, 4, 20), State.OPEN),
        (date(2026, 4, 21), State.OVER),
    ],
)
def test_dates_open_and_close_a_window(day: date, state: State) -> None:
    opening = opening_of(APRIL, None, [], on=day)

    assert (opening.state, opening.expected) == (state, APRIL)


def test_soil_must_keep_its_temperature_for_all_its_days() -> None:
    opening = _on(_soil(10, 11, 9, 10, 10, 10), WARM, date(2026, 3, 7))

    assert opening.state is State.OPEN
    # As long as its usual dates, from the third day in a row.
    assert opening.expected == Window(date(2026, 3, 6), date(2026, 3, 25))


def test_soil_that_has_not_kept_it_yet_says_for_how_long_it_has() -> None:
    opening = _on(_soil(12, 8, 10, 10), WARM, date(2026, 3, 5))

    assert opening.state is State.NOT_YET
    assert "for 2 days of 3 by March 4, 2026" in opening.words


def test_soil_can_fall_to_its_temperature() -> None:
    assert _on(_soil(24, 21, 20, 19), COOL, date(2026, 3, 5)).state is State.OPEN


def test_a_day_nobody_read_leaves_the_soil_unknown() -> None:
    opening = _on(_soil(10, None, 10, 8), WARM, date(2026, 3, 5))

    assert opening.state is State.UNKNOWN
    assert "nobody read the soil on March 2, 2026" in opening.words


def test_what_was_reached_after_a_gap_is_reached() -> None:
    assert _on(_soil(9, None, 10, 10, 11), WARM, date(2026, 3, 6)).state is State.OPEN


def test_a_window_is_over_as_long_after_its_opening_as_usual() -> None:
    assert _on(_soil(10, 10, 10), WARM, date(2026, 3, 23)).state is State.OVER


def test_degree_days_open_the_window_on_the_day_they_are_reached() -> None:
    opening = _on(_air(12), DEGREES, date(2026, 3, 13))

    assert opening.state is State.OPEN
    assert opening.expected.first == date(2026, 3, 10)


def test_degree_days_close_the_window_when_they_are_passed() -> None:
    opening = _on(_air(25), DEGREES, date(2026, 3, 26))

    assert opening.state is State.OVER
    assert opening.expected == Window(date(2026, 3, 10), date(2026, 3, 19))


def test_too_few_degree_days_so_far_is_not_yet() -> None:
    opening = _on(_air(4), DEGREES, date(2026, 3, 5))

    assert opening.state is State.NOT_YET
    assert opening.count is not None
    assert opening.count.total == 20


def test_a_gap_in_the_temperatures_is_unknown_and_never_zero() -> None:
    opening = _on(_air(12, without=(5,)), DEGREES, date(2026, 3, 13))

    assert opening.state is State.UNKNOWN
    assert "March 5, 2026" in opening.words
    assert opening.count is not None
    assert opening.count.known_until == date(2026, 3, 4)


def test_a_gap_after_the_opening_leaves_only_the_end_unknown() -> None:
    opening = _on(_air(30, without=(12,)), DEGREES, date(2026, 3, 31))

    assert opening.state is State.UNKNOWN
    assert opening.expected.first == date(2026, 3, 10)
    assert "not known whether they are over" in opening.words


def test_many_missing_days_are_not_all_listed() -> None:
    opening = _on(_air(20, without=(2, 3, 4, 6, 8, 10, 12, 13)), DEGREES, date(2026, 3, 21))

    assert "March 2, 2026 to March 4, 2026, March 6, 2026, " in opening.words
    assert "and on 2 days more" in opening.words


def test_readings_that_stopped_long_ago_tell_nothing_of_today() -> None:
    assert _on(_air(4), DEGREES, date(2026, 4, 15)).state is State.UNKNOWN
    assert _on(_air(12), DEGREES, date(2026, 4, 15)).state is State.UNKNOWN
    assert _on(_soil(8, 8), WARM, date(2026, 4, 15)).state is State.UNKNOWN


@pytest.mark.parametrize("trigger", [WARM, DEGREES])
def test_without_readings_the_usual_dates_stand_until_they_come(
    trigger: SoilTrigger | DegreeDayTrigger,
) -> None:
    assert _on([], trigger, date(2026, 3, 5)).state is State.NOT_YET
    assert _on([], trigger, date(2026, 4, 5)).state is State.UNKNOWN


def test_a_late_spring_moves_the_days_it_is_expected_on() -> None:
    read = [Reading(FIRST + timedelta(days=n), 10.0, 2.0) for n in range(45)]

    opening = _on(read, DEGREES, date(2026, 4, 15))

    assert opening.state is State.NOT_YET
    assert opening.expected == Window(date(2026, 4, 15), date(2026, 5, 4))


def test_half_a_reading_is_no_reading() -> None:
    half = [*_air(3), Reading(date(2026, 3, 4), high_c=20.0), *_air(12)[4:]]

    assert _on(half, DEGREES, date(2026, 3, 13)).state is State.UNKNOWN
