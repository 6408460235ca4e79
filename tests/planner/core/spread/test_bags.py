"""Whole bags, and fillings of a hopper."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.core.spread.bags import bags_for, fillings_for
from properties.core.units import Quantity

weights_kg = st.one_of(st.just(0.0), st.floats(min_value=1e-3, max_value=5000))
sizes_kg = st.floats(min_value=0.5, max_value=50)


# Turfgrass Mathematics Review/Practice Worksheet for Certified Turfgrass Professional Testing
# (university turf Extension): 7,056.7 lb in bags of 50 lb are 142 bags.
def test_bags_are_rounded_up_as_published() -> None:
    bags = bags_for(kg=Quantity(7056.72, "lb").si, bag=Quantity(50, "lb"))

    assert bags.count == 142
    assert Quantity(1, "lb").si * (142 * 50 - 7056.72) == pytest.approx(bags.left_over_kg)


@given(kg=weights_kg, bag_kg=sizes_kg)
def test_bags_are_enough_and_never_one_too_many(kg: float, bag_kg: float) -> None:
    bags = bags_for(kg=kg, bag=Quantity(bag_kg, "kg"))

    assert bags.count * bag_kg >= kg * (1 - 1e-8)
    assert (bags.count - 1) * bag_kg < kg or bags.count == 0
    assert bags.left_over_kg == pytest.approx(max(0, bags.count * bag_kg - kg))


@given(bags=st.integers(1, 500), bag_kg=sizes_kg)
def test_whole_bags_take_no_bag_more(bags: int, bag_kg: float) -> None:
    assert bags_for(kg=bags * bag_kg, bag=Quantity(bag_kg, "kg")).count == bags


@given(kg=weights_kg, hopper_kg=sizes_kg)
def test_fillings_hold_the_whole_pass(kg: float, hopper_kg: float) -> None:
    fillings = fillings_for(kg=kg, hopper=Quantity(hopper_kg, "kg"))

    whole = max(0, fillings.count - 1) * fillings.full_kg + fillings.last_kg
    assert whole == pytest.approx(kg)
    assert fillings.last_kg <= hopper_kg * (1 + 1e-6)
