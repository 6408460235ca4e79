"""What a stock is worth, against printed examples and to the cent."""

from datetime import date, timedelta
from decimal import Decimal

from hypothesis import given
from hypothesis import strategies as st

from planner.core.stock.valuation import Purchase, price_of_one, valuation_of

JAN_1 = date(2026, 1, 1)


def _bought(day: int, amount: float, price_of_one: str) -> Purchase:
    cost = (Decimal(str(amount)) * Decimal(price_of_one)).quantize(Decimal("0.01"))
    return Purchase(JAN_1 + timedelta(days=day), amount, cost)


def test_a_bookshop_of_a_textbook_has_the_textbooks_inventory() -> None:
    # Miller-Nobles, Mattison, Matsumura, Horngren’s Financial and Managerial Accounting,
    # 6th edition, chapter 6, "Try It" of first in, first out: 10 at $15, 8 at $18, 4 at $20,
    # 17 sold; ending inventory $98, cost of goods sold $276.
    shop = valuation_of(
        [_bought(1, 10, "15"), _bought(12, 8, "18"), _bought(20, 4, "20")], on_hand=22 - 17
    )

    assert shop.value == Decimal(98)
    assert shop.used == Decimal(276)
    assert shop.is_known


def test_a_purchase_without_a_price_is_not_worth_nothing() -> None:
    stock = valuation_of([_bought(1, 5, "8.00"), Purchase(date(2026, 2, 1), 3, None)], on_hand=6)

    assert stock.value == Decimal("24.00")
    assert stock.unpriced == 3
    assert stock.used == Decimal("16.00")
    assert not stock.is_known


def test_what_was_found_beyond_all_purchases_has_no_price() -> None:
    stock = valuation_of([_bought(1, 5, "8.00")], on_hand=7)

    assert stock.value == Decimal("40.00")
    assert stock.unpriced == 2


def test_a_stock_below_zero_is_worth_nothing() -> None:
    stock = valuation_of([_bought(1, 5, "8.00")], on_hand=-2)

    assert stock.value == 0
    assert stock.used == Decimal("40.00")
    assert stock.is_known


def test_the_price_of_one_is_the_mean_of_what_was_paid() -> None:
    # 10 at 6.00 and 30 at 8.00 are 300.00 for 40.
    dear, cheap = _bought(1, 10, "6"), _bought(2, 30, "8")

    assert price_of_one([dear, cheap, Purchase(JAN_1, 9, None)]) == Decimal("7.5")
    assert price_of_one([Purchase(JAN_1, 9, None)]) is None
    assert price_of_one([]) is None


purchases = st.lists(
    st.builds(
        Purchase,
        st.integers(0, 300).map(lambda days: JAN_1 + timedelta(days=days)),
        st.integers(1, 90_000).map(lambda ml: ml / 1000),
        st.integers(1, 500_000).map(lambda c: Decimal(c) / 100),
    ),
    min_size=1,
    max_size=8,
)


@given(bought=purchases, share=st.floats(0, 1))
def test_what_is_there_and_what_was_used_are_all_that_was_paid_to_the_cent(
    bought: list[Purchase], share: float
) -> None:
    on_hand = share * sum(each.amount for each in bought)

    stock = valuation_of(bought, on_hand=on_hand)

    assert stock.value + stock.used == sum(each.cost for each in bought if each.cost)
    assert stock.value == stock.value.quantize(Decimal("0.01"))


@given(bought=purchases, share=st.floats(0, 1))
def test_more_on_the_shelf_is_never_worth_less(bought: list[Purchase], share: float) -> None:
    everything = sum(each.amount for each in bought)

    less = valuation_of(bought, on_hand=share * everything)

    assert less.value <= valuation_of(bought, on_hand=everything).value
