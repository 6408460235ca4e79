"""Money on a page has its sign, two places, and no float in between."""

from decimal import Decimal

import pytest

from properties.core.showing_money import shown_money


@pytest.mark.parametrize(
    ("amount", "currency", "words"),
    [
        ("0", "USD", "$0.00"),
        ("1234567.5", "USD", "$1,234,567.50"),
        ("-4.20", "EUR", "−€4.20"),
        ("0.0425", "GBP", "£0.0425"),
        ("1E+3", "USD", "$1,000.00"),
    ],
)
def test_an_amount_is_written_with_its_sign(amount: str, currency: str, words: str) -> None:
    assert shown_money(Decimal(amount), currency) == words
