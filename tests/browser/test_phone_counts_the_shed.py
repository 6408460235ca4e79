"""Somebody of the crew stands in the shed with a telephone and counts."""

from typing import Any

import pytest
from playwright.sync_api import expect

from planner.models import Lot, Movement, Store
from properties.models import Person
from tests.browser.conftest import OpenWindow

pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]


def test_the_crew_counts_the_shed_and_the_office_sees_what_was_missing(
    open_window: OpenWindow,
    phone: dict[str, Any],
    crew: Person,
    office: Person,
    lot: Lot,
    shop: Store,
) -> None:
    page = open_window(crew, **phone)
    page.goto("/stock/")
    page.get_by_role("link", name=f"Count {shop}").tap()
    full = page.get_by_label("Full containers of 64 fl oz")
    opened = page.get_by_role("textbox", name="In opened ones, together")
    full.fill("1")
    opened.fill("40,5")
    page.get_by_role("button", name="Keep the count").tap()

    expect(page.get_by_text("has a comma where a decimal point belongs").first).to_be_visible()
    expect(full).to_have_value("1")

    opened.fill("40.5")
    page.get_by_role("button", name="Keep the count").tap()
    expect(page.get_by_text("1 differ from the books")).to_be_visible()

    counted = Movement.objects.get(entry__kind="counted")
    assert counted.amount.value == pytest.approx(-23.5)
    desk = open_window(office)
    desk.goto(f"/stock/products/{lot.product_id}/")
    expect(desk.get_by_text("found 104.5 fl oz")).to_be_visible()
