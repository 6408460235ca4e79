"""The units a plan is shown in, and numbers in sentences."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.core.shown import SHOWN, Shown, Units, in_unit, listed, said
from properties.core.units import Quantity, factor_to_si, parse_quantity

US, METRIC = SHOWN[Units.US], SHOWN[Units.METRIC]


@pytest.mark.parametrize(
    ("rate", "us", "metric"),
    [
        ("2 L/ha", "fl oz/1000 sq ft", "mL/100 m2"),
        ("2 lb/acre", "oz wt/1000 sq ft", "g/100 m2"),
        ("2 fl oz/5 gal", "fl oz/gal", "mL/L"),
        ("1 lb/100 gal", "oz wt/gal", "g/L"),
        ("0.25 %", "%", "%"),
    ],
)
def test_a_rate_is_shown_in_the_small_units_of_its_kind(rate: str, us: str, metric: str) -> None:
    asked = parse_quantity(rate)

    assert (US.rate_unit(asked), METRIC.rate_unit(asked)) == (us, metric)
    assert US.rate_of(asked, asked.si).si == pytest.approx(asked.si, rel=1e-12)


@pytest.mark.parametrize("shown", [US, METRIC], ids=["us", "metric"])
def test_the_counts_in_formulas_are_those_of_the_units(shown: Shown) -> None:
    # NIST Handbook 44, Appendix C: 128 fl oz in a gallon. A litre is 1,000 mL.
    assert shown.small_in_volume * factor_to_si(shown.liquid) == pytest.approx(
        factor_to_si(shown.spray), rel=1e-15
    )
    assert factor_to_si(shown.output) * shown.per_area * factor_to_si(shown.area) == pytest.approx(
        factor_to_si(shown.spray), rel=1e-15
    )


@pytest.mark.parametrize(
    ("value", "words"),
    [
        (10538.9, "10,539 gal"),
        (0.92644, "0.9264 gal"),
        (12.0, "12 gal"),
        (0.1, "0.1 gal"),
        (1300.0, "1,300 gal"),
        (0.0, "0 gal"),
        (-2.5, "-2.5 gal"),
        (0.000012345, "0.00001234 gal"),
    ],
)
def test_a_number_is_said_with_four_digits_and_no_zeros_behind(value: float, words: str) -> None:
    assert said(Quantity(value, "gal")) == words


@given(value=st.floats(1e-9, 1e9))
def test_what_is_said_is_within_half_of_its_last_digit(value: float) -> None:
    number = float(said(Quantity(value, "gal")).removesuffix(" gal").replace(",", ""))

    assert number == pytest.approx(value, rel=0.5e-3)


def test_a_quantity_in_its_own_unit_stays_as_it_was_typed() -> None:
    typed = parse_quantity("12 gal")

    assert in_unit(typed, "gal") is typed
    assert in_unit(typed, "L").value == pytest.approx(12 * 3.785411784, rel=1e-12)


def test_names_are_joined_with_commas_and_an_and() -> None:
    assert listed(["a"]) == "a"
    assert listed(["a", "b"]) == "a and b"
    assert listed(["a", "b", "c"]) == "a, b and c"


def test_a_list_of_very_many_names_ends_with_how_many_more() -> None:
    names = [f"bed {number}" for number in range(1, 10_001)]

    assert listed(names).startswith("bed 1, bed 2, bed 3")
    assert listed(names).endswith("bed 39 and 9,961 more")
    assert listed(names[:40]).endswith("bed 39 and bed 40")
