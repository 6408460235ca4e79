"""A price book that no honest price could be made from is refused, every fault of it."""

from decimal import Decimal
from typing import Any

import pytest

from planner.core.money import Step, Way
from planner.core.pricing import Band, Discount, When
from planner.core.pricing.book import require_sound
from planner.core.shown import Units
from properties.core.errors import FaultsFound
from tests.planner.core.pricing.asking import BOOK, book

LAST = Band(None, Decimal(7))


def faults(**changes: Any) -> list[str]:
    with pytest.raises(FaultsFound) as found:
        require_sound(book(**changes))
    return [fault.field for fault in found.value.faults]


def test_a_sound_book_passes() -> None:
    require_sound(BOOK)


@pytest.mark.parametrize("margin", ["100", "120", "-1"])
def test_a_margin_of_all_the_price_is_refused(margin: str) -> None:
    assert faults(margin_percent=Decimal(margin)) == ["margin_percent"]


def test_bands_must_rise_and_the_last_has_no_end() -> None:
    assert faults(bands=()) == ["bands"]
    assert faults(bands=(Band(Decimal(5000), Decimal(7)),)) == ["bands[0].up_to"]
    for second in (Decimal(5000), Decimal(4000), None):
        bands = (Band(Decimal(5000), Decimal(9)), Band(second, Decimal(8)), LAST)
        assert faults(bands=bands) == ["bands[1].up_to"]
    assert faults(bands=(Band(None, Decimal(-1)),)) == ["bands[0].rate"]


def test_the_minimum_must_be_an_amount_that_a_rounded_price_can_have() -> None:
    assert faults(minimum=Decimal("45.50"), step=Step.DOLLAR, way=Way.UP) == ["minimum"]


@pytest.mark.parametrize("name", ["wage_per_hour", "travel_min", "trim", "minimum", "measuring"])
def test_nothing_is_below_zero(name: str) -> None:
    assert faults(**{name: Decimal(-1)}) == [name]


@pytest.mark.parametrize("name", ["pace_min", "trim_pace"])
def test_no_work_is_done_in_no_time(name: str) -> None:
    assert faults(**{name: Decimal(0)}) == [name]


@pytest.mark.parametrize(
    ("percent", "amount", "field"),
    [
        (None, None, "discounts[0].percent"),
        ("5", "5", "discounts[0].percent"),
        ("101", None, "discounts[0].percent"),
        (None, "-1", "discounts[0].amount"),
    ],
)
def test_a_discount_is_a_share_or_an_amount(
    percent: str | None, amount: str | None, field: str
) -> None:
    discount = Discount(
        "Ahead",
        When.PREPAID,
        percent=None if percent is None else Decimal(percent),
        amount=None if amount is None else Decimal(amount),
    )

    assert faults(discounts=(discount,)) == [field]


def test_every_fault_is_told_at_once() -> None:
    assert len(faults(bands=(), margin_percent=Decimal(100), minimum=Decimal(-1))) == 3


def test_a_metric_book_asks_for_100_square_metres() -> None:
    assert book(units=Units.METRIC, currency="EUR").rate_unit == "EUR/100 m2"
    assert BOOK.rate_unit == "USD/1000 sq ft"
