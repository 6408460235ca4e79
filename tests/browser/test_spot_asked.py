"""Somebody asks on the map what a spot may still get, and plans around a closed patch."""

from typing import Any

import pytest
from django.urls import reverse
from playwright.sync_api import Page, expect

from planner.models import Machine, Product
from properties.models import Person, Property
from tests.browser.conftest import OpenWindow
from tests.planner.larkfoot import commons, mix_at, past, plain_boom, w4

__all__ = ["commons", "past", "plain_boom", "w4"]

pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]


def _tap_name(page: Page, name: str) -> None:
    """Tap the map where the name of a lawn stands."""
    page.locator(".map-viewer").scroll_into_view_if_needed()
    box = page.locator(".shape-name", has_text=name).bounding_box()
    assert box is not None
    page.mouse.click(box["x"] + box["width"] / 2, box["y"] + box["height"] / 2)


@pytest.mark.usefixtures("past")
@pytest.mark.parametrize("where", ["desk", "phone"])
def test_a_tap_on_the_map_is_answered_for_the_very_spot(
    open_window: OpenWindow, phone: dict[str, Any], crew: Person, commons: Property, where: str
) -> None:
    page = open_window(crew, **(phone if where == "phone" else {}))
    page.goto(reverse("ground", args=[commons.pk]))
    expect(page.locator(".ground-had")).to_have_count(3)

    _tap_name(page, "Patch")

    answer = page.locator(".may-get")
    expect(answer).to_contain_text("closed until")
    expect(answer).to_contain_text("28 days since")
    expect(answer).to_contain_text("1 fl oz/1,000 sq ft of 3.4 fl oz/1,000 sq ft")
    expect(page.locator(".asked-spot")).to_have_count(1)
    page.get_by_text("How this is worked out").click()
    expect(answer).to_contain_text("3.4 fl oz/1,000 sq ft allowed − 1.2 fl oz/1,000 sq ft")

    page.get_by_label("Which turf").select_option("Front")
    page.get_by_role("button", name="Ask").click()

    expect(answer).to_contain_text("open")
    expect(answer).to_contain_text("Front, 6,200 sq ft")


@pytest.mark.usefixtures("past")
def test_the_plan_leaves_the_patch_out_and_hatches_it(
    open_window: OpenWindow, owner: Person, commons: Property, plain_boom: Machine, w4: Product
) -> None:
    page = open_window(owner)
    mixes = {rate: mix_at(w4, rate).pk for rate in (1.2, 1.0)}
    address = f"{reverse('plan', args=[commons.pk])}?machine={plain_boom.pk}&mix="

    page.goto(f"{address}{mixes[1.2]}")
    expect(page.get_by_role("alert")).to_contain_text("may get 1 fl oz/1000 sq ft more at most")

    page.goto(f"{address}{mixes[1.0]}")
    expect(page.locator(".ground-closed")).to_have_count(1)
    expect(page.get_by_text("closed on the day", exact=True)).to_be_visible()
    expect(page.locator(".plan-top")).to_contain_text("15,35")
    table = page.get_by_role("region", name="W-4 (invented)")
    expect(table.get_by_role("row", name="Front")).to_contain_text("0.0228 fl oz/1,000 sq ft")


def test_what_was_put_down_is_entered_with_a_thumb(
    open_window: OpenWindow, phone: dict[str, Any], crew: Person, commons: Property, w4: Product
) -> None:
    page = open_window(crew, **phone)
    page.goto(reverse("ground", args=[commons.pk]))
    page.get_by_role("link", name="Enter what was put down").click()
    page.get_by_label("Product").select_option(str(w4))
    page.get_by_label("What the ground got", exact=True).fill("1.2")
    page.get_by_role("button", name="Keep").click()
    expect(page.get_by_text("Choose the turf that is meant.")).to_be_visible()

    page.get_by_label("Front").check()
    page.get_by_role("button", name="Keep").click()

    expect(page.get_by_text("It is entered, and counts")).to_be_visible()
    expect(page.get_by_role("region", name="Every entry")).to_contain_text("W-4 (invented), 1.2")
