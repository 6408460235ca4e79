"""Many properties on one quote: worked out in the background, whole or not at all."""

from dataclasses import replace
from datetime import date, timedelta
from decimal import Decimal
from typing import Any

import pytest
from django.db import connection
from django.utils import timezone

from planner.core.portfolio import Sharing
from planner.models import (
    Job,
    Portfolio,
    PortfolioLine,
    PortfolioQuote,
    Programme,
)
from planner.selectors.portfolios import PortfolioAsked
from planner.selectors.prices import PriceAsked, price_for
from planner.services.portfolio_answers import accept_portfolio_quote
from planner.services.portfolio_quotes import ask_portfolio_quote, quote_portfolio
from planner.services.portfolios import PortfolioFacts, begin_portfolio, keep_portfolio
from properties.core.errors import Refused
from properties.models import Person, Property
from properties.services.errands import stop
from tests.portfolios import ASKED_AT

D = Decimal


@pytest.fixture
def kept(settings: object) -> None:
    """Leave errands in the table, as the service does."""
    settings.TASKS = {  # type: ignore[attr-defined]
        "default": {"BACKEND": "django_tasks_db.DatabaseBackend"}
    }


def test_a_portfolio_begins_with_all_of_a_customer_as_lots(
    owner: Person, place: Property, green: Property
) -> None:
    begun = begin_portfolio(
        person=owner, name="All", customer=place.customer, sharing=Sharing.AREA, at=ASKED_AT
    )

    members = begun.members.values_list("place", "is_common")
    assert set(members) == {(place.pk, False), (green.pk, False)}


def test_the_lots_together_pay_the_whole_to_the_cent(portfolio_quote: PortfolioQuote) -> None:
    lines = list(portfolio_quote.lines.all())
    lots = [line for line in lines if not line.is_common]

    assert [line.place.name for line in lines] == ["Small lot", "Stated lot", "Green"]
    assert sum(line.net for line in lots) == sum(line.own_net for line in lines)
    assert sum(line.tax for line in lots) == sum(line.own_tax for line in lines)
    assert sum(line.total for line in lots) == portfolio_quote.total
    assert abs(lots[0].common_net - lots[1].common_net) <= D("0.01")
    assert lots[0].common_net + lots[1].common_net == lines[2].own_net


def test_a_lot_costs_what_it_costs_by_itself(
    owner: Person, place: Property, portfolio_quote: PortfolioQuote, asked: PortfolioAsked
) -> None:
    alone = price_for(owner, PriceAsked(place, asked.on, programme=asked.programme))

    line = portfolio_quote.lines.get(place=place)
    assert line.own_net == alone.price.price
    assert line.price["rounds"] == [each.pk for each in asked.programme.rounds.all()]


def test_a_stated_area_is_priced_with_its_error_and_says_so(
    stated_lot: Property, portfolio_quote: PortfolioQuote
) -> None:
    line = portfolio_quote.lines.get(place=stated_lot)

    # 5,000 sq ft (0.09290304 m² each, NIST Handbook 44), out by 15 %: 1.96 standard deviations.
    work_m2 = 5_000 * 0.09290304
    assert line.area_m2 == pytest.approx(work_m2, rel=1e-6)
    assert line.is_stated
    codes = {warning["code"] for warning in line.price["warnings"]}
    assert "stated_area" in codes
    low, high = (D(line.price[end]) for end in ("low", "high"))
    assert low < line.own_net < high
    assert portfolio_quote.terms["stated"] == 2


def test_the_error_bar_of_a_stated_area_is_that_of_the_firm(
    owner: Person, stated_lot: Property, asked: PortfolioAsked, containers: object
) -> None:
    priced = price_for(owner, PriceAsked(stated_lot, asked.on, programme=asked.programme))

    visit = priced.price.work.visits[0]
    assert visit.off_m2 == pytest.approx(1.96 * 0.15 * visit.area_m2, rel=1e-3)


def test_a_round_that_is_over_is_not_sold(
    owner: Person, portfolio: Portfolio, asked: PortfolioAsked, containers: object
) -> None:
    late = replace(asked, on=date(2026, 7, 1))
    ask_portfolio_quote(portfolio, late, person=owner, at=ASKED_AT)

    line = PortfolioQuote.objects.get().lines.all()[0]
    assert [visit["name"] for visit in line.price["visits"]] == ["Autumn"]


def test_a_property_that_cannot_be_priced_leaves_no_price_and_every_reason(
    owner: Person, portfolio: Portfolio, asked: PortfolioAsked, stated_lot: Property
) -> None:
    stated_lot.stated_area.delete()

    ask_portfolio_quote(portfolio, asked, person=owner, at=ASKED_AT)

    quote = PortfolioQuote.objects.get()
    assert quote.total is None
    assert {fault["name"] for fault in quote.faults} >= {"Stated lot"}
    assert not PortfolioLine.objects.exists()
    with pytest.raises(Refused, match="no price"):
        accept_portfolio_quote(
            quote, name="Wren", on=timezone.localdate(), person=owner, at=timezone.now()
        )


@pytest.mark.usefixtures("kept")
def test_a_quote_that_is_stopped_has_made_nothing(
    owner: Person, portfolio: Portfolio, asked: PortfolioAsked, containers: object
) -> None:
    errand = ask_portfolio_quote(portfolio, asked, person=owner, at=ASKED_AT)

    def stopping(execute: Any, sql: str, *rest: Any) -> Any:
        # Somebody presses the button while the first property is being priced.
        if "planner_pastapplication" in sql:
            stop(errand, at=timezone.now())
        return execute(sql, *rest)

    with connection.execute_wrapper(stopping):
        quote_portfolio.call(errand.pk)

    errand.refresh_from_db()
    assert errand.state == "stopped"
    assert not PortfolioQuote.objects.exists()


@pytest.mark.usefixtures("kept")
def test_a_portfolio_that_changes_meanwhile_is_not_quoted_as_it_was(
    owner: Person, portfolio: Portfolio, asked: PortfolioAsked, containers: object
) -> None:
    errand = ask_portfolio_quote(portfolio, asked, person=owner, at=ASKED_AT)
    keep_portfolio(
        portfolio,
        PortfolioFacts("Other", Sharing.AREA),
        person=owner,
        edition=portfolio.edition,
        at=ASKED_AT,
    )

    quote_portfolio.call(errand.pk)

    errand.refresh_from_db()
    assert errand.state == "failed"
    assert "changed meanwhile" in errand.message
    assert not PortfolioQuote.objects.exists()


def test_accepting_makes_the_jobs_of_every_property_once(
    owner: Person, portfolio_quote: PortfolioQuote, programme: Programme
) -> None:
    now = timezone.now()
    told = {"name": "Wren Alder", "on": timezone.localdate(now), "person": owner, "at": now}

    accept_portfolio_quote(portfolio_quote, **told)  # type: ignore[arg-type]

    assert Job.objects.count() == 3 * programme.rounds.count()
    line = portfolio_quote.lines.all()[0]
    prices = Job.objects.filter(place=line.place).values_list("price", flat=True)
    assert sum(price or 0 for price in prices) == sum(
        D(visit["price"]) for visit in line.price["visits"]
    )
    with pytest.raises(Refused, match="accepted already"):
        accept_portfolio_quote(portfolio_quote, **told)  # type: ignore[arg-type]
    assert Job.objects.count() == 3 * programme.rounds.count()


def test_an_older_quote_is_not_accepted_and_no_day_to_come(
    owner: Person, portfolio: Portfolio, portfolio_quote: PortfolioQuote, asked: PortfolioAsked
) -> None:
    now = timezone.now()
    today = timezone.localdate(now)
    with pytest.raises(Refused, match="has not come yet"):
        accept_portfolio_quote(
            portfolio_quote, name="Wren", on=today + timedelta(days=1), person=owner, at=now
        )

    ask_portfolio_quote(portfolio, asked, person=owner, at=now)

    with pytest.raises(Refused, match="newer quote"):
        accept_portfolio_quote(portfolio_quote, name="Wren", on=today, person=owner, at=now)
    assert not Job.objects.exists()


def test_the_second_of_two_who_edit_is_told_and_nothing_is_written_over(
    owner: Person, office: Person, portfolio: Portfolio
) -> None:
    edition = portfolio.edition
    keep_portfolio(
        portfolio,
        PortfolioFacts("Named by Percy", Sharing.AREA),
        person=office,
        edition=edition,
        at=ASKED_AT,
    )

    with pytest.raises(Refused, match="Percy changed this portfolio"):
        keep_portfolio(
            portfolio,
            PortfolioFacts("Named by Olive", Sharing.AREA),
            person=owner,
            edition=edition,
            at=ASKED_AT,
        )

    portfolio.refresh_from_db()
    assert portfolio.name == "Named by Percy"


def test_given_shares_are_needed_from_every_lot(
    owner: Person, portfolio: Portfolio, place: Property, stated_lot: Property, green: Property
) -> None:
    def told(**shares: Decimal) -> PortfolioFacts:
        return PortfolioFacts(
            "Lots",
            Sharing.GIVEN,
            commons=frozenset({green.pk}),
            shares={place.pk: shares.get("lot"), stated_lot.pk: shares.get("stated")},
        )

    edition = portfolio.edition
    for facts, words in (
        (told(lot=D(1)), "Stated lot has no share"),
        (told(lot=D(0), stated=D(0)), "above zero"),
    ):
        with pytest.raises(Refused, match=words):
            keep_portfolio(portfolio, facts, person=owner, edition=edition, at=ASKED_AT)

    kept = keep_portfolio(
        portfolio, told(lot=D(2), stated=D(1)), person=owner, edition=edition, at=ASKED_AT
    )
    assert kept.members.get(place=place).share == 2


def test_properties_are_taken_out_and_added_again_and_one_has_to_stay(
    owner: Person, portfolio: Portfolio, place: Property, stated_lot: Property
) -> None:
    out = PortfolioFacts("Lots", Sharing.EQUAL, left_out=frozenset({place.pk}))
    less = keep_portfolio(portfolio, out, person=owner, edition=portfolio.edition, at=ASKED_AT)
    assert less.members.count() == 2

    back = PortfolioFacts("Lots", Sharing.EQUAL, add_the_others=True)
    again = keep_portfolio(less, back, person=owner, edition=less.edition, at=ASKED_AT)
    assert again.members.count() == 3

    every = PortfolioFacts(
        "Lots", Sharing.EQUAL, commons=frozenset(again.members.values_list("place", flat=True))
    )
    with pytest.raises(Refused, match="No property is left to pay"):
        keep_portfolio(again, every, person=owner, edition=again.edition, at=ASKED_AT)


def test_a_portfolio_without_a_lot_is_not_quoted(
    owner: Person, place: Property, asked: PortfolioAsked
) -> None:
    empty = Portfolio.objects.create(
        firm=owner.firm, name="Empty", customer=place.customer, edited_at=ASKED_AT
    )

    with pytest.raises(Refused, match="No property is there to pay"):
        ask_portfolio_quote(empty, asked, person=owner, at=ASKED_AT)
