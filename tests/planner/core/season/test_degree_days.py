"""Degree days against published worked examples, and what no formula may do."""

from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.core.season.degree_days import Formula, Scale, degree_days_of
from planner.core.season.readings import Reading, counted
from properties.core.errors import Refused
from properties.core.units import Quantity

AVERAGING = Scale(Quantity(50, "deg F").si)
MODIFIED = Scale(Quantity(50, "deg F").si, Formula.MODIFIED, Quantity(86, "deg F").si)

# Highest and lowest of a day and its degree days, all in °F with a base of 50 °F.
PUBLISHED_AVERAGING = [
    # Virginia Tech, Crop and Soil Environmental News, January 2007 (crabgrass), as told by
    # University of Delaware, Kent County Extension, March 17, 2008.
    (75, 27, 1),
    # Iowa State University, Agronomy 541, lesson 2b.
    (70, 50, 10),
]
PUBLISHED_MODIFIED = [
    # Ohio State University Extension, June 12, 2023, after the Ohio Agronomy Guide.
    (87, 63, 24.5),
    # Iowa State University, Agronomy 541, lesson 2b: 36 is the most that a day can have.
    (100, 90, 36),
    # Waushara Argus, Calculating growing degree days, April 25, 2018: three days, 43 together.
    (90, 65, 25.5),
    (72, 46, 11),
    (63, 42, 6.5),
]


def _of_a_day(high: float, low: float, scale: Scale) -> float:
    high_c, low_c = Quantity(high, "deg F").si, Quantity(low, "deg F").si
    return degree_days_of(high_c=high_c, low_c=low_c, scale=scale) * 9 / 5


@pytest.mark.parametrize(("high", "low", "published"), PUBLISHED_AVERAGING)
def test_the_mean_less_the_base_is_as_published(high: float, low: float, published: float) -> None:
    assert _of_a_day(high, low, AVERAGING) == pytest.approx(published, abs=1e-9)


@pytest.mark.parametrize(("high", "low", "published"), PUBLISHED_MODIFIED)
def test_the_modified_formula_is_as_published(high: float, low: float, published: float) -> None:
    assert _of_a_day(high, low, MODIFIED) == pytest.approx(published, abs=1e-9)


def test_three_published_days_add_up() -> None:
    first = date(2018, 4, 25)
    days = [
        Reading(first + timedelta(days=n), Quantity(high, "deg F").si, Quantity(low, "deg F").si)
        for n, (high, low, _) in enumerate(PUBLISHED_MODIFIED[-3:])
    ]

    count = counted(days, scale=MODIFIED, since=first, until=date(2018, 12, 31))

    # Waushara Argus, as above: 43 degree days.
    assert count.total * 9 / 5 == pytest.approx(43, abs=1e-9)
    assert (count.known_until, count.missing) == (date(2018, 4, 27), ())


def test_a_cold_day_takes_nothing_away() -> None:
    # Midwestern Regional Climate Center, Growing Degree Days: zero at or below the base.
    assert _of_a_day(50, 28, AVERAGING) == 0


def test_the_highest_cannot_be_below_the_lowest() -> None:
    with pytest.raises(Refused, match="Exchange the two"):
        degree_days_of(high_c=5, low_c=6, scale=AVERAGING)


def test_the_modified_formula_asks_for_its_upper_temperature() -> None:
    with pytest.raises(Refused, match="upper temperature too"):
        Scale(10, Formula.MODIFIED).check()


def test_the_upper_temperature_is_above_the_base() -> None:
    with pytest.raises(Refused, match="not above the base"):
        Scale(10, Formula.MODIFIED, 10).check()


temperatures_c = st.integers(-400, 500).map(lambda tenths: tenths / 10)


@given(
    ends=st.tuples(temperatures_c, temperatures_c).map(sorted),
    base_c=st.integers(-50, 200).map(lambda tenths: tenths / 10),
    above=st.integers(1, 300).map(lambda tenths: tenths / 10),
)
def test_a_day_has_no_less_than_nothing_and_no_more_than_from_base_to_cut_off(
    ends: list[float], base_c: float, above: float
) -> None:
    low_c, high_c = ends
    scale = Scale(base_c, Formula.MODIFIED, base_c + above)

    cut = degree_days_of(high_c=high_c, low_c=low_c, scale=scale)
    plain = degree_days_of(high_c=high_c, low_c=low_c, scale=Scale(base_c))

    assert 0 <= cut <= above * (1 + 1e-9)
    if base_c <= low_c and high_c <= base_c + above:
        # Where nothing is cut off the two formulas are the same.
        assert cut == pytest.approx(plain, abs=1e-9)


@given(cold=st.lists(temperatures_c, min_size=1, max_size=40))
def test_a_later_day_never_has_fewer_degree_days_in_all(cold: list[float]) -> None:
    first = date(2026, 2, 1)
    days = [Reading(first + timedelta(days=n), low + 8, low) for n, low in enumerate(cold)]

    totals = [
        day.total
        for day in counted(
            days, scale=AVERAGING, since=first, until=first + timedelta(days=60)
        ).days
    ]

    assert len(totals) == len(cold)
    assert totals == sorted(totals)
