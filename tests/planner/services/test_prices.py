"""Price books are kept version by version, and nobody writes over somebody else."""

from decimal import Decimal

import pytest
from django.core.exceptions import ValidationError

from planner.core.pricing.terms import terms_of
from planner.models import PriceBook, TaxRule
from planner.services.prices import keep_price_book
from properties.core.errors import FaultsFound, Refused
from properties.models import Firm, Person
from tests.planner.core.pricing.asking import book
from tests.prices import PRICED_AT

DEARER = terms_of(book(minimum=Decimal(50)))


def test_each_edit_is_a_new_version_and_the_old_one_stays(
    price_book: PriceBook, office: Person
) -> None:
    kept = keep_price_book(price_book, DEARER, person=office, at=PRICED_AT, seen=1)

    assert kept.number == 2
    told = [version.terms["minimum"] for version in price_book.versions.all()]
    assert told == ["50", "45"]


def test_keeping_what_is_kept_already_makes_no_version(
    price_book: PriceBook, office: Person
) -> None:
    keep_price_book(price_book, terms_of(book()), person=office, at=PRICED_AT, seen=1)

    assert price_book.versions.count() == 1


def test_the_second_of_two_people_is_told_and_nothing_is_written_over(
    price_book: PriceBook, owner: Person, office: Person
) -> None:
    keep_price_book(price_book, DEARER, person=office, at=PRICED_AT, seen=1)

    with pytest.raises(Refused, match="Percy kept version 2") as refused:
        keep_price_book(price_book, terms_of(book()), person=owner, at=PRICED_AT, seen=1)

    assert refused.value.field == "seen"
    assert price_book.versions.count() == 2


def test_terms_that_cannot_stand_make_no_version_and_no_book(firm: Firm, owner: Person) -> None:
    with pytest.raises(FaultsFound):
        keep_price_book(
            PriceBook(firm=firm, name="Wrong"),
            terms_of(book(margin_percent=Decimal(100))),
            person=owner,
            at=PRICED_AT,
            seen=0,
        )

    assert not PriceBook.objects.exists()


def test_one_book_is_the_usual_one(firm: Firm, price_book: PriceBook, owner: Person) -> None:
    assert price_book.is_usual

    other = PriceBook(firm=firm, name="Grounds", is_usual=True)
    keep_price_book(other, terms_of(book()), person=owner, at=PRICED_AT, seen=0)

    assert list(PriceBook.objects.filter(is_usual=True)) == [other]


def test_a_name_stands_once_in_a_firm(firm: Firm, price_book: PriceBook, owner: Person) -> None:
    with pytest.raises(ValidationError, match="of this name already"):
        keep_price_book(
            PriceBook(firm=firm, name="Homes"), DEARER, person=owner, at=PRICED_AT, seen=0
        )


def test_who_keeps_a_rate_of_tax_has_checked_it(tax_rule: TaxRule, owner: Person) -> None:
    assert tax_rule.checked_by == owner
    assert str(tax_rule) == "Town, 6 %"
