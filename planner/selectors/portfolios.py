"""Portfolios of a person's firm, their quotes, and the price of one property among many."""

import json
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from typing import Any

from django.db.models import Count, Q, QuerySet

from planner.core.money import decimal_of
from planner.core.portfolio import Asked as LotAsked
from planner.models import Portfolio, PortfolioMember, PortfolioQuote, PriceBook, Programme
from planner.selectors.prices import PriceAsked, Priced, as_json, price_for
from properties.core.errors import FaultsFound, Refused
from properties.models import Person, Property
from properties.selectors.stated_areas import stated_ground_of


@dataclass(frozen=True)
class PortfolioAsked:
    """What a portfolio is priced for: a programme in a year, by a price book."""

    programme: Programme
    year: int
    on: date
    book: PriceBook | None = None
    prepaid: bool = False
    #: The way from one property to the next; None where that of the book holds.
    travel_min: Decimal | None = None


@dataclass(frozen=True)
class PlacePriced:
    """One property as it was priced, or the sentences that say why it was not.

    Only what is kept stays here: five hundred plans with their outlines would not fit.
    """

    member: PortfolioMember
    asked: LotAsked | None = None
    area_m2: float = 0.0
    #: The price with every working, the rounds it is for and those left out, as JSON.
    written: str = ""
    is_stated: bool = False
    faults: tuple[str, ...] = ()


def portfolios_of(person: Person) -> QuerySet[Portfolio]:
    """List the portfolios of a person's firm, with how many lots and common areas each has."""
    found = Portfolio.objects.filter(firm=person.firm_id).select_related("customer", "edited_by")
    return found.annotate(
        lots=Count("members", filter=Q(members__is_common=False)),
        commons=Count("members", filter=Q(members__is_common=True)),
    ).order_by("name")


def members_of(portfolio: Portfolio) -> QuerySet[PortfolioMember]:
    """List the properties of a portfolio, lots first."""
    return PortfolioMember.objects.filter(portfolio=portfolio).select_related(
        "place__firm", "place__customer", "place__stated_area"
    )


def not_yet_members(portfolio: Portfolio) -> QuerySet[Property]:
    """List the customer's properties that the portfolio has not."""
    theirs = Property.objects.filter(firm=portfolio.firm_id, customer=portfolio.customer_id)
    return theirs.exclude(portfolio_members__portfolio=portfolio)


def portfolio_quotes_of(person: Person) -> QuerySet[PortfolioQuote]:
    """List the portfolio quotes of a person's firm."""
    return PortfolioQuote.objects.filter(portfolio__firm=person.firm_id).select_related(
        "portfolio__customer", "portfolio__firm", "programme", "made_by", "taken_by"
    )


def is_newest(quote: PortfolioQuote) -> bool:
    """Say whether no later quote of the portfolio has a price."""
    later = PortfolioQuote.objects.filter(portfolio=quote.portfolio_id, number__gt=quote.number)
    return not later.filter(total__isnull=False).exists()


def price_member(person: Person, member: PortfolioMember, asked: PortfolioAsked) -> PlacePriced:
    """Price one property for the rounds that are left to do, or say why it has no price."""
    try:
        priced = _priced(person, member.place, asked)
    except FaultsFound as found:
        return PlacePriced(member, faults=tuple(str(fault) for fault in found.faults))
    except Refused as refused:
        return PlacePriced(member, faults=(str(refused),))
    if priced.refusals:
        words = tuple(f"{name}: {sentence}" for name, sentence in priced.refusals)
        return PlacePriced(member, faults=words)
    area_m2 = max(visit.area_m2 for visit in priced.price.work.visits)
    return PlacePriced(
        member,
        LotAsked(
            name=member.place.name,
            net=priced.price.price,
            tax=priced.price.tax,
            area=decimal_of(area_m2, places=2),
            share=member.share,
        ),
        area_m2,
        json.dumps(_written(priced)),
        stated_ground_of(member.place) is not None,
    )


def _written(priced: Priced) -> dict[str, Any]:
    """Write a price with what it is for and what was said of its rounds, to be kept."""
    said = {"left_out": priced.left_out, "cautions": priced.cautions}
    told = {key: [f"{name}: {words}" for name, words in pairs] for key, pairs in said.items()}
    return as_json(priced) | told | {"rounds": list(priced.rounds)}


def _priced(person: Person, place: Property, asked: PortfolioAsked) -> Priced:
    told = PriceAsked(
        place=place,
        on=asked.on,
        programme=asked.programme,
        year=asked.year,
        book=asked.book,
        prepaid=asked.prepaid,
        travel_min=asked.travel_min,
    )
    return price_for(person, told)
