"""A price book that was kept reads back to the same book."""

import json
from decimal import Decimal

import pytest
from hypothesis import given

from planner.core.pricing import Book, Discount, When
from planner.core.pricing.terms import book_of_terms, terms_of
from properties.core.errors import FaultsFound
from tests.planner.core.pricing.asking import BOOK, book
from tests.planner.core.pricing.test_price import books


@given(book=books)
def test_a_book_reads_back_to_itself(book: Book) -> None:
    kept = json.loads(json.dumps(terms_of(book)))

    assert book_of_terms(kept, name=book.name, version=book.version) == book


def test_what_nobody_told_stays_untold() -> None:
    silent = book(pace_min=None, trim_pace=None, measuring=None)

    assert book_of_terms(terms_of(silent), name=silent.name, version=3).costs.pace_min is None


def test_a_discount_keeps_its_amount_and_its_visits() -> None:
    given_ = Discount("Season", When.PROGRAMME, amount=Decimal("12.50"), from_visits=4)
    with_discount = book(discounts=(given_,))

    read = book_of_terms(terms_of(with_discount), name=BOOK.name, version=3)

    assert read.discounts == (given_,)


def test_a_book_that_is_not_sound_is_not_read() -> None:
    terms = terms_of(book(margin_percent=Decimal(100)))

    with pytest.raises(FaultsFound, match="leaves nothing"):
        book_of_terms(terms, name="Book", version=1)
