"""Every step of a drawing can be taken back to the saved one, and brought again."""

import json
from typing import Any

import pytest
from playwright.sync_api import Locator, Page, expect

from properties.models import Person, Property
from tests.browser.conftest import OpenWindow
from tests.browser.hands import Board

pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]

PLAY_AREA = [(110.0, 300.0), (170.0, 300.0), (170.0, 350.0), (110.0, 350.0)]


def _change_everything(board: Board) -> int:
    """Add, name, move, retype, cut a corner and delete; gives the number of steps."""
    page = board.page
    board.outline("Play area", PLAY_AREA)
    board.call("Play area", "Swings")
    board.keep_away("Rose bed", "9")
    page.get_by_label("Kind of House").select_option("patio")
    board.button("Delete: Pond").click()
    board.button("Find: Lawn").click()
    board.button("Move").click()
    page.get_by_role("button", name="Move Lawn").press("Shift+ArrowUp")
    board.button("Done").click()
    board.button("Corners: Rose bed").click()
    board.button("Remove corner 1").click()
    board.button("Done").click()
    return 7


def _draft(page: Page) -> dict[str, Any] | None:
    """What is kept in the browser of a drawing that is not saved, once the tab is put away."""
    kept = page.evaluate(
        "window.dispatchEvent(new Event('pagehide')),"
        "localStorage.getItem(document.querySelector('[data-draft-key]').dataset.draftKey)"
    )
    draft: dict[str, Any] | None = json.loads(kept or "null")
    return draft and draft["collection"]


def _press(button: Locator, times: int) -> None:
    for _ in range(times):
        button.click()


def test_undo_leads_back_to_the_saved_drawing_and_redo_to_the_last_step(
    open_window: OpenWindow, office: Person, place: Property
) -> None:
    page = open_window(office)
    page.goto(place.get_absolute_url())
    board = Board(page)
    treatable = board.figure("treatable")
    saved = treatable.inner_text()
    steps = _change_everything(board)
    expect(treatable).not_to_have_text(saved)
    changed = _draft(page)
    assert changed is not None

    _press(board.button("Undo"), steps)

    expect(board.button("Undo")).to_have_attribute("aria-disabled", "true")
    expect(board.save_state).to_have_text("Saved: drawing 1")
    expect(treatable).to_have_text(saved)
    assert _draft(page) is None

    _press(board.button("Redo"), steps)

    expect(board.button("Redo")).to_have_attribute("aria-disabled", "true")
    expect(board.save_state).to_have_text("Not saved yet")
    assert _draft(page) == changed


def test_a_sketch_that_was_put_away_comes_back_with_undo(
    open_window: OpenWindow, office: Person, place: Property
) -> None:
    page = open_window(office)
    page.goto(place.get_absolute_url())
    board = Board(page)
    board.choose("Pond")
    board.click(*PLAY_AREA[:3])
    board.button("Cancel").click()
    expect(page.get_by_label("Name of Pond")).to_have_count(1)

    board.button("Undo").click()
    expect(board.status).to_contain_text("3 corners")
    board.button("Finish").click()

    expect(page.get_by_label("Name of Pond")).to_have_count(2)
