"""Somebody who uses no mouse draws a lawn, changes it and saves it by keys alone."""

import pytest
from playwright.sync_api import Locator, Page, Response, expect

from properties.models import Person, Property
from tests.browser.conftest import OpenWindow
from tests.browser.ground import DEGREES_EAST_PER_PIXEL, corners, stored
from tests.browser.hands import Board

pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]

MOST_STOPS = 120
#: Pixels that one press of an arrow moves the map; five times that with Shift.
STEP_PX = 24


class Keys:
    """Ten fingers on a keyboard."""

    def __init__(self, page: Page) -> None:
        self.page = page

    def go_to(self, wanted: Locator) -> None:
        """Press Tab, or Shift and Tab, until the cursor stands on what is wanted."""
        for _ in range(MOST_STOPS):
            way = wanted.evaluate(
                "wanted => wanted === document.activeElement ? '' :"
                " document.activeElement.compareDocumentPosition(wanted)"
                " & Node.DOCUMENT_POSITION_PRECEDING ? 'Shift+Tab' : 'Tab'"
            )
            if not way:
                return
            self.page.keyboard.press(way)
        raise AssertionError(f"No way leads to {wanted} by Tab.")

    def press(self, *keys: str) -> None:
        """Press keys one after the other."""
        for key in keys:
            self.page.keyboard.press(key)

    def push(self, button: Locator) -> None:
        """Go to a button and press it."""
        self.go_to(button)
        self.press("Enter")

    def write(self, box: Locator, text: str) -> None:
        """Go to a box and write into it, in place of what is there."""
        self.go_to(box)
        self.press("Control+a")
        self.page.keyboard.type(text)


def _drop_lawn(keys: Keys, board: Board) -> None:
    """Drop four corners, 15 steps apart across and 10 down, and finish."""
    keys.push(board.button("Draw a shape"))
    expect(board.button("Turf")).to_be_focused()
    keys.press("Enter")
    expect(board.map).to_be_focused()
    keys.press("Enter", *["Shift+ArrowRight"] * 3, "Enter")
    keys.press(*["Shift+ArrowDown"] * 2, "Enter", *["Shift+ArrowLeft"] * 3, "Enter")
    keys.press("Control+Enter")
    expect(board.status).to_contain_text("Turf added")


def _save(keys: Keys, board: Board, why: str) -> None:
    keys.write(board.why, why)
    keys.press("Enter")
    expect(board.said).to_contain_text("Saved as drawing")


def test_a_lawn_is_drawn_undone_and_redone_and_a_corner_typed(
    open_window: OpenWindow, office: Person, bare_place: Property
) -> None:
    page = open_window(office)
    page.goto(bare_place.get_absolute_url())
    board, keys = Board(page), Keys(page)
    names = page.get_by_label("Name of Turf")
    _drop_lawn(keys, board)

    keys.press("Control+z")
    expect(names).to_have_count(0)
    keys.press("Control+y")
    expect(names).to_have_count(1)

    keys.push(board.button("Corners: Turf"))
    corner = page.get_by_label("Corner 2, latitude and longitude")
    north, east = (float(part) for part in corner.input_value().split(", "))
    keys.write(corner, f"{north + 0.0001}, {east + 0.0002}")
    keys.press("Enter")
    _save(keys, board, "Drawn by keys")

    lawn = corners(stored(bare_place)["turf"])
    lawn.remove([east + 0.0002, north + 0.0001])
    west, east = sorted({lon for lon, _ in lawn})
    # The map opens on the whole pixel that is nearest to the property.
    assert west == pytest.approx(bare_place.longitude, abs=DEGREES_EAST_PER_PIXEL)
    assert (east - west) / DEGREES_EAST_PER_PIXEL == pytest.approx(15 * STEP_PX, abs=1e-6)


def _measured_on_adding(page: Page, keys: Keys) -> Response:
    with page.expect_response("**/measure/") as answer:
        keys.push(page.get_by_role("button", name="Add to the drawing"))
    return answer.value


def test_a_rectangle_by_its_measures_has_the_area_of_length_times_width(
    open_window: OpenWindow, office: Person, bare_place: Property
) -> None:
    page = open_window(office)
    page.goto(bare_place.get_absolute_url())
    keys = Keys(page)
    form = page.locator("[data-measures-form]")
    Board(page)

    keys.push(page.locator("summary", has_text="Add a shape by its measures"))
    keys.go_to(form.get_by_label("Kind"))
    page.keyboard.type("Turf")
    keys.write(form.get_by_label("Length", exact=True), "143.5")
    keys.write(form.get_by_label("Width", exact=True), "62.25")
    keys.write(form.get_by_label("Bearing"), "37")
    keys.push(form.get_by_role("button", name="Use the map centre"))
    answer = _measured_on_adding(page, keys).json()

    (area,) = answer["shapes"].values()
    assert area["unit"] == "sq ft"
    # The page lays the rectangle out in a frame that is good to one part in 100,000 here.
    assert area["value"] == pytest.approx(143.5 * 62.25, rel=1e-5)
    assert answer["totals"]["turf"]["value"] == pytest.approx(143.5 * 62.25, rel=1e-5)


def test_a_measure_that_is_no_number_is_told_beside_its_box_and_stays_there(
    open_window: OpenWindow, office: Person, bare_place: Property
) -> None:
    page = open_window(office)
    page.goto(bare_place.get_absolute_url())
    keys, board = Keys(page), Board(page)
    form = page.locator("[data-measures-form]")

    keys.push(page.locator("summary", has_text="Add a shape by its measures"))
    keys.write(form.get_by_label("Length", exact=True), "long")
    keys.push(form.get_by_role("button", name="Add to the drawing"))

    length = form.get_by_label("Length", exact=True)
    expect(length).to_have_attribute("aria-invalid", "true")
    expect(length).to_have_value("long")
    expect(length).to_be_focused()
    expect(form.get_by_label("Width", exact=True)).to_have_attribute("aria-invalid", "true")
    expect(form.get_by_label("Latitude", exact=True)).to_have_attribute("aria-invalid", "true")
    expect(form.get_by_text("“long” is not a number above zero")).to_be_visible()
    expect(board.table).to_be_hidden()


def test_a_shape_is_deleted_from_the_table(
    open_window: OpenWindow, office: Person, place: Property
) -> None:
    page = open_window(office)
    page.goto(place.get_absolute_url())
    keys, board = Keys(page), Board(page)

    keys.push(board.button("Delete: Pond"))
    expect(page.get_by_label("Name of Pond")).to_have_count(0)
    _save(keys, board, "The pond is filled in")

    assert stored(place).keys() == {"Lawn", "House", "Rose bed"}
