"""Every page, wide and on a phone: readable by everybody, inside its window, and quiet."""

from typing import Any

import pytest
from axe_playwright_python.sync_playwright import Axe
from django.urls import reverse
from playwright.sync_api import Page, ViewportSize, expect

from properties.models import Person, Property
from tests.browser.conftest import DESK, OpenWindow, Visit
from tests.browser.hands import Board
from tests.test_access import PAGES, all_rows, rows

__all__ = ["all_rows", "rows"]

pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]

NARROW = ViewportSize(width=360, height=740)
#: A file, not a page.
FILES = {"export_drawing", "import_left_out", "portfolio_csv"}
SANDBOX = [(110.0, 200.0), (150.0, 200.0), (150.0, 240.0)]


def _faults(page: Page) -> list[str]:
    """What a page gets wrong for somebody who cannot see, point or read small print well."""
    if not page.evaluate("'axe' in window"):
        page.evaluate(Axe().axe_script)
    found: list[dict[str, Any]] = page.evaluate(
        "axe.run({ resultTypes: ['violations'] }).then(({ violations }) => violations)"
    )
    return [
        f"{fault['id']} ({', '.join(fault['tags'])}): {node['target']} {node['failureSummary']}"
        for fault in found
        for node in fault["nodes"]
    ]


def _sticking_out(page: Page, width: int) -> list[str]:
    """Whatever makes a page scroll sideways."""
    found: list[str] = page.evaluate(
        """width => document.documentElement.scrollWidth <= width ? [] :
        [...document.body.querySelectorAll('*')]
          .filter(one => one.getBoundingClientRect().right > width)
          .map(one => `${one.tagName}.${one.className}`)""",
        width,
    )
    return found


def _expect_sound(page: Page) -> None:
    size = page.viewport_size
    assert size is not None
    assert _sticking_out(page, size["width"]) == []
    assert _faults(page) == []


def expect_sound_at_both_sizes(page: Page) -> None:
    for size in (DESK, NARROW):
        page.set_viewport_size(size)
        _expect_sound(page)


@pytest.mark.parametrize("name", sorted(PAGES.keys() - FILES))
def test_a_page_is_readable_by_everybody_and_fits_its_window(
    visit: Visit, owner: Person, all_rows: dict[str, int], name: str
) -> None:
    row = PAGES[name][1]
    page = visit(reverse(name, args=[] if row is None else [all_rows[row]]), owner)

    expect_sound_at_both_sizes(page)


@pytest.mark.parametrize("address", ["/account/login/", "/account/signup/"])
def test_the_door_is_readable_by_everybody_and_fits_its_window(visit: Visit, address: str) -> None:
    page = visit(address)

    expect_sound_at_both_sizes(page)


@pytest.mark.parametrize("wind", ["6", "strong"])
def test_a_plan_and_a_refused_question_are_readable_by_everybody(
    visit: Visit, crew: Person, rows: dict[str, int], wind: str
) -> None:
    page = visit(
        f"/properties/{rows['place']}/plan/?machine={rows['machine']}&mix={rows['mix']}"
        f"&wind_speed_0={wind}&wind_speed_1=mph&wind_from=W",
        crew,
    )
    for line in page.locator("details:not([open]) > summary:visible").element_handles():
        line.click()

    expect_sound_at_both_sizes(page)


@pytest.mark.parametrize(
    "address", ["/labels/new/", "/machines/new/", "/mixes/new/", "/properties/new/", "/rules/new/"]
)
def test_a_form_sent_empty_tells_its_faults_readably(
    visit: Visit, owner: Person, rows: dict[str, int], address: str
) -> None:
    page = visit(address, owner)
    page.locator("form.sheet button[type=submit]").click()
    expect(page.locator(".errorlist").first).to_be_visible()

    expect_sound_at_both_sizes(page)


@pytest.mark.parametrize(("address", "status"), [("/properties/999/", 404), ("/firm/", 403)])
def test_a_page_that_is_not_for_this_person_says_so_readably(
    visit: Visit, crew: Person, address: str, status: int
) -> None:
    page = visit(address, crew, foreseen={status})

    expect_sound_at_both_sizes(page)


@pytest.mark.parametrize("where", ["desk", "phone"])
def test_the_drawing_board_stays_readable_while_somebody_draws(
    open_window: OpenWindow,
    phone: dict[str, Any],
    office: Person,
    place: Property,
    where: str,
) -> None:
    page = open_window(office, **(phone if where == "phone" else {}))
    page.goto(place.get_absolute_url())
    board = Board(page)

    board.button("Draw a shape").click()
    _expect_sound(page)
    board.button("Play area").click()
    board.click(*SANDBOX[:2])
    _expect_sound(page)
    board.button("Cancel").click()
    board.button("Corners: Rose bed").click()
    _expect_sound(page)
    board.button("More: Rose bed").click()
    page.get_by_label("Downwind distance of Rose bed").fill("far")
    board.button("More: Lawn").click()
    page.get_by_label("Unit of the slope, Lawn").select_option("rise over run")
    expect(page.get_by_text("“far ft” does not begin with a number")).to_have_count(2)
    _expect_sound(page)
    page.get_by_label("Downwind distance of Rose bed").fill("")
    page.get_by_label("Distance to keep from Rose bed").fill("three")
    page.get_by_text("Add a shape by its measures").click()
    board.button("Add to the drawing").click()
    board.button("Save drawing").click()
    expect(page.get_by_text("Not saved: one thing needs a look")).to_be_visible()
    _expect_sound(page)
    page.reload()
    expect(Board(page).offer).to_be_visible()
    _expect_sound(page)
