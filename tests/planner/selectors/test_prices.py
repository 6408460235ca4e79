"""A price is worked out from what is drawn, kept and known, on the day and at the place."""

from dataclasses import replace
from datetime import date, timedelta
from decimal import Decimal

import pytest

from planner.core.pricing.terms import terms_of
from planner.models import Container, Machine, Mix, PriceBook, Product, Programme, TaxRule
from planner.selectors.plans import Asked, plan_for, request_for
from planner.selectors.priced_visits import PriceAsked
from planner.selectors.prices import (
    container_costs,
    price_books_of,
    price_for,
    tax_rules_of,
    taxes_at,
    version_changes,
)
from planner.services.applications import Entered, say_known_since
from planner.services.labels import keep_label
from planner.services.prices import keep_price_book
from planner.services.stock import keep_container
from properties.core.errors import FaultsFound, Refused
from properties.core.units import Quantity, parse_quantity
from properties.models import Firm, Person, Property
from properties.services.places import add_property
from tests.places import facts
from tests.planner.core.pricing.asking import book
from tests.prices import PRICED_AT

ON = date(2026, 4, 20)


@pytest.fixture
def asked(place: Property, machine: Machine, mix: Mix) -> PriceAsked:
    return PriceAsked(place, ON, mix=mix, machine=machine)


def test_the_price_is_of_the_plan_that_the_page_shows(
    asked: PriceAsked, owner: Person, price_book: PriceBook, containers: list[Container]
) -> None:
    assert asked.machine is not None
    assert asked.mix is not None
    plan = plan_for(request_for(owner, Asked(asked.place, asked.machine, asked.mix), day=ON))

    visit = price_for(owner, asked).price.work.visits[0]

    area = plan["treatable_area"]
    assert Quantity(visit.area_m2, "m2").to(area["unit"]).value == pytest.approx(
        area["value"], rel=1e-12
    )
    assert visit.products[0].amount.value == pytest.approx(
        plan["products"][0]["amount_to_measure"]["value"], rel=1e-12
    )


@pytest.fixture
def season_asked(
    asked: PriceAsked,
    programme: Programme,
    price_book: PriceBook,
    containers: list[Container],
) -> PriceAsked:
    return replace(asked, programme=programme, on=date(2026, 1, 5))


def test_a_programme_is_priced_round_by_round(season_asked: PriceAsked, owner: Person) -> None:
    priced = price_for(owner, season_asked)

    assert [each.visit.name for each in priced.price.visits] == ["Spring", "Summer", "Autumn"]
    assert priced.version.number == 1
    assert priced.price.book.name == "Homes"


@pytest.mark.parametrize(
    ("on", "names"),
    [
        (date(2026, 7, 20), ["Autumn"]),
        (date(2026, 12, 1), ["Spring", "Summer", "Autumn"]),
    ],
)
def test_only_rounds_that_are_left_are_priced_or_those_of_the_next_year(
    season_asked: PriceAsked, owner: Person, on: date, names: list[str]
) -> None:
    priced = price_for(owner, replace(season_asked, on=on))

    assert [each.visit.name for each in priced.price.visits] == names


def test_a_year_whose_rounds_are_over_has_no_price(season_asked: PriceAsked, owner: Person) -> None:
    over = replace(season_asked, on=date(2026, 12, 1), year=2026)

    with pytest.raises(Refused, match="No round of Weeds all year is left"):
        price_for(owner, over)


def test_a_round_that_must_not_be_done_is_left_out_and_told(
    season_asked: PriceAsked, owner: Person, product: Product
) -> None:
    say_known_since(season_asked.place, since=date(2024, 1, 1), entered=Entered(owner, PRICED_AT))
    product.per_year = Quantity(2.0, "fl oz/1000 sq ft")
    keep_label(product, setbacks={"pond": Quantity(25.0, "ft")})

    priced = price_for(owner, season_asked)

    # Three rounds of 0.8 are more than 2.0 a year.
    assert [each.visit.name for each in priced.price.visits] == ["Spring", "Summer"]
    assert {name for name, _ in priced.left_out} == {"Autumn"}


def test_a_season_of_which_no_round_may_be_done_has_no_price(
    season_asked: PriceAsked, owner: Person, product: Product
) -> None:
    say_known_since(season_asked.place, since=date(2024, 1, 1), entered=Entered(owner, PRICED_AT))
    product.per_year = Quantity(0.5, "fl oz/1000 sq ft")
    keep_label(product, setbacks={"pond": Quantity(25.0, "ft")})

    with pytest.raises(FaultsFound, match="must not be done"):
        price_for(owner, season_asked)


def test_a_product_whose_cost_nobody_knows_has_no_price(
    asked: PriceAsked, owner: Person, price_book: PriceBook
) -> None:
    with pytest.raises(FaultsFound, match="Nobody says what"):
        price_for(owner, asked)


def test_without_a_book_or_a_mix_it_says_what_to_do(asked: PriceAsked, owner: Person) -> None:
    with pytest.raises(Refused, match="no price book yet"):
        price_for(owner, asked)
    with pytest.raises(Refused, match="Nothing is chosen"):
        price_for(owner, replace(asked, mix=None))


def test_of_several_containers_the_dearest_counts(
    firm: Firm, product: Product, containers: list[Container]
) -> None:
    for size, price, offered in (
        ("1 gal", "70", True),
        ("1 qt", "90", False),
        ("5 gal", None, True),
    ):
        keep_container(
            Container(
                product=product,
                size=parse_quantity(size),
                price=None if price is None else Decimal(price),
                is_offered=offered,
            )
        )

    # 70.00 for 1 gal is more than 160.00 for 2.5; the quart is not bought any more.
    assert container_costs(firm)[product.name].price == Decimal(70)


def test_a_tax_holds_where_the_address_says_and_while_it_lasts(
    place: Property, tax_rule: TaxRule
) -> None:
    assert [rate.percent for rate in taxes_at(place, ON)] == [Decimal(6)]
    assert taxes_at(place, tax_rule.from_on - timedelta(days=1)) == ()

    tax_rule.to_on = ON
    tax_rule.save()
    assert taxes_at(place, ON + timedelta(days=1)) == ()

    tax_rule.to_on, tax_rule.where = None, "Another Town"
    tax_rule.save()
    assert taxes_at(place, ON) == ()


@pytest.mark.parametrize(
    ("where", "holds"),
    [("", True), ("TEASEL ROW", True), ("Ferry", True), ("Fer", False), ("easel", False)],
)
def test_words_of_an_address_are_whole_words(
    place: Property, tax_rule: TaxRule, where: str, holds: bool
) -> None:
    # 3 Teasel Row, Hazel Ferry
    tax_rule.where = where
    tax_rule.save()

    assert bool(taxes_at(place, ON)) is holds


def test_a_tax_at_one_property_holds_nowhere_else(
    place: Property, owner: Person, tax_rule: TaxRule
) -> None:
    other = add_property(firm=owner.firm, facts=facts(name="Other lot"))
    tax_rule.only_at, tax_rule.where = other, ""
    tax_rule.save()

    assert taxes_at(place, ON) == ()
    assert len(taxes_at(other, ON)) == 1


def test_a_book_in_another_currency_is_refused(
    asked: PriceAsked, owner: Person, price_book: PriceBook, containers: list[Container]
) -> None:
    owner.firm.currency = "EUR"
    owner.firm.save()

    with pytest.raises(Refused, match="counts in USD"):
        price_for(owner, asked)


def test_versions_are_compared_term_by_term(price_book: PriceBook, owner: Person) -> None:
    dearer = terms_of(book(minimum=Decimal(50), pace_min=None))
    newer = keep_price_book(price_book, dearer, person=owner, at=PRICED_AT, seen=1)

    changes = version_changes(price_book.versions.get(number=1), newer)

    assert changes == [
        {"term": "minimum", "before": "45", "after": "50"},
        {"term": "costs.pace_min", "before": "2.5", "after": ""},
    ]


def test_a_stranger_sees_no_price(
    stranger: Person, price_book: PriceBook, containers: list[Container], tax_rule: TaxRule
) -> None:
    assert not price_books_of(stranger)
    assert not container_costs(stranger.firm)
    assert not tax_rules_of(stranger)
