"""Map, table and figures keep in step while somebody draws, picks and prints."""

import pytest
from playwright.sync_api import Locator, Page, Route, expect

from properties.models import Person, Property
from properties.services.outlines import save_drawing
from tests.browser.conftest import OpenWindow
from tests.browser.hands import Board
from tests.places import SAVED_AT, collection, feature, rectangle

pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]

BEDS = 9
SQUARES = [
    [(x, 300.0), (x + 40.0, 300.0), (x + 40.0, 340.0), (x, 340.0)] for x in (110.0, 190.0, 270.0)
]


@pytest.fixture
def many_beds(bare_place: Property, owner: Person) -> Property:
    """A lawn with so many beds that the table is longer than the window."""
    beds = [
        feature(
            f"bed-{n}",
            "flower_bed",
            rectangle(20 + 160 * (n % 3), 20 + 130 * (n // 3), 60, 40),
            name=f"Bed {n}",
            setback="2 ft",
        )
        for n in range(1, BEDS + 1)
    ]
    lawn = feature("lawn", "turf", rectangle(0, 0, 600, 600), name="Lawn")
    drawing = collection(lawn, *beds)
    save_drawing(bare_place, person=owner, at=SAVED_AT, base=0, why="Drawn", collection=drawing)
    return bare_place


def _open(page: Page, place: Property) -> Board:
    page.goto(place.get_absolute_url())
    return Board(page)


def _click_middle(page: Page, drawn: Locator) -> None:
    box = drawn.bounding_box()
    assert box is not None
    page.mouse.click(box["x"] + box["width"] / 2, box["y"] + box["height"] / 2)


def test_shapes_are_drawn_one_after_the_other_without_letting_go_of_each(
    open_window: OpenWindow, office: Person, bare_place: Property
) -> None:
    page = open_window(office)
    board = _open(page, bare_place)

    for n, corners in enumerate(SQUARES, start=1):
        board.choose("Play area")
        board.click(*corners, corners[0])
        expect(board.status).to_contain_text("Play area added")
        expect(page.get_by_label("Name of Play area")).to_have_count(n)


def test_a_dragged_corner_shows_a_preview_before_the_server_has_answered(
    open_window: OpenWindow, office: Person, place: Property
) -> None:
    page = open_window(office)
    board = _open(page, place)
    unanswered: list[Route] = []

    def leave_unanswered(route: Route) -> None:
        unanswered.append(route)

    page.route("**/measure/", leave_unanswered)
    row = page.locator("[data-shape=lawn] .shape-size")
    readout = page.locator("[data-readout]")
    told = row.locator(".figure").inner_text()
    expect(row.locator(".preview-word")).to_be_hidden()
    board.button("Find: Lawn").click()
    board.button("Edit corners").click()
    box = page.get_by_role("button", name="Corner 1 of 4").bounding_box()
    assert box is not None
    x, y = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2

    page.mouse.move(x, y)
    page.mouse.down()
    page.mouse.move(x + 60, y - 60, steps=6)

    expect(readout).to_contain_text("preview")
    expect(row.locator(".preview-word")).to_be_visible()
    expect(row.locator(".figure")).not_to_have_text(told)
    assert unanswered == []
    with page.expect_request("**/measure/"):
        page.mouse.up()
    expect(readout).to_contain_text("preview")
    expect(row.locator(".preview-word")).to_be_visible()
    board.button("Undo").click()
    expect(row.locator(".figure")).to_have_text(told)
    expect(row.locator(".preview-word")).to_be_hidden()
    page.unroute_all(behavior="ignoreErrors")


def test_a_shape_picked_on_the_map_brings_its_row_into_view_and_marks_it(
    open_window: OpenWindow, office: Person, many_beds: Property
) -> None:
    page = open_window(office)
    board = _open(page, many_beds)
    expect(page.locator(f"[data-shape=bed-{BEDS}]")).not_to_be_in_viewport()

    _click_middle(page, page.locator("path.shape-plants").last)

    expect(board.status).to_contain_text("is in hand")
    name = board.status.inner_text().split(" is in hand")[0]
    marked = page.locator("tr[aria-current]", has=page.get_by_label(f"Name of {name}", exact=True))
    expect(marked).to_be_in_viewport(ratio=1)
    expect(page.locator("tr[aria-current]")).to_have_count(1)
    expect(board.map).to_be_in_viewport(ratio=0.9)


def test_enter_on_the_map_goes_from_shape_to_shape_and_says_which(
    open_window: OpenWindow, office: Person, many_beds: Property
) -> None:
    page = open_window(office)
    board = _open(page, many_beds)
    board.map.focus()

    for key, name, ref in (
        ("Enter", "Lawn", "lawn"),
        ("Enter", "Bed 1", "bed-1"),
        ("Shift+Enter", "Lawn", "lawn"),
        ("Shift+Enter", f"Bed {BEDS}", f"bed-{BEDS}"),
    ):
        page.keyboard.press(key)
        expect(board.status).to_contain_text(f"{name} is in hand")
        row = page.locator(f"[data-shape={ref}]")
        expect(row.locator("tr[aria-current]")).to_be_in_viewport(ratio=1)
        expect(board.map).to_be_focused()


def test_find_brings_a_shape_large_onto_the_map_and_marks_its_row(
    open_window: OpenWindow, office: Person, many_beds: Property
) -> None:
    page = open_window(office)
    board = _open(page, many_beds)
    before = page.locator("path.shape-plants").first.bounding_box()
    find = board.button(f"Find: Bed {BEDS}")
    find.focus()
    page.keyboard.press("Enter")

    expect(board.status).to_contain_text(f"Bed {BEDS} is in hand")
    found = page.locator("path.shape.selected")
    expect(found).to_be_in_viewport(ratio=1)
    expect(page.locator(".leaflet-zoom-anim")).to_have_count(0)
    after = found.bounding_box()
    assert before is not None
    assert after is not None
    assert after["width"] > 2 * before["width"]
    expect(board.map).to_be_in_viewport(ratio=0.9)
    expect(find).to_be_in_viewport()


def test_a_long_list_of_what_is_left_out_shows_six_until_asked_for_more(
    open_window: OpenWindow, office: Person, many_beds: Property
) -> None:
    page = open_window(office)
    _open(page, many_beds)
    left_out = page.locator("[data-left-out]")
    lines = left_out.locator("li:visible")
    more = left_out.get_by_role("button", name=f"{BEDS - 6} more")
    expect(lines).to_have_count(6)
    expect(more).to_have_attribute("aria-expanded", "false")

    more.click()

    expect(lines).to_have_count(BEDS)
    left_out.get_by_role("button", name="Show fewer").click()
    expect(lines).to_have_count(6)


def test_a_short_list_is_not_folded(
    open_window: OpenWindow, office: Person, place: Property
) -> None:
    page = open_window(office)
    _open(page, place)

    expect(page.locator("[data-left-out] li:visible")).to_have_count(2)
    expect(page.locator("[data-left-out]").get_by_role("button")).to_have_count(0)


def test_paper_gets_all_of_the_map_in_black_and_the_table_and_nothing_to_press(
    open_window: OpenWindow, office: Person, many_beds: Property
) -> None:
    page = open_window(office, reduced_motion="reduce")
    board = _open(page, many_beds)
    board.button("Find: Bed 1").click()
    view = page.locator("path.shape-turf").bounding_box()

    page.evaluate("window.dispatchEvent(new Event('beforeprint'))")
    page.emulate_media(media="print")

    expect(page.locator("button:visible")).to_have_count(0)
    expect(page.locator(".more-box select:visible")).to_have_count(BEDS)
    assert page.locator(".shape-table").evaluate("it => getComputedStyle(it).display") == "table"
    inks = page.locator("[data-hatches] pattern").evaluate_all(
        "all => [...new Set(all.map(it => getComputedStyle(it.firstElementChild).color))]"
    )
    assert inks == ["rgb(0, 0, 0)"]
    paper, lawn = board.map.bounding_box(), page.locator("path.shape-turf").bounding_box()
    assert paper is not None
    assert lawn is not None
    assert paper["x"] <= lawn["x"]
    assert lawn["x"] + lawn["width"] <= paper["x"] + paper["width"]
    assert paper["y"] <= lawn["y"]
    assert lawn["y"] + lawn["height"] <= paper["y"] + paper["height"]
    expect(page.locator("[data-left-out] li:visible")).to_have_count(BEDS)

    page.emulate_media(media="screen")
    page.evaluate("window.dispatchEvent(new Event('afterprint'))")
    assert page.locator("path.shape-turf").bounding_box() == view
