"""How numbers are written on a page."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from properties.core.showing import (
    shown,
    shown_area,
    shown_length,
    shown_number,
    steps_that_add_up,
)
from properties.core.units import Quantity


@pytest.mark.parametrize(
    ("value", "written"),
    [
        (15147.66, "15,148"),
        (999.96, "1000"),
        (120.04, "120"),
        (10.754, "10.75"),
        (3.4, "3.4"),
        (0.71, "0.71"),
        (0.0123, "0.0123"),
        (0.0, "0"),
        (-241.4, "-241.4"),
    ],
)
def test_a_number_keeps_its_telling_digits(value: float, written: str) -> None:
    assert shown_number(value) == written


@given(st.floats(min_value=0.1, max_value=1e9))
def test_a_written_number_is_within_half_a_percent(value: float) -> None:
    assert float(shown_number(value).replace(",", "")) == pytest.approx(value, rel=5e-3)


def test_a_unit_is_spelled_for_a_reader() -> None:
    assert shown(Quantity(0.8, "fl oz/1000 sq ft")) == "0.8 fl oz/1,000 sq ft"
    assert shown(Quantity(20.0, "g/m2")) == "20 g/m²"
    assert shown(Quantity(5.0, "deg")) == "5°"
    assert shown(Quantity(85.0, "deg F")) == "85 °F"
    assert shown(Quantity(0.000163807, "deg")) == "0°"


def test_areas_and_lengths_are_written_in_the_readers_units() -> None:
    # 1 sq ft = 0.09290304 m², 1 ft = 0.3048 m: NIST Handbook 44, Appendix C.
    assert shown_area(929.0304, "us") == "10,000 sq ft"
    assert shown_area(929.0304, "metric") == "929.0 m²"
    assert shown_area(12345.6, "metric") == "12,346 m²"
    assert shown(Quantity(241.4, "sq ft")) == "241 sq ft"
    assert shown(Quantity(0.4, "sq ft")) == "0.4 sq ft"
    assert shown_length(7.62, "us") == "25.0 ft"
    assert shown_length(7.62, "metric") == "7.6 m"


@given(
    parts=st.lists(st.floats(0, 1e6), min_size=1, max_size=9),
    per_unit=st.sampled_from([1, 10, 100]),
)
def test_rounded_parts_add_up_to_the_rounded_whole_and_none_is_a_step_off(
    parts: list[float], per_unit: int
) -> None:
    whole = math.fsum(parts)

    steps = steps_that_add_up(parts, whole, per_unit=per_unit)

    assert sum(steps) == round(whole * per_unit)
    # A thousandth of a step is far more than floats of a million lose.
    assert all(
        abs(count - part * per_unit) < 1.001 for count, part in zip(steps, parts, strict=True)
    )


def test_the_two_grounds_of_a_lot_add_up_as_they_are_read() -> None:
    # Each alone would be read as 10,538 and 772, which is one less than their sum.
    assert steps_that_add_up([10_538.44, 772.42], 11_310.86, per_unit=1) == (10_539, 772)
