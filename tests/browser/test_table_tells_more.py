"""What is seldom told of a shape, typed into its row: gate, hand work, rise, the wind's side."""

from typing import Any

import pytest
from playwright.sync_api import Page, expect

from properties.models import Person, Property
from tests.browser.conftest import OpenWindow
from tests.browser.ground import stored
from tests.browser.hands import Board

pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]

PHONE_WIDTH = 360


def _open(page: Page, place: Property) -> Board:
    page.goto(place.get_absolute_url())
    return Board(page)


def _tell(board: Board, label: str, value: str) -> None:
    board.page.get_by_label(label, exact=True).fill(value)
    board.page.keyboard.press("Tab")


def _words(page: Page, ref: str) -> str:
    return page.locator(f"[data-shape={ref}] .rare-words").inner_text()


def _tell_all(board: Board) -> None:
    board.button("More: Lawn").click()
    board.page.get_by_label("By hand only: Lawn").check()
    _tell(board, "Gate to Lawn", "4")
    board.button("More: Pond").click()
    _tell(board, "Downwind distance of Pond", "25")


def test_a_gate_hand_work_and_a_downwind_distance_are_kept_and_said_in_the_row(
    open_window: OpenWindow, office: Person, place: Property
) -> None:
    page = open_window(office)
    board = _open(page, place)
    _tell_all(board)
    page.get_by_label("Turfgrasses of Lawn").click()
    page.get_by_label("creeping bentgrass").first.check()
    board.save("Told on the phone")

    kept = stored(place)
    assert kept["Lawn"]["properties"] == {
        "kind": "turf",
        "name": "Lawn",
        "gate": "4 ft",
        "only": "hand_tool",
        "turfgrasses": ["creeping_bentgrass"],
    }
    assert kept["Pond"]["properties"]["downwind_setback"] == "25 ft"
    page.reload()
    Board(page)
    assert _words(page, "lawn") == "hand only, gate 4 ft, its own turf"
    assert _words(page, "pond") == "downwind 25 ft"
    assert _words(page, "house") == ""
    expect(page.get_by_label("Gate to Lawn", exact=True)).to_be_hidden()


def test_each_of_them_is_one_step_and_comes_back_with_the_draft(
    open_window: OpenWindow, office: Person, place: Property
) -> None:
    page = open_window(office)
    board = _open(page, place)
    _tell_all(board)

    page.reload()
    board = Board(page)
    board.button("Continue with it").click()
    assert _words(page, "lawn") == "hand only, gate 4 ft"
    board.button("Undo").click()
    assert _words(page, "lawn") == ""

    _tell_all(board)
    for left in ("hand only, gate 4 ft", "hand only", ""):
        board.button("Undo").click()
        assert _words(page, "lawn") == left
    assert _words(page, "pond") == ""


def test_a_slope_is_told_by_a_rise_in_inches_over_a_run_in_feet(
    open_window: OpenWindow, office: Person, place: Property
) -> None:
    page = open_window(office)
    board = _open(page, place)
    page.get_by_label("Unit of the slope, Lawn").select_option("rise over run")
    page.get_by_label("Unit of the rise, Lawn").select_option("in")
    _tell(board, "Rise of Lawn", "30")
    expect(page.locator("[data-shape=lawn] .faults")).to_contain_text("missing")
    expect(page.get_by_label("Run of Lawn", exact=True)).to_have_attribute("aria-invalid", "true")
    _tell(board, "Run of Lawn", "25")
    expect(page.locator("[data-fault-summary]")).to_be_hidden()
    board.save("Measured with a level")

    # 30 in are 2.5 ft.
    assert stored(place)["Lawn"]["properties"]["slope"] == "10 %"
    expect(page.get_by_label("Slope of Lawn", exact=True)).to_have_value("10")
    expect(page.get_by_label("Rise of Lawn", exact=True)).to_be_hidden()


def test_a_fault_behind_more_is_opened_and_told_under_its_box(
    open_window: OpenWindow, office: Person, place: Property
) -> None:
    page = open_window(office)
    board = _open(page, place)
    distance = page.get_by_label("Downwind distance of Rose bed", exact=True)
    board.button("More: Rose bed").click()
    _tell(board, "Downwind distance of Rose bed", "far")
    board.button("More: Rose bed").click()

    board.button("Save drawing").click()
    expect(board.said).to_contain_text("Not saved: one thing needs a look")

    fault = page.locator("[data-shape=roses] .rare-line .fault:visible")
    expect(fault).to_contain_text("“far ft” does not begin with a number")
    expect(distance).to_have_attribute("aria-invalid", "true")
    expect(distance).to_have_accessible_description(
        "Kept on the side that the wind comes from. " + fault.inner_text()
    )
    page.locator("[data-fault-list]").get_by_role("button").click()
    expect(distance).to_be_focused()
    expect(distance).to_have_value("far")


def test_turf_that_becomes_a_play_area_loses_its_gate_in_one_step(
    open_window: OpenWindow, office: Person, place: Property
) -> None:
    page = open_window(office)
    board = _open(page, place)
    _tell_all(board)

    page.get_by_label("Kind of Lawn").select_option("play_area")
    assert _words(page, "lawn") == ""
    expect(page.get_by_label("Gate to Lawn", exact=True)).to_be_hidden()
    board.button("Undo").click()
    assert _words(page, "lawn") == "hand only, gate 4 ft"


def test_a_thumb_reaches_all_of_it_on_a_phone(
    open_window: OpenWindow, phone: dict[str, Any], office: Person, place: Property
) -> None:
    page = open_window(office, **phone)
    board = _open(page, place)
    board.button("More: Lawn").tap()
    page.get_by_label("Unit of the slope, Lawn").select_option("rise over run")

    for label in ("Gate to Lawn", "Unit of the gate, Lawn", "Rise of Lawn", "Run of Lawn"):
        box = page.get_by_label(label, exact=True).bounding_box()
        assert box is not None
        assert box["width"] >= 48
        assert box["height"] >= 48
        assert 0 <= box["x"] <= PHONE_WIDTH - box["width"]


def test_who_may_only_look_reads_it_and_cannot_change_it(
    open_window: OpenWindow, crew: Person, office: Person, place: Property
) -> None:
    page = open_window(office)
    board = _open(page, place)
    _tell_all(board)
    board.save("For the crew")

    page = open_window(crew)
    board = _open(page, place)
    assert _words(page, "lawn") == "hand only, gate 4 ft"
    board.button("More: Lawn").click()
    expect(page.get_by_label("Gate to Lawn", exact=True)).to_be_disabled()
    expect(page.get_by_label("By hand only: Lawn")).to_be_disabled()
