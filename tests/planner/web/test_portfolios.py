"""Pages about portfolios: members and roles, the quote, one price, the file, the answer."""

import csv
import io
from typing import Any

import pytest
from django.test import Client
from django.urls import reverse
from django.utils import timezone

from planner.models import Job, Machine, Mix, Portfolio, PortfolioQuote, PriceBook, Programme
from properties.models import Errand, Person, Property


def _form(portfolio: Portfolio, **changed: Any) -> dict[str, Any]:
    return {"edition": portfolio.edition, "name": "Lots", "sharing": "equal"} | changed


def test_a_portfolio_is_begun_with_a_customer_and_its_common_area_ticked(
    client: Client, office: Person, place: Property, green: Property
) -> None:
    client.force_login(office)

    begun = client.post(
        reverse("portfolios"),
        {"name": "Lots", "customer": place.customer_id, "sharing": "equal"},
        follow=True,
    )
    portfolio = Portfolio.objects.get()
    page = client.post(
        portfolio.get_absolute_url(), _form(portfolio, common=[green.pk]), follow=True
    )

    assert "2 lots, 0 common areas" in begun.content.decode()
    assert "1 lot, 1 common area" in page.content.decode()
    assert "18,000 sq ft, as stated" in page.content.decode()


def test_a_share_that_is_no_number_is_said_beside_it_and_nothing_is_lost(
    client: Client, owner: Person, portfolio: Portfolio, place: Property, green: Property
) -> None:
    client.force_login(owner)

    answer = client.post(
        portfolio.get_absolute_url(),
        _form(portfolio, sharing="given", common=[green.pk], **{f"share_{place.pk}": "half"}),
    )

    page = answer.content.decode()
    assert answer.status_code == 422
    assert "Enter a number such as 12.50." in page
    assert 'value="half"' in page
    assert page.count(" checked") == 1


def test_a_share_that_is_missing_is_said_beside_its_lot(
    client: Client, owner: Person, portfolio: Portfolio, place: Property, green: Property
) -> None:
    client.force_login(owner)

    answer = client.post(
        portfolio.get_absolute_url(),
        _form(portfolio, sharing="given", common=[green.pk], **{f"share_{place.pk}": "1"}),
    )

    assert answer.status_code == 422
    assert "Stated lot has no share" in answer.content.decode()


def test_the_second_of_two_who_edit_is_told(
    client: Client, owner: Person, portfolio: Portfolio
) -> None:
    client.force_login(owner)
    old = _form(portfolio, name="Mine")
    client.post(portfolio.get_absolute_url(), _form(portfolio, name="Theirs"))

    answer = client.post(portfolio.get_absolute_url(), old)

    assert answer.status_code == 422
    assert "changed this portfolio after you opened it" in answer.content.decode()
    portfolio.refresh_from_db()
    assert portfolio.name == "Theirs"


def test_the_quote_is_asked_for_and_its_page_tells_what_each_lot_pays(
    client: Client,
    owner: Person,
    portfolio: Portfolio,
    programme: Programme,
    price_book: PriceBook,
    containers: object,
) -> None:
    client.force_login(owner)
    year = timezone.now().year + 1

    answer = client.post(
        reverse("quote_portfolio", args=[portfolio.pk]),
        {"programme": programme.pk, "year": year, "book": price_book.pk},
    )
    errand = Errand.objects.get()
    assert answer["Location"] == errand.get_absolute_url()
    page = client.get(errand.outcome_url).content.decode()

    assert "to pay for all lots" in page
    assert "shared by equal parts" in page
    assert "2 of the areas are as stated, not drawn" in page
    assert page.count("as stated</span>") == 1


def test_a_quote_without_a_programme_is_not_asked_for(
    client: Client, owner: Person, portfolio: Portfolio
) -> None:
    client.force_login(owner)

    answer = client.post(reverse("quote_portfolio", args=[portfolio.pk]), {"year": "26"})

    assert answer.status_code == 422
    assert {"programme", "year", "book"} <= answer.context["asking"].errors.keys()
    assert not Errand.objects.exists()


def test_the_price_of_a_lot_opens_to_its_shares(
    client: Client, office: Person, portfolio_quote: PortfolioQuote, place: Property
) -> None:
    client.force_login(office)

    page = client.get(
        reverse("portfolio_line", args=[portfolio_quote.pk, place.pk])
    ).content.decode()

    assert "Share of Green" in page
    assert "price of the common area × weight of the lot / all weights" in page
    # Costs are for whoever may see margins.
    assert "What it costs you" not in page


def test_the_file_of_the_lots_adds_up(
    client: Client, owner: Person, portfolio_quote: PortfolioQuote
) -> None:
    client.force_login(owner)

    answer = client.get(reverse("portfolio_csv", args=[portfolio_quote.pk]))

    rows = list(csv.reader(io.StringIO(answer.content.decode("utf-8-sig"))))
    cents = [round(100 * float(row[5])) for row in rows[1:]]
    assert sum(cents[:-1]) == cents[-1]
    assert rows[-1][0] == "All lots"


def test_who_said_yes_is_taken_down_and_the_jobs_are_made(
    client: Client, owner: Person, portfolio_quote: PortfolioQuote
) -> None:
    client.force_login(owner)
    told = {"name": "Wren Alder", "on": timezone.localdate().isoformat()}

    page = client.post(portfolio_quote.get_absolute_url(), told, follow=True).content.decode()

    assert "by Wren Alder" in page
    assert Job.objects.filter(price__isnull=False).count() == Job.objects.count() == 9
    assert "They said yes" not in page


def test_an_answer_without_a_name_is_not_taken_down(
    client: Client, owner: Person, portfolio_quote: PortfolioQuote
) -> None:
    client.force_login(owner)

    answer = client.post(portfolio_quote.get_absolute_url(), {"name": "", "on": "2020-01-01"})

    assert answer.status_code == 422
    assert not Job.objects.exists()


def test_what_cannot_be_priced_is_named_with_a_link(
    client: Client,
    owner: Person,
    portfolio: Portfolio,
    stated_lot: Property,
    programme: Programme,
    price_book: PriceBook,
) -> None:
    stated_lot.stated_area.delete()
    client.force_login(owner)
    client.post(
        reverse("quote_portfolio", args=[portfolio.pk]),
        {"programme": programme.pk, "year": timezone.now().year + 1, "book": price_book.pk},
    )

    page = client.get(PortfolioQuote.objects.get().get_absolute_url()).content.decode()

    assert "No quote: some properties cannot be priced" in page
    assert f'href="{stated_lot.get_absolute_url()}"' in page


@pytest.mark.parametrize("who", ["crew", "stranger"])
def test_crew_and_strangers_have_no_part_in_it(
    request: pytest.FixtureRequest,
    client: Client,
    portfolio_quote: PortfolioQuote,
    place: Property,
    who: str,
) -> None:
    client.force_login(request.getfixturevalue(who))
    status = 403 if who == "crew" else 404

    line = client.get(reverse("portfolio_line", args=[portfolio_quote.pk, place.pk]))
    asked = client.post(reverse("quote_portfolio", args=[portfolio_quote.portfolio_id]))

    assert (line.status_code, asked.status_code) == (status, status)


def test_no_plan_of_spraying_is_made_from_a_stated_area(
    client: Client, owner: Person, stated_lot: Property, machine: Machine, mix: Mix
) -> None:
    client.force_login(owner)

    answer = client.get(
        reverse("plan", args=[stated_lot.pk]), {"machine": machine.pk, "mix": mix.pk}
    )

    assert answer.status_code == 422
    assert "No turf is drawn. Draw the turf that is to be sprayed." in answer.content.decode()


def test_the_price_page_of_a_stated_area_says_what_it_rests_on(
    client: Client,
    owner: Person,
    stated_lot: Property,
    programme: Programme,
    price_book: PriceBook,
    containers: object,
) -> None:
    client.force_login(owner)

    page = client.get(
        reverse("price", args=[stated_lot.pk]),
        {"book": price_book.pk, "programme": programme.pk},
    ).content.decode()

    assert "5,000 sq ft is what was stated" in page
    assert "out by 15 % (one standard deviation" in page
    assert "common practice" in page
