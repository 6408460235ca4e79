"""The range of a price, what it can bear, and when measuring again pays."""

from dataclasses import replace
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.core.pricing import Band, Banding, Basis, Price, price_as_json, price_of
from properties.core.units import Quantity
from tests.planner.core.pricing.asking import PRODUCT, SQ_FT_M2, VISIT, book, visit, work

ONE_BAND = (Band(None, Decimal(10)),)


def codes(price: Price) -> list[str]:
    return [each.code for each in price.warnings]


# By hand: 7,600 and 8,400 sq ft at 12 up to 5,000 and 9 from there.
def test_the_range_is_the_price_at_both_ends_of_the_error_bar() -> None:
    price = price_of(work(), book())

    assert (price.low, price.high) == (Decimal("83.40"), Decimal("90.60"))


# By hand: 5,100 sq ft at 9 are 45.90 and 4,900 at 12 are 58.80, but 5,000 at 12 are 60.00 and
# 5,000.02 at 9 are 45.00: the price jumps between the ends of the bar.
def test_a_jump_of_the_price_within_the_bar_is_in_the_range() -> None:
    jumpy = book(banding=Banding.WHOLE, minimum=Decimal(0))
    near = visit(area_m2=5000 * SQ_FT_M2, off_m2=100 * SQ_FT_M2)

    price = price_of(work(near), jumpy)

    assert (price.low, price.high) == (Decimal("45.00"), Decimal("60.00"))


def test_a_range_nobody_can_tell_is_none_and_says_why() -> None:
    price = price_of(work(visit(off_m2=None, why_not="Nobody says how it was measured.")), book())

    assert price.low is None
    assert price.high is None
    assert any("Nobody says how it was measured." in each.message for each in price.warnings)
    assert price.sureness.gain_of_measuring is None
    assert price.sureness.measuring_pays is None
    assert price_as_json(price)["low"] is None


def test_all_visits_of_a_season_go_to_the_same_lawn() -> None:
    once, twice = price_of(work(), book()), price_of(work(VISIT, VISIT), book())

    assert once.high is not None
    assert twice.high == 2 * once.high


# By hand at 10.00 for 1,000 sq ft and 80.00: 80 / 1.2 less 9.00 fixed is 57.67 for what grows,
# and that is 15.30 on 8,000 sq ft; so 8,000 × 57.6667 / 15.30 = 30,152.51.
def test_a_price_breaks_even_where_the_cost_of_a_larger_lawn_reaches_it() -> None:
    even = price_of(work(), book(bands=ONE_BAND)).sureness.break_even_area

    assert even is not None
    assert even.result.value == Decimal("30152.51")


@given(thousands=st.floats(1, 20), rate=st.integers(3, 40))
def test_at_the_break_even_area_the_cost_is_the_price(thousands: float, rate: int) -> None:
    lawn = visit(
        area_m2=thousands * 1000 * SQ_FT_M2,
        passes_s=thousands * 110,
        products=(replace(PRODUCT, amount=Quantity(1.5 * thousands, "fl oz")),),
    )
    rules = book(bands=(Band(None, Decimal(rate)),), minimum=Decimal(45))
    price = price_of(work(lawn), rules)
    even = price.sureness.break_even_area
    assert even is not None
    factor = float(even.result.value) / (thousands * 1000)

    there = replace(
        lawn,
        passes_s=lawn.passes_s * factor,
        products=(replace(PRODUCT, amount=Quantity(1.5 * thousands * factor, "fl oz")),),
    )

    # Lines of cost are rounded to the cent: two of the first lawn, magnified with it, and
    # two of the second with their overhead; time is kept to a hundredth of a minute (0.6 cents).
    tolerance = 0.012 * (factor + 1) + 0.02
    assert float(price_of(work(there), rules).cost) == pytest.approx(
        float(price.price), abs=tolerance
    )


def test_a_price_below_the_fixed_cost_breaks_even_nowhere() -> None:
    cheap = book(bands=(Band(None, Decimal(1)),), minimum=Decimal(0))

    sureness = price_of(work(), cheap).sureness

    assert "break_even_area" not in {figure.key for figure in sureness.figures}
    assert "does not even pay" in sureness.why_not["break_even_area"]


def test_a_cost_that_does_not_grow_never_catches_up() -> None:
    free = visit(products=(), passes_s=0)

    sureness = price_of(work(free), book()).sureness

    assert sureness.break_even_area is None
    assert "grows with the ground" in sureness.why_not["break_even_area"]


def test_an_error_bar_beyond_the_break_even_asks_to_measure_again() -> None:
    thin = book(bands=(Band(None, Decimal(4)),), minimum=Decimal(0))
    unsure = visit(off_m2=3000 * SQ_FT_M2)

    assert "error_beyond_break_even" in codes(price_of(work(unsure), thin))
    assert "error_beyond_break_even" not in codes(price_of(work(), thin))


# By hand: 80.00 less 29.16 is 50.84 a visit, and measuring costs 40.00, or 120.00.
@pytest.mark.parametrize(("measuring", "visits"), [("40", 1), ("120", 3)])
def test_so_many_visits_earn_the_measuring_back(measuring: str, visits: int) -> None:
    sureness = price_of(work(), book(bands=ONE_BAND, measuring=Decimal(measuring))).sureness

    assert sureness.break_even_visits is not None
    assert sureness.break_even_visits.result.value == visits


def test_no_number_of_visits_earns_back_what_each_visit_loses() -> None:
    sureness = price_of(work(), book(bands=(Band(None, Decimal(1)),), minimum=Decimal(0))).sureness

    assert sureness.break_even_visits is None
    assert "No visit brings more" in sureness.why_not["break_even_visits"]


def test_what_measuring_costs_is_not_known_by_itself() -> None:
    sureness = price_of(work(), book(measuring=None)).sureness

    assert sureness.break_even_visits is None
    assert sureness.measuring_pays is None
    assert sureness.gain_of_measuring is not None


# By hand: 15.30 grows, with a fifth of overhead 18.36; the bar is 5 %, so a deviation costs
# 18.36 × 0.05 / 1.96 = 0.4684, of which 1 / (2 √(2π)) is 0.0934. Six visits: 0.56.
def test_halving_the_error_saves_half_the_expected_shortfall() -> None:
    gain = price_of(work(*[VISIT] * 6), book()).sureness.gain_of_measuring

    assert gain is not None
    assert gain.amount == Decimal("0.56")


@pytest.mark.parametrize(("measuring", "pays"), [("0.50", True), ("0.56", False), ("40", False)])
def test_measuring_again_pays_where_it_saves_more_than_it_costs(measuring: str, pays: bool) -> None:
    sureness = price_of(work(*[VISIT] * 6), book(measuring=Decimal(measuring))).sureness

    assert sureness.measuring_pays is pays


@given(
    off=st.floats(0, 7999),
    basis=st.sampled_from(Basis),
    banding=st.sampled_from(Banding),
    spread=st.none() | st.floats(0, 20),
)
def test_the_price_lies_in_its_range(
    off: float, basis: Basis, banding: Banding, spread: float | None
) -> None:
    of_product = None if spread is None else Quantity(spread, "fl oz")
    unsure = visit(off_m2=off * SQ_FT_M2, products=(replace(PRODUCT, off=of_product),))

    price = price_of(work(unsure), book(basis=basis, banding=banding))

    assert price.low is not None
    assert price.high is not None
    assert price.low <= price.price <= price.high


def test_no_ground_has_no_error_as_a_share() -> None:
    nothing = visit(area_m2=0.0, off_m2=0.0, passes_s=0, products=())

    price = price_of(work(nothing), book())

    assert price.sureness.off_percent is None
    assert price.visits[0].per_area is None
