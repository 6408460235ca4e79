"""Somebody stands on the lawn and draws it with a thumb."""

import itertools
from typing import Any

import pytest
from playwright.sync_api import Locator, expect

from properties.models import Person, Property
from tests.browser.conftest import OpenWindow
from tests.browser.fingers import Finger
from tests.browser.ground import DEGREES_EAST_PER_PIXEL, corners, stored
from tests.browser.hands import Board, Pixel

pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]

LAWN = [(80.0, 90.0), (280.0, 90.0), (280.0, 250.0), (80.0, 250.0)]


def _middle(handle: Locator) -> Pixel:
    box = handle.bounding_box()
    assert box is not None
    return box["x"] + box["width"] / 2, box["y"] + box["height"] / 2


def _choose(board: Board, kind: str) -> None:
    board.button("Draw a shape").tap()
    board.button(kind).tap()


def _save(board: Board, why: str) -> None:
    board.why.fill(why)
    board.button("Save drawing").tap()
    expect(board.said).to_contain_text("Saved as drawing")


def test_a_lawn_is_drawn_with_taps_and_a_corner_is_dragged_into_place(
    open_window: OpenWindow, phone: dict[str, Any], office: Person, bare_place: Property
) -> None:
    page = open_window(office, **phone)
    page.goto(bare_place.get_absolute_url())
    board, finger = Board(page), Finger(page)
    _choose(board, "Turf")
    board.button("Crosshair").tap()
    finger.tap(board, *LAWN, LAWN[0])
    expect(board.status).to_contain_text("Turf added")

    board.button("Edit corners").tap()
    handle = page.get_by_role("button", name="Corner 3 of 4")
    x, y = _middle(handle)
    finger.drag((x, y), (x - 40, y + 45))
    board.button("Done").tap()
    _save(board, "Walked the edge")

    lawn = corners(stored(bare_place)["turf"])
    west, dragged, east = sorted({lon for lon, _ in lawn})
    assert (east - west) / DEGREES_EAST_PER_PIXEL == pytest.approx(200, abs=1e-6)
    # The finger's place is read in whole pixels at both ends.
    assert (dragged - east) / DEGREES_EAST_PER_PIXEL == pytest.approx(-40, abs=1.01)
    assert min(lawn, key=lambda corner: corner[1])[0] == dragged


def test_a_lawn_is_drawn_by_moving_the_map_under_the_crosshair(
    open_window: OpenWindow, phone: dict[str, Any], office: Person, bare_place: Property
) -> None:
    page = open_window(office, **phone)
    page.goto(bare_place.get_absolute_url())
    board, finger = Board(page), Finger(page)
    _choose(board, "Turf")
    expect(board.button("Crosshair")).to_have_attribute("aria-pressed", "true")

    corner = board.on_window((180, 150))
    for across, down in ((0, 0), (-120, 0), (0, -90), (120, 0)):
        if (across, down) != (0, 0):
            finger.drag(corner, (corner[0] + across, corner[1] + down))
        board.button("Drop a corner here").tap()
    board.button("Finish").tap()
    _save(board, "")

    lawn = corners(stored(bare_place)["turf"])
    west, east = sorted({lon for lon, _ in lawn})
    assert len(lawn) == 4
    # The map moves by whole pixels; a touch is read in whole pixels at both ends.
    assert (east - west) / DEGREES_EAST_PER_PIXEL == pytest.approx(120, abs=1.01)
    for (lon, lat), (next_lon, next_lat) in itertools.pairwise([*lawn, lawn[0]]):
        assert (lon == next_lon) != (lat == next_lat)


def test_the_crew_sees_the_drawing_and_no_tool_that_changes_it(
    open_window: OpenWindow, phone: dict[str, Any], crew: Person, place: Property
) -> None:
    page = open_window(crew, **phone)
    page.goto(place.get_absolute_url())
    board = Board(page)

    expect(board.figure("treatable")).to_contain_text("sq ft")
    expect(page.get_by_label("Name of Rose bed")).to_be_disabled()
    expect(board.button("Draw a shape")).to_have_count(0)
    expect(board.button("Save drawing")).to_have_count(0)
    expect(page.get_by_role("button", name="Delete")).to_have_count(0)
