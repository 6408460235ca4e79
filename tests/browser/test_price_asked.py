"""From the page of a property to its price, and to a price book with one band more."""

import pytest
from playwright.sync_api import expect

from planner.models import Container, Machine, Mix, PriceBook, TaxRule
from properties.models import Person, Property
from tests.browser.conftest import Visit
from tests.browser.test_every_page import expect_sound_at_both_sizes

pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]


@pytest.fixture
def priced(price_book: PriceBook, containers: list[Container], tax_rule: TaxRule) -> None:
    """What every price needs: a book, the cost of containers, a rate of tax."""


def test_a_visit_is_priced_from_the_page_of_its_property(
    visit: Visit,
    office: Person,
    place: Property,
    machine: Machine,
    mix: Mix,
    priced: None,
) -> None:
    page = visit(place.get_absolute_url(), office)
    page.get_by_role("link", name="Price", exact=True).click()
    page.get_by_label("Or one visit with").select_option(label=mix.name)
    page.get_by_label("Machine of the visit").select_option(label=machine.name)
    page.get_by_role("button", name="Price it").click()

    expect(page.locator(".price-big output")).to_contain_text("$")
    page.get_by_text("How each part came about").click()
    for line in page.locator("details:not([open]) > summary:visible").element_handles():
        line.click()
    expect(
        page.get_by_text("cost / (1 − margin / 100)")
        .or_(page.get_by_text("in band 1 × price 1 / 1000"))
        .first
    ).to_be_visible()
    expect_sound_at_both_sizes(page)


def test_one_more_band_loses_nothing_that_was_typed(
    visit: Visit, office: Person, price_book: PriceBook
) -> None:
    page = visit(f"/prices/{price_book.pk}/edit/", office)
    page.get_by_label("Minimum charge for a visit").fill("61.50")
    page.get_by_role("button", name="One more band").click()

    expect(page.get_by_label("Band 4: price")).to_be_visible()
    expect(page.get_by_label("Minimum charge for a visit")).to_have_value("61.50")
    page.get_by_role("button", name="Take out band 1").click()
    expect(page.get_by_label("Band 1: up to")).to_have_value("10000")
    expect(page.get_by_label("Minimum charge for a visit")).to_have_value("61.50")
    expect_sound_at_both_sizes(page)

    page.get_by_label("Margin, in %").fill("100")
    keep = page.get_by_role("button", name="Keep", exact=True).last
    keep.click()
    expect(page.get_by_text("leaves nothing to pay the cost")).to_be_visible()
    expect(page.get_by_label("Minimum charge for a visit")).to_have_value("61.50")
    expect_sound_at_both_sizes(page)

    page.get_by_label("Margin, in %").fill("45")
    keep.click()
    expect(page.get_by_text("Kept as version 2 of Homes.")).to_be_visible()
    expect(page.get_by_text("Minimum charge for a visit").first).to_be_visible()
