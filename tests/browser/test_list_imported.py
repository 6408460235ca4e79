"""The office brings a list on a telephone, puts nothing in unseen, and watches long work."""

from pathlib import Path
from typing import Any

import pytest
from django.utils import timezone
from playwright.sync_api import expect

from properties.models import Errand, Person, Property
from tests.browser.conftest import OpenWindow
from tests.browser.test_every_page import expect_sound_at_both_sizes

pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]

LIST = Path(__file__).parents[2] / "docs" / "sample-list.csv"


def test_the_office_imports_the_sample_list_on_a_telephone(
    open_window: OpenWindow, phone: dict[str, Any], office: Person
) -> None:
    page = open_window(office, **phone)
    page.goto("/properties/")
    page.get_by_role("link", name="Import a spreadsheet").click()
    page.get_by_label("Spreadsheet").set_input_files(LIST)
    page.get_by_role("button", name="Read it").click()

    expect(page.get_by_text("Row 3 holds the headings.")).to_be_visible()
    expect(page.get_by_text("Our guess is 1,000 square feet")).to_be_visible()
    page.get_by_label("Unit of the turf areas").select_option("1000 sq ft")
    page.get_by_label("Latitude for rows without a position").fill("40.71")
    page.get_by_label("Longitude for rows without a position").fill("-91.99")
    page.get_by_label("Time zone of all rows").select_option("America/Chicago")
    page.get_by_role("button", name="That is right").click()

    expect(page.get_by_role("heading", name="To put right: 2 in 2 rows")).to_be_visible()
    page.get_by_role("button", name="Import").click()
    expect(page.get_by_text("Tick this to import the others")).to_be_visible()
    expect_sound_at_both_sizes(page)
    assert not Property.objects.exists()
    page.get_by_label("Leave out the 2 rows with something wrong").check()
    page.get_by_role("button", name="Import").click()

    expect(page.get_by_text("7 properties")).to_be_visible()
    assert Property.objects.count() == 7


def test_the_page_of_long_work_follows_it_to_its_end(
    open_window: OpenWindow, owner: Person, errand: Errand
) -> None:
    row = Errand.objects.filter(pk=errand.pk)
    row.update(state="running", heard_at=timezone.now(), done=100, total=5000)
    page = open_window(owner)
    page.goto(errand.get_absolute_url())
    expect(page.get_by_text("100 of 5,000")).to_be_visible()
    expect_sound_at_both_sizes(page)

    row.update(done=2500, heard_at=timezone.now())
    expect(page.get_by_text("2,500 of 5,000")).to_be_visible()
    row.update(state="done", message="All is there.", outcome_url="/properties/")

    expect(page.get_by_role("link", name="See what came of it")).to_be_visible()
