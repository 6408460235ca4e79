"""Putting properties together on one quote, and saying who shares what."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import datetime
from decimal import Decimal

from django.db import transaction

from planner.core.portfolio import Sharing
from planner.models import Portfolio, PortfolioMember
from planner.selectors.portfolios import members_of, not_yet_members
from properties.core.errors import Refused
from properties.models import Customer, Person

MOST_MEMBERS = 1000


@dataclass(frozen=True)
class PortfolioFacts:
    """What somebody says of a portfolio: names, roles and shares, by the key of the property."""

    name: str
    sharing: str
    commons: frozenset[int] = frozenset()
    left_out: frozenset[int] = frozenset()
    shares: Mapping[int, Decimal | None] = field(default_factory=dict)
    add_the_others: bool = False


@transaction.atomic
def begin_portfolio(
    *, person: Person, name: str, customer: Customer, sharing: str, at: datetime
) -> Portfolio:
    """Begin a portfolio with every property of a customer, each a lot at first."""
    portfolio = Portfolio(
        firm=person.firm,
        name=name,
        customer=customer,
        sharing=sharing,
        edited_at=at,
        edited_by=person,
    )
    portfolio.full_clean()
    portfolio.save()
    _add_the_others(portfolio)
    return portfolio


@transaction.atomic
def keep_portfolio(
    portfolio: Portfolio, facts: PortfolioFacts, *, person: Person, edition: int, at: datetime
) -> Portfolio:
    """Keep what was typed into a form that was opened as of an edition."""
    held = Portfolio.objects.select_for_update().get(pk=portfolio.pk)
    if held.edition != edition:
        raise Refused(
            "",
            f"{held.edited_by or 'Somebody'} changed this portfolio after you opened it. "
            "Nothing of theirs is written over, and what you typed is still here.",
            "Open it in another tab and look at both.",
        )
    held.name, held.sharing = facts.name, facts.sharing
    held.edition, held.edited_at, held.edited_by = edition + 1, at, person
    held.full_clean()
    held.save()
    members_of(held).filter(place__in=facts.left_out).delete()
    if facts.add_the_others:
        _add_the_others(held)
    _write_roles(held, facts)
    return held


def _add_the_others(portfolio: Portfolio) -> None:
    places = list(not_yet_members(portfolio)[: MOST_MEMBERS + 1])
    if len(places) + members_of(portfolio).count() > MOST_MEMBERS:
        raise Refused(
            "customer",
            f"A portfolio has at most {MOST_MEMBERS:,} properties.",
            "Divide it among several.",
        )
    PortfolioMember.objects.bulk_create(
        PortfolioMember(portfolio=portfolio, place=place) for place in places
    )


def _write_roles(portfolio: Portfolio, facts: PortfolioFacts) -> None:
    members = list(members_of(portfolio))
    for member in members:
        member.is_common = member.place_id in facts.commons
        member.share = facts.shares.get(member.place_id)
    lots = [member for member in members if not member.is_common]
    if not lots:
        raise Refused("", "No property is left to pay.", "Leave at least one that is not common.")
    if facts.sharing == Sharing.GIVEN and len(lots) < len(members):
        _require_shares(lots)
    PortfolioMember.objects.bulk_update(members, ["is_common", "share"], batch_size=500)


def _require_shares(lots: list[PortfolioMember]) -> None:
    without = [member for member in lots if member.share is None]
    if without:
        raise Refused(
            f"share_{without[0].place_id}",
            f"{without[0].place} has no share.",
            "Give one to each lot; 0 where it bears nothing.",
        )
    if not any(member.share for member in lots):
        raise Refused("", "No lot bears a share above zero.", "Give at least one.")
