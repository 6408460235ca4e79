"""Rinsing: several small rinses leave less than one big one."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.core.day.filling import Leftover
from planner.core.day.rinsing import rinse_of, share_left
from planner.core.route import Rinsing
from properties.core.units import Quantity


def test_three_rinses_of_20_gallons_with_3_that_stay_leave_a_fifth_of_a_percent() -> None:
    # Worked by hand: (3 / 23)³ = 0.22 %.
    assert share_left(stays_l=3, rinse_l=20, count=3) == pytest.approx(0.0022, abs=5e-5)


@given(stays=st.floats(0.01, 50), water=st.floats(1, 500), count=st.integers(2, 6))
def test_the_same_water_in_more_rinses_leaves_less(stays: float, water: float, count: int) -> None:
    at_once = share_left(stays_l=stays, rinse_l=water, count=1)
    shared = share_left(stays_l=stays, rinse_l=water / count, count=count)

    assert shared < at_once


@given(stays=st.floats(0.01, 50), rinse=st.floats(1, 200), count=st.integers(1, 6))
def test_rinsing_by_hand_one_rinse_after_the_other_comes_to_the_same(
    stays: float, rinse: float, count: int
) -> None:
    product = 1.0
    for _ in range(count):
        product *= stays / (stays + rinse)

    assert share_left(stays_l=stays, rinse_l=rinse, count=count) == pytest.approx(
        product, rel=1e-12
    )


def test_what_is_rinsed_out_and_what_stays_are_all_there_was() -> None:
    rinse = rinse_of(Leftover(3.0, (6.0,)), Rinsing(2, Quantity(10, "L")), tank_l=100)

    assert rinse.rinsed_out[0] + 6.0 * rinse.stays == pytest.approx(6.0, rel=1e-12)
    assert rinse.water_l == 20


def test_a_tenth_of_the_tank_is_taken_where_nobody_tells() -> None:
    assert rinse_of(Leftover(3.0, ()), Rinsing(), tank_l=100).volume_l == pytest.approx(10)
