"""How finished spray is shared among fillings of the tanks."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.core.mix.loads import MOST_LOADS, tank_fills

litres = st.floats(min_value=0.01, max_value=5000)
tanks = st.lists(st.floats(min_value=20, max_value=1000), min_size=1, max_size=4)


def test_125_gallons_in_a_tank_of_50_are_two_full_loads_and_a_half() -> None:
    # Worked from the definitions: 62,500 sq ft at 2 gal/1,000 sq ft.
    fills = tank_fills(spray_l=125, tanks_l=[50])

    assert [fill.volume_l for fill in fills] == [50, 50, 25]
    assert [fill.filling for fill in fills] == [1, 2, 3]
    assert {fill.tank_name for fill in fills} == {"tank 1"}


def test_two_tanks_are_filled_in_turn_and_the_last_takes_the_rest() -> None:
    fills = tank_fills(spray_l=60, tanks_l=[25, 12])

    # 25 + 12 + 23 = 60.
    assert [(fill.number, fill.filling, fill.tank, fill.volume_l) for fill in fills] == [
        (1, 1, 1, 25),
        (2, 1, 2, 12),
        (3, 2, 1, 23),
    ]
    assert [fill.before_l for fill in fills] == [0, 25, 37]


def test_no_spray_needs_no_load() -> None:
    assert tank_fills(spray_l=0, tanks_l=[50]) == ()


def test_a_full_tank_leaves_no_load_of_rounding() -> None:
    fills = tank_fills(spray_l=100 * (1 + 1e-13), tanks_l=[50])

    assert len(fills) == 2


@pytest.mark.parametrize(("tanks_needed", "loads"), [(MOST_LOADS, MOST_LOADS), (500.5, 0)])
def test_five_hundred_loads_are_the_most(tanks_needed: float, loads: int) -> None:
    assert len(tank_fills(spray_l=tanks_needed * 2, tanks_l=[2])) == loads


@given(spray_l=litres, tanks_l=tanks)
def test_loads_hold_all_the_spray_and_no_more_than_their_tanks(
    spray_l: float, tanks_l: list[float]
) -> None:
    fills = tank_fills(spray_l=spray_l, tanks_l=tanks_l)

    assert math.fsum(fill.volume_l for fill in fills) == pytest.approx(spray_l, rel=1e-12)
    for fill in fills:
        assert 0 < fill.volume_l <= tanks_l[fill.tank - 1] * (1 + 1e-8)
    assert all(fill.volume_l == tanks_l[fill.tank - 1] for fill in fills[:-1])


@given(spray_l=litres, tanks_l=tanks, share=st.floats(min_value=0, max_value=0.9))
def test_what_stays_in_a_tank_is_filled_in_once_and_no_tank_is_ever_over_its_limit(
    spray_l: float, tanks_l: list[float], share: float
) -> None:
    stays_l = [share * tank_l for tank_l in tanks_l]

    fills = tank_fills(spray_l=spray_l, tanks_l=tanks_l, stays_l=stays_l)

    used = {fill.tank - 1 for fill in fills}
    if not fills:
        return
    filled_l = math.fsum(fill.volume_l for fill in fills)
    assert filled_l == pytest.approx(spray_l + math.fsum(stays_l[tank] for tank in used), rel=1e-9)
    for fill in fills:
        there_l = 0.0 if fill.filling == 1 else stays_l[fill.tank - 1]
        assert there_l + fill.volume_l <= tanks_l[fill.tank - 1] * (1 + 1e-8)
        assert (fill.stays_l > 0) == (fill.filling == 1 and stays_l[fill.tank - 1] > 0)


def test_a_tank_of_50_gallons_of_which_2_stay_sprays_48_a_time() -> None:
    fills = tank_fills(spray_l=125, tanks_l=[50], stays_l=[2])

    # 48 + 48 + 29 = 125; the first filling holds the 2 that stay.
    assert [fill.volume_l for fill in fills] == [50, 48, 29]
    assert [fill.before_l for fill in fills] == [0, 48, 96]
