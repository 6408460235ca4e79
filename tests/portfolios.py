"""An invented association: a drawn lot, a stated one, and a common green."""

from datetime import UTC, date, datetime

import pytest
from django.utils import timezone

from planner.core.portfolio import Sharing
from planner.models import Portfolio, PortfolioQuote, PriceBook, Programme
from planner.selectors.portfolios import PortfolioAsked
from planner.services.portfolio_quotes import ask_portfolio_quote
from planner.services.portfolios import PortfolioFacts, begin_portfolio, keep_portfolio
from properties.core.units import Quantity
from properties.models import Firm, Person, Property, StatedArea
from properties.services.places import add_property
from tests.places import facts

ASKED_AT = datetime(2026, 3, 20, 10, 0, tzinfo=UTC)


def stated_place(firm: Firm, name: str, area: Quantity) -> Property:
    """A property of the association whose turf is stated and not drawn."""
    place = add_property(
        firm=firm, facts=facts(name=name, address=f"{name}, Plover Street, Hazel Ferry")
    )
    StatedArea.objects.create(
        property=place,
        area=area,
        typed=str(area),
        source="lots.csv, row 3",
        stated_at=timezone.now(),
    )
    return place


@pytest.fixture
def green(firm: Firm) -> Property:
    """The common area."""
    return stated_place(firm, "Green", Quantity(18_000.0, "sq ft"))


@pytest.fixture
def stated_lot(firm: Firm) -> Property:
    """A lot whose area was stated."""
    return stated_place(firm, "Stated lot", Quantity(5_000.0, "sq ft"))


@pytest.fixture
def portfolio(owner: Person, place: Property, stated_lot: Property, green: Property) -> Portfolio:
    """The drawn lot and the stated one; they share the green by equal parts."""
    begun = begin_portfolio(
        person=owner,
        name="Hazel Ferry lots",
        customer=place.customer,
        sharing=Sharing.EQUAL,
        at=ASKED_AT,
    )
    told = PortfolioFacts("Hazel Ferry lots", Sharing.EQUAL, commons=frozenset({green.pk}))
    return keep_portfolio(begun, told, person=owner, edition=1, at=ASKED_AT)


@pytest.fixture
def asked(programme: Programme, price_book: PriceBook) -> PortfolioAsked:
    """The programme of 2026, as of the first of April."""
    return PortfolioAsked(programme, 2026, date(2026, 4, 1))


@pytest.fixture
def portfolio_quote(
    owner: Person, portfolio: Portfolio, asked: PortfolioAsked, containers: object
) -> PortfolioQuote:
    """The portfolio as it was quoted."""
    ask_portfolio_quote(portfolio, asked, person=owner, at=ASKED_AT)
    return PortfolioQuote.objects.get()
