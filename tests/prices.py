"""An invented price book, a container and a rate of tax for page tests."""

from datetime import UTC, date, datetime
from decimal import Decimal

import pytest

from planner.core.pricing.terms import terms_of
from planner.models import Container, Mix, PriceBook, TaxRule
from planner.services.prices import keep_price_book, keep_tax_rule
from planner.services.stock import keep_container
from properties.core.units import Quantity
from properties.models import Firm, Person
from tests.planner.core.pricing.asking import book

PRICED_AT = datetime(2026, 3, 20, 10, 0, tzinfo=UTC)


@pytest.fixture
def price_book(firm: Firm, owner: Person) -> PriceBook:
    """The invented book of the price tests."""
    kept = keep_price_book(
        PriceBook(firm=firm, name="Homes"), terms_of(book()), person=owner, at=PRICED_AT, seen=0
    )
    return kept.book


@pytest.fixture
def containers(mix: Mix) -> list[Container]:
    """A container of everything in the mix: 2.5 gal for 160.00."""
    return [
        keep_container(
            Container(product=part.product, size=Quantity(2.5, "gal"), price=Decimal("160.00"))
        )
        for part in mix.parts.all()
    ]


@pytest.fixture
def tax_rule(firm: Firm, owner: Person) -> TaxRule:
    """6 % wherever the address has the invented town in it."""
    return keep_tax_rule(
        TaxRule(
            firm=firm,
            name="Town",
            percent=Decimal(6),
            where="hazel ferry",
            source="Invented town code",
            from_on=date(2026, 1, 1),
        ),
        person=owner,
        at=PRICED_AT,
    )
