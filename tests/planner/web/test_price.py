"""The page of a price says what the price says, and what it lacks."""

from decimal import Decimal

import pytest
from django.test import Client

from planner.models import Container, Machine, Mix, PriceBook, Programme, TaxRule
from planner.web.price_picture import make_up_bar
from properties.models import Person, Property


def ask(place: Property, **typed: object) -> str:
    query = "&".join(f"{name}={value}" for name, value in typed.items())
    return f"/properties/{place.pk}/price/?{query}"


@pytest.fixture
def one_visit(place: Property, machine: Machine, mix: Mix, price_book: PriceBook) -> str:
    """The address that asks for the price of one visit with the mix."""
    return ask(place, book=price_book.pk, mix=mix.pk, machine=machine.pk)


def test_a_visit_is_priced_with_its_make_up_and_working(
    client: Client,
    office: Person,
    one_visit: str,
    containers: list[Container],
    tax_rule: TaxRule,
) -> None:
    client.force_login(office)

    answer = client.get(f"{one_visit}&travel_min=30")

    page = answer.content.decode()
    price = answer.context["price"]
    assert answer.status_code == 200
    assert f"${Decimal(price['net']):,.2f}" in page
    assert "Town, 6 % of the whole price" in page
    assert "price before tax − (part 1 + part 2 + part 3 + part 4)" in page
    # By hand: 30 minutes at 36 an hour.
    travel = next(c for c in price["visits"][0]["costs"] if c["key"] == "travel")
    assert travel["amount"] == "18.00"


def test_a_programme_is_priced_with_its_rounds(
    client: Client,
    office: Person,
    place: Property,
    programme: Programme,
    price_book: PriceBook,
    containers: list[Container],
) -> None:
    client.force_login(office)

    answer = client.get(ask(place, book=price_book.pk, programme=programme.pk))

    assert [visit["name"] for visit in answer.context["visits"]] == ["Spring", "Summer", "Autumn"]
    assert "No rate of tax is kept" in answer.content.decode()


def test_what_is_not_known_is_told_and_what_was_asked_stays(
    client: Client, office: Person, mix: Mix, one_visit: str
) -> None:
    client.force_login(office)

    answer = client.get(one_visit)

    assert answer.status_code == 422
    assert "Nobody says what" in answer.content.decode()
    assert answer.context["form"]["mix"].value() == str(mix.pk)


def test_a_visit_needs_a_machine_and_a_price_needs_something_to_do(
    client: Client,
    office: Person,
    place: Property,
    mix: Mix,
    programme: Programme,
    price_book: PriceBook,
) -> None:
    client.force_login(office)
    told = {
        "machine": ask(place, book=price_book.pk, mix=mix.pk),
        "programme": ask(place, book=price_book.pk),
        "mix": ask(place, book=price_book.pk, mix=mix.pk, programme=programme.pk),
    }

    for field, address in told.items():
        answer = client.get(address)
        assert answer.status_code == 422
        assert field in answer.context["form"].errors


def test_without_a_book_the_page_leads_to_one(
    client: Client, office: Person, place: Property
) -> None:
    client.force_login(office)

    assert "/prices/new/" in client.get(ask(place)).content.decode()


PARTS = [
    {"key": "make_up.material", "name": "Material", "amount": "30.00"},
    {"key": "make_up.margin", "name": "Margin", "amount": "10.00"},
]


def test_the_bar_is_the_price_and_its_parts_fill_it() -> None:
    bar = make_up_bar(PARTS, net=Decimal(40))

    assert [part["width"] for part in bar["parts"]] == ["480.00", "160.00"]
    assert bar["price_x"] is None


def test_where_the_price_does_not_pay_the_cost_the_bar_is_the_cost() -> None:
    loss = [PARTS[0], PARTS[1] | {"amount": "-10.00"}]

    bar = make_up_bar(loss, net=Decimal(20))

    assert bar["price_x"] == "426.67"
    assert bar["parts"][1]["width"] == "0.00"
    assert bar["parts"][1]["percent"] == "−50 %"


def test_no_price_and_no_cost_make_no_bar() -> None:
    bar = make_up_bar([PARTS[0] | {"amount": "0.00"}], net=Decimal(0))

    assert bar["parts"][0]["width"] == "0.00"
    assert bar["parts"][0]["percent"] == "–"
