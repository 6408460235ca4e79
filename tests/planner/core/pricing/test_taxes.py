"""Tax by place: what it falls on, how it is rounded, and what is said of it."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.core.money import tax_of
from planner.core.pricing import Price, Taxed, TaxRate, price_of
from tests.planner.core.pricing.asking import NO_TAX, book, visit, work


def rate(percent: str, taxed: Taxed = Taxed.EVERYTHING, *, is_example: bool = False) -> TaxRate:
    return TaxRate(f"Tax of {percent}", Decimal(percent), taxed, "Invented code", is_example)


def codes(price: Price) -> list[str]:
    return [each.code for each in price.warnings]


# By hand: 87.00 at 6.25 % is 5.4375.
def test_tax_falls_on_the_price_after_discounts() -> None:
    assert price_of(work(taxes=(rate("6.25"),)), book()).tax == Decimal("5.44")


# By hand: 1.5 % of 87.00 is 1.305, alone 1.31 and twice that 2.62; together 3 % are 2.61.
# Streamlined Sales and Use Tax Agreement, section 324: applied to the aggregated rates.
def test_rates_on_the_same_price_are_added_and_rounded_once() -> None:
    price = price_of(work(taxes=(rate("1.5"), rate("1.5"))), book())

    assert price.tax == tax_of(Decimal("87.00"), rate_percent=Decimal("3.0")) == Decimal("2.61")
    assert [line.amount for line in price.taxes] == [Decimal("1.31"), Decimal("1.30")]


# By hand: the material is 6.30 of a cost of 29.16, so 18.796… of 87.00.
@pytest.mark.parametrize(("taxed", "tax"), [(Taxed.MATERIAL, "1.88"), (Taxed.SERVICE, "6.82")])
def test_material_bears_its_share_of_the_price(taxed: Taxed, tax: str) -> None:
    assert price_of(work(taxes=(rate("10", taxed),)), book()).tax == Decimal(tax)


@given(percent=st.decimals(0, 30, places=3))
def test_material_and_work_are_all_of_the_price(percent: Decimal) -> None:
    whole = price_of(work(taxes=(rate(str(percent)),)), book()).tax
    parts = (rate(str(percent), Taxed.MATERIAL), rate(str(percent), Taxed.SERVICE))

    # Two amounts are rounded instead of one.
    assert abs(price_of(work(taxes=parts), book()).tax - whole) <= Decimal("0.01")


def test_a_price_without_cost_is_all_work() -> None:
    free = visit(products=(), passes_s=0, travel_min=Decimal(0))
    no_cost = book(set_up_min=Decimal(0))

    price = price_of(work(free, taxes=(rate("10", Taxed.MATERIAL),)), no_cost)

    assert price.tax == 0


def test_no_rate_is_told_and_not_taken_for_none_due() -> None:
    assert "tax_unknown" in codes(price_of(work(), book()))
    assert "tax_unknown" not in codes(price_of(work(taxes=(NO_TAX,)), book()))
    assert price_of(work(taxes=(NO_TAX,)), book()).tax == 0


def test_an_example_rate_says_to_check_locally() -> None:
    price = price_of(work(taxes=(rate("5", is_example=True), rate("1"))), book())

    assert codes(price).count("tax_is_example") == 1
