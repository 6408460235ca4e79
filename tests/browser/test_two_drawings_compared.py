"""Somebody looks at what changed on a property, and keeps a plan of how it was."""

import re

import pytest
from axe_playwright_python.sync_playwright import Axe
from django.urls import reverse
from playwright.sync_api import Page, expect

from planner.models import Machine, Mix
from properties.models import Person, Property
from properties.services.outlines import save_drawing
from tests.browser.conftest import PHONE, OpenWindow
from tests.places import SAVED_AT, collection, feature, rectangle, small_lot

pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]


@pytest.fixture
def redrawn(place: Property, owner: Person) -> Property:
    """The small lot with its bed moved, its pond filled and a sand box laid out."""
    lawn, house, *_ = small_lot()["features"]
    bed = feature("roses", "flower_bed", rectangle(40, 150, 60, 40), name="Rose bed")
    sand = feature("sand", "play_area", rectangle(380, 320, 60, 60), name="Sand box")
    drawn = collection(lawn, house, bed, sand)
    save_drawing(place, person=owner, at=SAVED_AT, base=1, why="New beds", collection=drawn)
    return place


def _dressed(page: Page, change: str) -> dict[str, str]:
    """How the line of the shapes that changed in this way is really drawn."""
    line = page.locator(f"path.change-{change}").first
    drawn: dict[str, str] = line.evaluate(
        """line => {
          const {strokeWidth, strokeDasharray, fillOpacity} = getComputedStyle(line);
          return {strokeWidth, strokeDasharray, fillOpacity};
        }"""
    )
    return drawn


@pytest.mark.parametrize("window", ["desk", "phone"])
def test_each_change_has_a_line_of_its_own_that_needs_no_colour(
    open_window: OpenWindow, owner: Person, redrawn: Property, window: str
) -> None:
    page = open_window(owner, **(PHONE if window == "phone" else {}))
    page.goto(reverse("history", args=[redrawn.pk]))
    page.locator(".compared-map").scroll_into_view_if_needed()

    looks = {
        change: _dressed(page, change) for change in ("same", "added", "removed", "old", "new")
    }

    lines = [(look["strokeWidth"], look["strokeDasharray"]) for look in looks.values()]
    assert len(set(lines)) == 5
    assert looks["same"]["strokeDasharray"] == looks["added"]["strokeDasharray"] == "none"
    assert "none" not in (looks["removed"]["strokeDasharray"], looks["old"]["strokeDasharray"])
    assert looks["removed"]["fillOpacity"] == looks["old"]["fillOpacity"] == "0"
    if window == "desk":  # On a phone there is no room for every name.
        expect(page.locator(".shape-name", has_text="Pond, removed")).to_be_attached()
    assert Axe().run(page).response["violations"] == []


def test_a_change_is_brought_into_view_from_the_table_by_keyboard(
    open_window: OpenWindow, crew: Person, redrawn: Property
) -> None:
    page = open_window(crew, reduced_motion="reduce")
    page.goto(reverse("history", args=[redrawn.pk]))
    page.wait_for_selector("path.change-added")
    before = page.locator("path.change-added").evaluate("line => line.getBBox().width")

    page.get_by_role("button", name="Show Sand box on the map").press("Enter")

    after = page.locator("path.change-added").evaluate("line => line.getBBox().width")
    assert after > 1.3 * before


def test_the_table_and_both_forms_work_without_a_script(
    open_window: OpenWindow, office: Person, redrawn: Property
) -> None:
    page = open_window(office, java_script_enabled=False)
    page.goto(reverse("history", args=[redrawn.pk]))

    table = page.get_by_role("region", name="What changed")
    expect(table.get_by_role("row", name=re.compile("Pond.*removed"))).to_be_visible()
    expect(page.get_by_text("The map is drawn by a script.")).to_be_visible()
    expect(page.locator("[data-show-shape]").first).to_be_hidden()

    page.get_by_label("From drawing", exact=True).select_option("0")
    page.get_by_label("To drawing", exact=True).select_option("1")
    page.get_by_role("button", name="Compare", exact=True).click()
    expect(page.get_by_role("heading", name="From nothing to drawing 1")).to_be_visible()

    page.get_by_label("As it stood at the end of").fill("2026-04-06")
    page.get_by_label("and at the end of").fill("2026-04-07")
    page.get_by_role("button", name="Compare these days").click()
    expect(page.get_by_role("heading", name="From nothing to drawing 2")).to_be_visible()


@pytest.mark.parametrize("window", ["desk", "phone"])
def test_a_plan_is_kept_and_says_later_that_the_drawing_is_another(
    open_window: OpenWindow, owner: Person, place: Property, machine: Machine, mix: Mix, window: str
) -> None:
    page = open_window(owner, **(PHONE if window == "phone" else {}))
    page.goto(f"{reverse('plan', args=[place.pk])}?machine={machine.pk}&mix={mix.pk}")

    page.get_by_text("Keep this plan").click()
    page.get_by_label("Note").fill("For Wednesday")
    page.get_by_role("button", name="Keep it").click()
    expect(page.get_by_text("are the same today")).to_be_visible()

    lawn = collection(feature("lawn", "turf", rectangle(0, 0, 200, 200), name="Lawn"))
    save_drawing(place, person=owner, at=SAVED_AT, base=1, why="", collection=lawn)
    page.reload()
    page.get_by_role("link", name="see what changed").click()
    expect(page.get_by_role("heading", name="From drawing 1 to drawing 2")).to_be_visible()
