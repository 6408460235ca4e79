"""What a customer reads: days in full, prices side by side, an error bar in plain words."""

from datetime import date
from decimal import Decimal
from typing import Any

import pytest

from planner.core.quote.ground_words import area_words, drawing_words
from planner.core.quote.prices import price_note, price_rows
from planner.core.quote.said import window_said


def _plan(area: float, off: float | None = 210.0, **more: Any) -> dict[str, Any]:
    uncertainty = (
        None if off is None else {"treatable_area": {"plus_minus": {"value": off, "unit": "sq ft"}}}
    )
    return {
        "treatable_area": {"value": area, "unit": "sq ft"},
        "turf_area": {"value": 12_000.0, "unit": "sq ft"},
        "uncertainty": uncertainty,
        **more,
    }


def _price(*visits: str, currency: str = "USD", **more: Any) -> dict[str, Any]:
    net = sum((Decimal(visit) for visit in visits), Decimal(0))
    return {
        "currency": currency,
        "visits": [{"price": visit} for visit in visits],
        "discounts": [],
        "taxes": [],
        "net": f"{net:.2f}",
        "total": f"{net:.2f}",
    } | more


@pytest.mark.parametrize(
    ("first", "last", "said"),
    [
        (date(2026, 4, 10), date(2026, 5, 2), "April 10 to May 2"),
        (date(2026, 4, 10), date(2026, 4, 10), "April 10, 2026"),
        (date(2026, 12, 20), date(2027, 1, 5), "December 20, 2026 to January 5, 2027"),
    ],
)
def test_the_days_of_a_visit_have_a_year_only_where_it_tells_something(
    first: date, last: date, said: str
) -> None:
    assert window_said(first, last) == said


def test_the_area_is_told_with_its_error_bar() -> None:
    words = area_words([_plan(10_118.0)])

    assert "Of 12,000 sq ft of turf on our drawing we treat 10,118 sq ft." in words
    assert "within 210 sq ft of ours, more or less, 95 times in 100" in words


def test_visits_that_treat_less_are_not_hidden_behind_the_largest() -> None:
    words = area_words([_plan(9_000.0), _plan(10_118.0, off=300.0)])

    assert "10,118 sq ft; at some visits less, down to 9,000 sq ft." in words
    assert "within 300 sq ft" in words


@pytest.mark.parametrize("why", ["The pond was not measured.", None])
def test_an_error_bar_that_nobody_knows_is_told_as_such(why: str | None) -> None:
    words = area_words([_plan(10_118.0, off=None, uncertainty_unknown=why)])

    assert "is not known. " + (why or "Nobody wrote down") in words


def test_the_drawing_is_told_with_its_numbers() -> None:
    told = drawing_words("Small lot", "Area.", [{"number": 1, "name": "Pond"}])

    assert told == "Drawing of Small lot, north up. Area. Numbered on it: 1, Pond."
    assert drawing_words("Small lot", "Area.", []) == "Drawing of Small lot, north up. Area."


def test_each_column_of_the_prices_sums_to_what_is_to_pay() -> None:
    season = _price(
        "100.00",
        "51.35",
        discounts=[{"name": "Season", "amount": "-15.14"}],
        net="136.21",
        taxes=[{"name": "State", "amount": "8.17"}, {"name": "Town", "amount": "1.36"}],
        total="145.74",
    )
    visit = _price("51.35", taxes=[{"name": "State", "amount": "3.08"}], total="54.43")

    rows = {row["name"]: row["amounts"] for row in price_rows([season, visit])}

    assert rows == {
        "Visits": ["2", "1"],
        "All visits": ["$151.35", "$51.35"],
        "Season": ["−$15.14", "–"],
        "Price before tax": ["$136.21", "$51.35"],
        "State": ["$8.17", "$3.08"],
        "Town": ["$1.36", "–"],
        "To pay": ["$145.74", "$54.43"],
    }


def test_without_discounts_the_price_before_tax_is_not_told_twice() -> None:
    names = [row["name"] for row in price_rows([_price("51.35")])]

    assert names == ["Visits", "All visits", "To pay"]


def test_only_what_is_to_pay_stands_out() -> None:
    assert [row["strong"] for row in price_rows([_price("51.35")])] == [False, False, True]


def test_the_note_says_the_currency_and_whether_tax_is_in_it() -> None:
    taxed = _price("1.00", taxes=[{"name": "State", "amount": "0.06"}])

    assert price_note([taxed]) == "All amounts are in US dollars. “To pay” is with tax."
    assert price_note([_price("1.00", currency="EUR")]) == (
        "All amounts are in euros. No tax is added."
    )
