"""A label is entered at the desk, compared by somebody else on a phone, and planned with."""

import re
from typing import Any

import pytest
from django.urls import reverse
from playwright.sync_api import Locator, Page, expect

from planner.models import Machine, Product
from properties.models import Firm, Person, Property
from tests.browser.conftest import OpenWindow, Visit

pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]

NAME = "Invented meadow herbicide"


def _box(page: Page, name: str) -> Locator:
    return page.get_by_role("textbox", name=re.compile(rf"^{re.escape(name)}( \(optional\))?$"))


def _enter(page: Page) -> None:
    _box(page, "Product").fill(NAME)
    page.get_by_label("Formulation").select_option("SL")
    _box(page, "Lowest rate").fill("0.5")
    _box(page, "Highest rate").fill("1.0")
    for part in ("What works in it", "Weather and water", "People"):
        page.get_by_text(part, exact=True).click()
    _box(page, "Active ingredient 1").fill("Invented acid")
    _box(page, "How much of it (1)").fill("4")
    _box(page, "Hottest").fill("85")
    _box(page, "Dry time needed before rain").fill("6")
    _box(page, "People and animals stay off for").fill("4")
    page.get_by_role("button", name="Keep").click()


def _mix(page: Page) -> None:
    _box(page, "Name of the mix").fill("Meadow")
    page.get_by_label("Product 1", exact=True).select_option(label=NAME)
    _box(page, "Rate of product 1").fill("35")
    page.get_by_role("button", name="Keep").click()


def test_a_label_is_entered_compared_by_a_second_person_and_used(
    *,
    visit: Visit,
    open_window: OpenWindow,
    phone: dict[str, Any],
    office: Person,
    crew: Person,
    firm: Firm,
    place: Property,
    machine: Machine,
) -> None:
    Firm.objects.filter(pk=firm.pk).update(labels_need_check=True)
    desk = visit(reverse("new_label"), office, foreseen={422})
    _enter(desk)
    expect(desk.get_by_role("heading", name=NAME)).to_be_visible()
    expect(desk.get_by_text("Nothing is planned with it before somebody else")).to_be_visible()
    product = Product.objects.get(name=NAME)

    # A number for an acre, typed as if for 1,000 sq ft, is told beside its box and kept there.
    desk.goto(desk.url.split("/labels/")[0] + reverse("new_mix"))
    _mix(desk)
    expect(desk.get_by_text("for which area is its number")).to_be_visible()
    rate = _box(desk, "Rate of product 1")
    expect(rate).to_have_value("35")
    rate.fill("0.8")
    desk.get_by_role("button", name="Keep").click()
    expect(desk.get_by_role("heading", name="Meadow")).to_be_visible()

    desk.goto(desk.url.split("/mixes/")[0] + reverse("plan", args=[place.pk]))
    _box(desk, "Wind now").fill("5")
    desk.get_by_role("button", name="Plan", exact=True).click()
    expect(desk.get_by_text("nobody else has compared it yet").first).to_be_visible()

    hand = open_window(crew, **phone)
    hand.goto(product.get_absolute_url())
    expect(hand.get_by_text("4 lb/gal")).to_be_visible()
    hand.get_by_role("button", name="I compared it").click()
    expect(hand.get_by_text("with you as the one who compared it")).to_be_visible()

    desk.get_by_role("button", name="Plan", exact=True).click()
    expect(desk.get_by_role("heading", name="What the labels say")).to_be_visible()
    expect(desk.get_by_text("no temperature was measured").first).to_be_visible()
    figure = desk.locator('details.figure:has([data-figure="active_ingredients[0].rate"])')
    # Pressed on the number itself, as people do; a browser would take it for a control.
    figure.locator("summary output").click(force=True)
    # 0.8 fl oz/1,000 sq ft of 4 lb/gal: 0.8 × 43.56 / 128 × 4 = 1.089 lb/acre.
    expect(figure.locator("output")).to_contain_text("1.089")
    expect(figure.get_by_text("rate × in each × per area")).to_be_visible()
