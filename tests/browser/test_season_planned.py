"""A season put together, checked and sold into jobs, by mouse on a desk and by keyboard alone."""

import pytest
from django.urls import reverse
from playwright.sync_api import Page, expect

from planner.models import Job, Machine, Mix, Product, Programme
from planner.services.labels import keep_label
from properties.core.units import Quantity
from properties.models import Person, Property
from tests.browser.conftest import Visit
from tests.browser.test_every_page import expect_sound_at_both_sizes

pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]


@pytest.fixture
def limited(product: Product) -> Product:
    product.per_year = Quantity(1.0, "fl oz/1000 sq ft")
    return keep_label(product, setbacks={"pond": Quantity(25.0, "ft")})


def _round(page: Page, n: int, name: str, month: str, mix: Mix, machine: Machine) -> None:
    row = page.get_by_role("group", name=f"Round {n}", exact=True)
    row.get_by_label("What it is called").fill(name)
    row.get_by_label("Mix").select_option(str(mix.pk))
    row.get_by_label("Machine", exact=True).select_option(str(machine.pk))
    for end, day in (("First day", "10"), ("Last day", "20")):
        row.get_by_label(end, exact=True).select_option(label=month)
        row.get_by_label(f"Day of the month, {end}").select_option(label=day)


def test_a_season_is_put_together_checked_and_made_into_jobs(
    visit: Visit, office: Person, place: Property, mix: Mix, machine: Machine, limited: Product
) -> None:
    page = visit(reverse("new_programme"), office)
    page.get_by_label("Name of the programme").fill("Weeds twice")
    _round(page, 1, "Autumn", "September", mix, machine)
    _round(page, 2, "Spring", "April", mix, machine)

    page.get_by_role("button", name="Move round 2 up").click()
    first = page.get_by_role("group", name="Round 1", exact=True)
    expect(first.get_by_label("What it is called")).to_have_value("Spring")
    expect(first.get_by_label("First day", exact=True)).to_have_value("04")
    page.get_by_role("button", name="Take round 3 out").click()
    page.get_by_role("button", name="Add a round").click()
    expect_sound_at_both_sizes(page)

    # Enter in a box keeps the programme; the row that was added and not used is left out.
    page.get_by_label("Name of the programme").press("Enter")
    expect(page.get_by_role("heading", name="Weeds twice")).to_be_visible()
    assert Programme.objects.get().rounds.count() == 2

    page.get_by_role("link", name="Small lot").press("Enter")
    expect(page.get_by_text("This season does not fit as it stands")).to_be_visible()
    refused = page.get_by_role("listitem").filter(has_text="does not fit")
    expect(refused.get_by_text("planned in round 1, Spring")).to_be_visible()
    for line in page.locator("details:not([open]) > summary:visible").element_handles():
        line.click()
    expect_sound_at_both_sizes(page)

    page.get_by_role("button", name="Make the jobs").press("Enter")
    expect(page.get_by_text("2 jobs of Weeds twice stand for Small lot.")).to_be_visible()
    assert Job.objects.count() == 2
