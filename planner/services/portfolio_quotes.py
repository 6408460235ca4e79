"""Quoting a portfolio: every property is priced in the background, then all is kept at once."""

import json
from dataclasses import dataclass
from datetime import date, datetime
from decimal import Decimal
from typing import Any

from django.db.models import Max
from django.utils import timezone
from django_tasks import task

from planner.core.portfolio import LotPays, SharedPortfolio, Sharing, share_commons
from planner.core.pricing.report import figure_as_json
from planner.models import Portfolio, PortfolioLine, PortfolioQuote, PriceBook, Programme
from planner.selectors.portfolios import PlacePriced, PortfolioAsked, members_of, price_member
from planner.services.jobs import check_year
from properties.core.errors import Refused
from properties.models import Errand, Person
from properties.services.errands import Outcome, Progress, Write, begin, carry_out

#: A page shows no more; the first ones say what kind of thing is missing.
MOST_FAULTS = 200
_BATCH = 50


def ask_portfolio_quote(
    portfolio: Portfolio, asked: PortfolioAsked, *, person: Person, at: datetime
) -> Errand:
    """Ask for a quote of a portfolio; a worker prices one property after the other."""
    check_year(asked.year)
    count = members_of(portfolio).count()
    if not members_of(portfolio).filter(is_common=False).exists():
        raise Refused("", "No property is there to pay.", "Add properties to the portfolio first.")
    return begin(
        person=person,
        task=quote_portfolio,
        title=f"Quote {count:,} properties of {portfolio}"[:200],
        about={"portfolio": portfolio.pk, "edition": portfolio.edition, **_written(asked)},
        at=at,
    )


def _written(asked: PortfolioAsked) -> dict[str, Any]:
    return {
        "programme": asked.programme.pk,
        "year": asked.year,
        "on": asked.on.isoformat(),
        "book": asked.book and asked.book.pk,
        "prepaid": asked.prepaid,
        "travel_min": None if asked.travel_min is None else str(asked.travel_min),
    }


def _read(about: dict[str, Any]) -> PortfolioAsked:
    travel = about["travel_min"]
    return PortfolioAsked(
        programme=Programme.objects.get(pk=about["programme"]),
        year=about["year"],
        on=date.fromisoformat(about["on"]),
        book=None if about["book"] is None else PriceBook.objects.get(pk=about["book"]),
        prepaid=about["prepaid"],
        travel_min=None if travel is None else Decimal(travel),
    )


@task()
def quote_portfolio(errand_id: int) -> None:
    """Quote the portfolio that an errand names."""
    carry_out(errand_id, _prepare)


@dataclass(frozen=True)
class _Made:
    """Everything that a quote is written from."""

    portfolio: Portfolio
    asked: PortfolioAsked
    person: Person
    lots: list[PlacePriced]
    commons: list[PlacePriced]

    @property
    def faults(self) -> list[dict[str, Any]]:
        """What keeps properties from having a price."""
        return [
            {"place": one.member.place_id, "name": one.member.place.name, "problem": words}
            for one in (*self.lots, *self.commons)
            for words in one.faults
        ]


def _prepare(errand: Errand, progress: Progress) -> Write:
    if errand.asked_by is None:
        raise Refused("person", "Whoever asked for this has left.", "Ask for it anew.")
    portfolio = Portfolio.objects.select_related("firm").get(pk=errand.about["portfolio"])
    asked, members = _read(errand.about), list(members_of(portfolio))
    priced = []
    for number, member in enumerate(members):
        progress.tell(number, total=len(members), message=f"Pricing {member.place}."[:200])
        priced.append(price_member(errand.asked_by, member, asked))
    progress.tell(len(members), total=len(members))
    made = _Made(
        portfolio,
        asked,
        errand.asked_by,
        [one for one in priced if not one.member.is_common],
        [one for one in priced if one.member.is_common],
    )
    shared = None if made.faults else _shared(made)
    return lambda: _write(made, shared, edition=errand.about["edition"])


def _shared(made: _Made) -> SharedPortfolio:
    return share_commons(
        [one.asked for one in made.lots if one.asked],
        [one.asked for one in made.commons if one.asked],
        sharing=Sharing(made.portfolio.sharing),
        currency=made.portfolio.firm.currency,
    )


def _write(made: _Made, shared: SharedPortfolio | None, *, edition: int) -> Outcome:
    portfolio = Portfolio.objects.select_for_update().get(pk=made.portfolio.pk)
    if portfolio.edition != edition:
        raise Refused(
            "portfolio", "The portfolio was changed meanwhile.", "Ask for the quote anew."
        )
    last = portfolio.quotes.aggregate(last=Max("number"))["last"] or 0
    quote = PortfolioQuote(
        portfolio=portfolio,
        number=last + 1,
        programme=made.asked.programme,
        year=made.asked.year,
        sharing=portfolio.sharing,
        faults=made.faults[:MOST_FAULTS],
        made_at=timezone.now(),
        made_by=made.person,
    )
    if shared is not None:
        quote.net, quote.tax, quote.total = shared.net, shared.tax, shared.total
        quote.terms = _terms(made)
    quote.full_clean()
    quote.save()
    if shared is None:
        return Outcome(_no_price(made), quote.get_absolute_url())
    _write_lines(quote, made, shared)
    return Outcome(f"{len(made.lots):,} lots are quoted.", quote.get_absolute_url())


def _no_price(made: _Made) -> str:
    places = len({fault["place"] for fault in made.faults})
    return f"No quote: {places:,} of the properties cannot be priced. The page says why."


def _terms(made: _Made) -> dict[str, Any]:
    first = json.loads(made.lots[0].written)
    told = (json.loads(one.written) for one in (*made.lots, *made.commons))
    ranges = [(each["low"], each["high"]) for each in told]
    known = all(low is not None for low, _ in ranges)
    return {
        "book": first["book"],
        "currency": first["currency"],
        "low": str(sum(Decimal(low) for low, _ in ranges)) if known else None,
        "high": str(sum(Decimal(high) for _, high in ranges)) if known else None,
        "stated": sum(1 for one in (*made.lots, *made.commons) if one.is_stated),
    }


def _write_lines(quote: PortfolioQuote, made: _Made, shared: SharedPortfolio) -> None:
    pays = [*shared.lots, *([None] * len(made.commons))]
    pairs = list(enumerate(zip([*made.lots, *made.commons], pays, strict=True), start=1))
    for start in range(0, len(pairs), _BATCH):
        PortfolioLine.objects.bulk_create(
            _line(quote, position, one, lot) for position, (one, lot) in pairs[start:][:_BATCH]
        )


def _line(
    quote: PortfolioQuote, position: int, one: PlacePriced, lot: LotPays | None
) -> PortfolioLine:
    own = one.asked
    assert own is not None  # noqa: S101  a quote with faults has no lines
    return PortfolioLine(
        quote=quote,
        place=one.member.place,
        position=position,
        is_common=lot is None,
        is_stated=one.is_stated,
        area_m2=one.area_m2,
        own_net=own.net,
        own_tax=own.tax,
        net=Decimal("0.00") if lot is None else lot.net,
        tax=Decimal("0.00") if lot is None else lot.tax,
        price=json.loads(one.written),
        shares=[] if lot is None else [figure_as_json(figure) for figure in lot.figures],
    )
