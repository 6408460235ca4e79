"""Pages of price books: rows that come and go, faults beside their boxes, two people at once."""

from typing import Any

import pytest
from django.test import Client

from planner.core.pricing.terms import terms_of
from planner.models import PriceBook, TaxRule
from planner.selectors.prices import newest_version
from planner.services.prices import keep_price_book
from planner.web.forms.prices import initial_of
from properties.models import Person, Property
from tests.planner.core.pricing.asking import book
from tests.prices import PRICED_AT


@pytest.fixture
def typed(price_book: PriceBook) -> dict[str, Any]:
    """The form as somebody who changes nothing sends it."""
    version = newest_version(price_book)
    told = initial_of(price_book, version.number, version.terms)
    return {name: value for name, value in told.items() if value is not None} | {"note": ""}


@pytest.fixture
def office_client(client: Client, office: Person) -> Client:
    client.force_login(office)
    return client


def edit(client: Client, price_book: PriceBook, typed: dict[str, Any]) -> Any:
    return client.post(f"/prices/{price_book.pk}/edit/", typed)


def test_an_edit_is_kept_as_the_next_version(
    office_client: Client, price_book: PriceBook, typed: dict[str, Any]
) -> None:
    answer = edit(office_client, price_book, typed | {"minimum": "$1,050.00"})

    assert answer.status_code == 302
    version = price_book.versions.first()
    assert version is not None
    assert (version.number, version.terms["minimum"]) == (2, "1050")


def test_a_row_is_added_and_taken_out_without_losing_what_was_typed(
    office_client: Client, price_book: PriceBook, typed: dict[str, Any]
) -> None:
    wrong = typed | {"minimum": "not yet known"}

    more = edit(office_client, price_book, wrong | {"add_band": "1"})
    less = edit(office_client, price_book, wrong | {"remove_band_1": "1"})

    assert more.status_code == less.status_code == 200
    assert 'name="band_4_rate"' in more.content.decode()
    for page in (more, less):
        assert 'value="not yet known"' in page.content.decode()
    form = less.context["form"]
    assert form["band_1_up_to"].value() == "10000"
    assert len(form.band_rows.rows()) == 2
    assert price_book.versions.count() == 1


@pytest.mark.parametrize("count", ["many", "", "900", "-3"])
@pytest.mark.parametrize(
    "press", ["add_band", "remove_band_77", "remove_discount_1", "add_discount"]
)
def test_a_count_that_is_none_breaks_no_page(
    office_client: Client, price_book: PriceBook, typed: dict[str, Any], count: str, press: str
) -> None:
    odd = typed | {"bands": count, "discount_rows": count, press: "1"}

    assert edit(office_client, price_book, odd).status_code == 200
    assert edit(office_client, price_book, odd | {"seen": "x"}).status_code == 200


@pytest.mark.parametrize(
    ("changed", "field", "words"),
    [
        ({"margin_percent": "100"}, "margin_percent", "leaves nothing"),
        ({"minimum": "12,5"}, "minimum", "Enter a number such as 12.50"),
        ({"band_2_up_to": "4000"}, "band_2_up_to", "larger area"),
        ({"band_2_rate": ""}, "band_2_rate", "what this band costs"),
        (
            {"discount_1_name": "Ahead", "discount_1_when": "prepaid"},
            "discount_1_percent",
            "share or an amount",
        ),
        ({"discount_1_percent": "5"}, "discount_1_name", "what it is called"),
        ({"wage_per_hour": "-3"}, "wage_per_hour", "greater than or equal to 0"),
    ],
)
def test_a_fault_stands_beside_its_box_and_nothing_typed_is_lost(
    office_client: Client,
    price_book: PriceBook,
    typed: dict[str, Any],
    changed: dict[str, str],
    field: str,
    words: str,
) -> None:
    answer = edit(office_client, price_book, typed | changed)

    assert answer.status_code == 422
    form = answer.context["form"]
    assert words in " ".join(form.errors[field])
    assert form["name"].value() == "Homes"
    for name, value in changed.items():
        assert form[name].value() == value


def test_the_second_of_two_people_sees_what_the_first_changed(
    office_client: Client, owner: Person, price_book: PriceBook, typed: dict[str, Any]
) -> None:
    theirs = terms_of(book(minimum=book().minimum + 5))
    keep_price_book(price_book, theirs, person=owner, at=PRICED_AT, seen=1)

    told = edit(office_client, price_book, typed | {"margin_percent": "35"})

    page = told.content.decode()
    assert told.status_code == 422
    assert "Olive kept version 2" in page
    assert "Minimum charge for a visit" in page
    assert told.context["form"]["margin_percent"].value() == "35"
    assert price_book.versions.count() == 2

    kept = edit(office_client, price_book, typed | {"seen": str(told.context["seen"])})
    assert kept.status_code == 302
    assert price_book.versions.count() == 3


def test_a_first_book_is_made_from_an_empty_form(
    office_client: Client, typed: dict[str, Any], price_book: PriceBook
) -> None:
    answer = office_client.post("/prices/new/", typed | {"name": "Grounds", "seen": "0"})

    assert answer.status_code == 302
    assert PriceBook.objects.get(name="Grounds").versions.count() == 1


def test_other_units_ask_for_another_look_before_a_new_book_is_kept(
    office_client: Client, typed: dict[str, Any], price_book: PriceBook
) -> None:
    metric = typed | {"name": "Grounds", "seen": "0", "units": "metric", "labelled": "us"}

    told = office_client.post("/prices/new/", metric)

    assert told.status_code == 422
    assert "Check every number" in told.content.decode()
    assert "price for 100 m²" in told.content.decode()
    kept = office_client.post("/prices/new/", metric | {"labelled": told.context["form"].labelled})
    assert kept.status_code == 302


def test_a_book_keeps_its_units(
    office_client: Client, price_book: PriceBook, typed: dict[str, Any]
) -> None:
    answer = edit(office_client, price_book, typed | {"units": "metric"})

    assert answer.status_code == 422
    assert "units" in answer.context["form"].errors
    assert "price for 1,000 sq ft" in answer.content.decode()


def test_two_versions_are_compared_in_the_words_of_the_form(
    office_client: Client, owner: Person, price_book: PriceBook
) -> None:
    dearer = terms_of(book(minimum=book().minimum + 5, pace_min=None, trim=book().minimum))
    keep_price_book(price_book, dearer, person=owner, at=PRICED_AT, seen=1)

    page = office_client.get(f"/prices/{price_book.pk}/?older=1&newer=2").content.decode()

    assert "From version 1 to version 2" in page
    assert "Work where there are no passes" in page
    assert office_client.get(f"/prices/{price_book.pk}/?older=1&newer=9").status_code == 404


def test_a_rate_of_tax_is_kept_with_who_checked_it(
    office_client: Client, office: Person, place: Property
) -> None:
    typed = {
        "name": "State",
        "percent": "6.25",
        "taxed": "everything",
        "source": "Invented code",
        "from_on": "2026-01-01",
    }

    assert office_client.post("/prices/tax/new/", typed).status_code == 302
    at_place = f"/properties/{place.pk}/price/tax/new/"
    assert office_client.post(at_place, typed | {"name": "District"}).status_code == 302

    assert TaxRule.objects.get(name="State").checked_by == office
    assert TaxRule.objects.get(name="District").only_at == place


def test_a_rate_above_all_is_refused_beside_its_box(office_client: Client) -> None:
    answer = office_client.post("/prices/tax/new/", {"percent": "101", "name": "State"})

    assert answer.status_code == 422
    assert "percent" in answer.context["form"].errors
    assert 'value="101"' in answer.content.decode()
