"""Two people edit one quote: the second sees what changed, and nothing is written over."""

import pytest
from django.urls import reverse
from playwright.sync_api import expect

from planner.models import Quote
from properties.models import Person
from tests.browser.conftest import OpenWindow
from tests.browser.test_every_page import expect_sound_at_both_sizes

pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]


def test_what_came_back_after_a_reload_is_not_kept_over_what_somebody_kept_meanwhile(
    open_window: OpenWindow, quote: Quote, owner: Person, office: Person
) -> None:
    address = reverse("edit_quote", args=[quote.pk])
    ours, theirs = open_window(owner), open_window(office)
    ours.goto(address)
    ours.get_by_label("Message to the customer").fill("From Olive.")
    theirs.goto(address)
    theirs.get_by_label("What the customer reads it as").first.fill("Weeds in spring")
    theirs.get_by_role("button", name="Keep and see the price").click()
    expect(theirs.get_by_role("heading", name="Quote 2026-001")).to_be_visible()

    ours.reload()
    expect(ours.get_by_text("What you typed here before is back")).to_be_visible()
    ours.get_by_role("button", name="Keep and see the price").click()

    expect(ours.get_by_role("heading", name="Somebody else changed this quote")).to_be_visible()
    expect(ours.get_by_text("to “Weeds in spring”")).to_be_visible()
    expect(ours.get_by_label("What the customer reads it as").first).to_have_value(
        "Weeds in spring"
    )
    expect(ours.get_by_label("Message to the customer")).to_have_value("From Olive.")
    expect_sound_at_both_sizes(ours)
    ours.get_by_role("button", name="Keep and see the price").click()

    expect(ours.get_by_role("heading", name="Quote 2026-001")).to_be_visible()
    kept = quote.revisions.get()
    assert (kept.message, kept.options.get().title) == ("From Olive.", "Weeds in spring")
