"""Money is exact, and rounds by rules that are published."""

from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.core.money import (
    CENT,
    Step,
    Way,
    cents,
    decimal_of,
    rounded,
    shared_out,
    tax_of,
)
from properties.core.errors import Refused

whole_cents = st.integers(-10_000_000, 10_000_000).map(lambda n: Decimal(n) * CENT)
amounts = st.decimals(min_value=-100_000, max_value=100_000, places=5)
rates = st.decimals(min_value=0, max_value=100, places=4)
weights = st.lists(st.decimals(min_value=0, max_value=10_000, places=3), min_size=1, max_size=12)

# N.D. Admin. Code 81-04.1-01-29: carried to the third decimal place; four or less goes down,
# more than four goes up. Amount, rate in %, tax; the thirds are 4, 5 and 4 with a 9 behind.
THIRD_PLACE = [
    pytest.param("1.08", "5.0", "0.05", id="0.0540: the third place is 4"),
    pytest.param("1.10", "5.0", "0.06", id="0.0550: the third place is 5"),
    pytest.param("1.098", "5.0", "0.05", id="0.0549: the third place is 4, whatever follows"),
]


@pytest.mark.parametrize(("amount", "rate", "tax"), THIRD_PLACE)
def test_tax_goes_up_where_the_third_place_is_above_four(amount: str, rate: str, tax: str) -> None:
    assert tax_of(Decimal(amount), rate_percent=Decimal(rate)) == Decimal(tax)


# Government of Canada, Budget 2012, "Rounding": what is paid where there are no cents, by the
# last digit of the amount with tax.
WITHOUT_CENTS = {"0": 0, "1": -1, "2": -2, "3": 2, "4": 1, "5": 0, "6": -1, "7": -2, "8": 2, "9": 1}


def test_what_is_rounded_away_leaves_nothing_without_a_sign() -> None:
    assert str(rounded(Decimal("-0.01"), to=Step.FIVE_CENTS, way=Way.HALF_UP)) == "0.00"


@given(amount=whole_cents.map(abs))
def test_five_cents_are_rounded_by_the_last_digit_as_published(amount: Decimal) -> None:
    change = Decimal(WITHOUT_CENTS[f"{amount:.2f}"[-1]]) / 100

    assert rounded(amount, to=Step.FIVE_CENTS, way=Way.HALF_UP) == amount + change


def test_a_coffee_and_a_sandwich_cost_what_the_published_example_says() -> None:
    # The same page: $1.83 and $2.86 at 5 % are $4.92, or $4.90 without cents.
    bare = Decimal("1.83") + Decimal("2.86")
    with_tax = bare + tax_of(bare, rate_percent=Decimal(5))

    assert with_tax == Decimal("4.92")
    assert rounded(with_tax, to=Step.FIVE_CENTS, way=Way.HALF_UP) == Decimal("4.90")


# HMRC internal manual VATREC12030: less than half a penny goes down, half a penny or more up.
@pytest.mark.parametrize(("amount", "tax"), [("0.02", "0.00"), ("0.025", "0.01"), ("0.03", "0.01")])
def test_half_a_penny_of_tax_goes_up(amount: str, tax: str) -> None:
    assert tax_of(Decimal(amount), rate_percent=Decimal(20)) == Decimal(tax)


@given(amount=whole_cents, rate=rates)
def test_tax_is_never_more_than_half_a_cent_off(amount: Decimal, rate: Decimal) -> None:
    tax = tax_of(amount, rate_percent=rate)

    assert abs(Fraction(tax) - Fraction(amount) * Fraction(rate) / 100) <= Fraction(1, 200)


@given(amount=amounts, to=st.sampled_from(Step), way=st.sampled_from(Way))
def test_a_rounded_amount_is_whole_steps_and_less_than_one_off(
    amount: Decimal, to: Step, way: Way
) -> None:
    steps = Fraction(rounded(amount, to=to, way=way)) / Fraction(to.amount)

    assert steps.denominator == 1
    most = Fraction(1, 2) if way is not Way.UP else Fraction(1)
    assert abs(steps - Fraction(amount) / Fraction(to.amount)) <= most


@given(amount=amounts, to=st.sampled_from(Step))
def test_rounding_up_never_gives_money_away(amount: Decimal, to: Step) -> None:
    assert rounded(amount, to=to, way=Way.UP) >= amount


# Halves by hand: the three ways differ exactly there.
@pytest.mark.parametrize(
    ("amount", "to", "way", "expected"),
    [
        ("2.345", Step.CENT, Way.HALF_UP, "2.35"),
        ("2.345", Step.CENT, Way.HALF_EVEN, "2.34"),
        ("2.341", Step.CENT, Way.UP, "2.35"),
        ("2.325", Step.FIVE_CENTS, Way.HALF_UP, "2.35"),
        ("2.325", Step.FIVE_CENTS, Way.HALF_EVEN, "2.30"),
        ("2.31", Step.FIVE_CENTS, Way.UP, "2.35"),
        ("2.50", Step.DOLLAR, Way.HALF_UP, "3"),
        ("2.50", Step.DOLLAR, Way.HALF_EVEN, "2"),
        ("2.01", Step.DOLLAR, Way.UP, "3"),
    ],
)
def test_a_half_goes_where_the_rule_sends_it(
    amount: str, to: Step, way: Way, expected: str
) -> None:
    assert rounded(Decimal(amount), to=to, way=way) == Decimal(expected)


def test_an_amount_has_two_places_whatever_the_step() -> None:
    assert str(rounded(Decimal("119.5"), to=Step.DOLLAR, way=Way.HALF_UP)) == "120.00"
    assert str(cents(Decimal("0.005"))) == "0.01"


def test_a_float_is_no_money() -> None:
    with pytest.raises(TypeError, match="float"):
        cents(0.1)  # type: ignore[arg-type]  # the point of the test


@pytest.mark.parametrize("amount", ["NaN", "Infinity", "1e13"])
def test_what_nobody_could_pay_is_refused(amount: str) -> None:
    with pytest.raises(Refused, match="anybody could pay"):
        cents(Decimal(amount))


@pytest.mark.parametrize("rate", ["-0.1", "100.1"])
def test_a_rate_of_tax_is_from_nothing_to_all(rate: str) -> None:
    with pytest.raises(Refused, match="rate of tax"):
        tax_of(Decimal(1), rate_percent=Decimal(rate))


@given(number=st.floats(-1e9, 1e9), places=st.integers(0, 6))
def test_a_measured_number_keeps_the_places_asked_for(number: float, places: int) -> None:
    kept = decimal_of(number, places=places)

    assert -kept.as_tuple().exponent == places  # type: ignore[operator]  # finite, so a number
    assert abs(Fraction(kept) - Fraction(number)) <= Fraction(1, 2 * 10**places)


def test_a_number_that_is_none_becomes_no_money() -> None:
    with pytest.raises(Refused):
        decimal_of(float("nan"), places=2)


@given(total=whole_cents, weights=weights.filter(any))
def test_shares_are_the_total_and_each_within_a_cent(
    total: Decimal, weights: list[Decimal]
) -> None:
    shares = shared_out(total, weights)

    assert sum(shares) == total
    whole = sum(Fraction(weight) for weight in weights)
    for share, weight in zip(shares, weights, strict=True):
        exact = Fraction(total) * Fraction(weight) / whole
        assert abs(Fraction(share) - exact) < Fraction(1, 100)


# Worked by hand: thirds of a dollar are 33 cents each and one is left, for the first.
def test_the_cent_left_over_goes_to_the_first_of_equals() -> None:
    assert shared_out(Decimal("1.00"), [Decimal(1)] * 3) == (
        Decimal("0.34"),
        Decimal("0.33"),
        Decimal("0.33"),
    )


# By hand: 1.00 by 1, 2, 4 is 14.29, 28.57 and 57.14 cents; 28.57 has lost most.
def test_the_cent_left_over_goes_to_who_lost_most() -> None:
    assert shared_out(Decimal("1.00"), [Decimal(1), Decimal(2), Decimal(4)]) == (
        Decimal("0.14"),
        Decimal("0.29"),
        Decimal("0.57"),
    )


@pytest.mark.parametrize(
    ("total", "weights", "word"),
    [
        ("1.005", ["1"], "whole number of cents"),
        ("1", ["-1", "2"], "below zero"),
        ("1", ["0", "0"], "Nobody"),
        ("1", [], "Nobody"),
    ],
)
def test_what_cannot_be_shared_out_is_refused(total: str, weights: list[str], word: str) -> None:
    with pytest.raises(Refused, match=word):
        shared_out(Decimal(total), [Decimal(weight) for weight in weights])
