"""A drawing outlives what goes wrong: a refusal, a reload, a sign-out, somebody else's save."""

import pytest
from django.contrib.sessions.models import Session
from playwright.sync_api import APIResponse, Page, Route, expect

from properties.models import Person, Property
from properties.services.outlines import save_drawing
from tests.browser.conftest import OpenWindow
from tests.browser.ground import stored
from tests.browser.hands import Board
from tests.people import PASSWORD
from tests.places import SAVED_AT, collection, feature, rectangle

pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]

SANDBOX = [(110.0, 300.0), (170.0, 300.0), (170.0, 350.0), (110.0, 350.0)]


def _open(page: Page, place: Property) -> Board:
    page.goto(place.get_absolute_url())
    return Board(page)


def _save_answered(board: Board, status: int) -> None:
    with board.page.expect_response("**/drawing/") as answer:
        board.button("Save drawing").click()
    assert answer.value.status == status


def _sign_in(page: Page, person: Person) -> None:
    page.get_by_label("Email").fill(person.email)
    page.get_by_label("Password").fill(PASSWORD)
    page.get_by_role("button", name="Sign in").click()


def _draw_sandbox(board: Board) -> None:
    board.outline("Play area", SANDBOX)
    board.call("Play area", "Sandbox")
    board.expect_measured()


def test_two_faults_are_told_at_once_beside_their_shapes_and_nothing_typed_is_lost(
    open_window: OpenWindow, office: Person, place: Property
) -> None:
    page = open_window(office)
    board = _open(page, place)
    distance = page.get_by_label("Distance to keep from Rose bed", exact=True)
    slope = page.get_by_label("Slope of Lawn", exact=True)
    rose_bed = page.locator("tbody", has=page.get_by_label("Name of Rose bed"))
    lawn = page.locator("tbody", has=page.get_by_label("Name of Lawn"))

    distance.fill("three")
    slope.fill("steep")
    board.why.fill("Measured again")
    _save_answered(board, 422)

    expect(board.said).to_contain_text("Not saved: 2 things need a look")
    summary = page.locator("[data-fault-summary]")
    expect(summary).to_be_focused()
    expect(summary.get_by_role("listitem")).to_have_count(2)
    for box, row, typed in ((distance, rose_bed, "three"), (slope, lawn, "steep")):
        expect(box).to_have_attribute("aria-invalid", "true")
        expect(box).to_have_value(typed)
        expect(row.locator(".faults")).to_contain_text(typed)
    expect(board.why).to_have_value("Measured again")

    distance.fill("4")
    slope.fill("6")
    board.save("Measured again")
    kept = stored(place)
    assert kept["Rose bed"]["properties"]["setback"] == "4 ft"
    assert kept["Lawn"]["properties"]["slope"] == "6 %"


def test_a_reload_offers_the_drawing_that_was_not_saved(
    open_window: OpenWindow, office: Person, place: Property
) -> None:
    page = open_window(office)
    board = _open(page, place)
    _draw_sandbox(board)
    board.why.fill("New sandbox")

    page.reload()

    board = Board(page)
    expect(board.offer).to_contain_text("that is not saved")
    expect(page.get_by_label("Name of Sandbox")).to_have_count(0)
    board.button("Continue with it").click()
    expect(page.get_by_label("Name of Sandbox")).to_have_value("Sandbox")
    expect(board.why).to_have_value("New sandbox")
    _save_answered(board, 200)
    assert stored(place)["Sandbox"]["properties"]["kind"] == "play_area"


def test_a_shape_that_was_not_finished_is_offered_too(
    open_window: OpenWindow, office: Person, place: Property
) -> None:
    page = open_window(office)
    board = _open(page, place)
    board.choose("Play area")
    board.click(*SANDBOX[:3])

    page.reload()

    board = Board(page)
    board.button("Continue with it").click()
    expect(board.status).to_contain_text("3 corners")
    board.button("Finish").click()
    expect(page.get_by_label("Name of Play area")).to_have_count(1)


def test_a_drawing_that_was_saved_is_not_offered_again(
    open_window: OpenWindow, office: Person, place: Property
) -> None:
    page = open_window(office)
    board = _open(page, place)
    _draw_sandbox(board)
    board.save("New sandbox")

    page.reload()

    board = Board(page)
    expect(page.get_by_label("Name of Sandbox")).to_have_value("Sandbox")
    expect(board.offer).to_be_hidden()
    expect(board.save_state).to_have_text("Saved: drawing 2")


def test_a_draft_that_was_discarded_can_be_brought_back(
    open_window: OpenWindow, office: Person, place: Property
) -> None:
    page = open_window(office)
    _draw_sandbox(_open(page, place))
    page.reload()
    board = Board(page)

    board.button("Discard it").click()
    expect(page.get_by_label("Name of Sandbox")).to_have_count(0)
    board.button("Bring it back").click()
    expect(page.get_by_label("Name of Sandbox")).to_have_value("Sandbox")


def test_an_expired_sign_in_is_told_and_the_same_window_saves_after_signing_in_elsewhere(
    open_window: OpenWindow, office: Person, place: Property
) -> None:
    page = open_window(office)
    board = _open(page, place)
    _draw_sandbox(board)
    Session.objects.all().delete()

    _save_answered(board, 401)
    expect(board.said).to_contain_text("You are signed out")
    with page.context.expect_page() as opened:
        board.said.get_by_role("link", name="Sign in again").click()
    _sign_in(opened.value, office)
    expect(Board(opened.value).offer).to_contain_text("that is not saved")
    opened.value.close()

    expect(page.get_by_label("Name of Sandbox")).to_have_value("Sandbox")
    board.save("New sandbox")
    assert "Sandbox" in stored(place)


def test_a_measurement_that_comes_late_does_not_hide_that_the_sign_in_expired(
    open_window: OpenWindow, office: Person, place: Property
) -> None:
    page = open_window(office)
    board = _open(page, place)
    late: list[tuple[Route, APIResponse]] = []
    page.route("**/measure/", lambda route: late.append((route, route.fetch())))
    board.outline("Play area", SANDBOX)
    while not late:
        page.wait_for_timeout(50)
    Session.objects.all().delete()
    _save_answered(board, 401)
    for route, answer in late:
        route.fulfill(response=answer)
    page.unroute("**/measure/")

    with page.context.expect_page() as opened:
        board.said.get_by_role("link", name="Sign in again").click()
    _sign_in(opened.value, office)
    expect(Board(opened.value).offer).to_be_visible()
    opened.value.close()

    board.save("New sandbox")
    assert "play_area" in stored(place)


def test_after_an_expired_sign_in_the_page_opened_again_offers_the_drawing(
    open_window: OpenWindow, office: Person, place: Property
) -> None:
    page = open_window(office)
    board = _open(page, place)
    _draw_sandbox(board)
    Session.objects.all().delete()
    _save_answered(board, 401)

    page.reload()
    _sign_in(page, office)

    board = Board(page)
    board.button("Continue with it").click()
    board.save("New sandbox")
    assert "Sandbox" in stored(place)


def test_a_drawing_saved_meanwhile_by_a_colleague_is_not_overwritten_unasked(
    open_window: OpenWindow, office: Person, owner: Person, place: Property
) -> None:
    page = open_window(office)
    board = _open(page, place)
    _draw_sandbox(board)
    theirs = collection(feature("lawn", "turf", rectangle(0, 0, 500, 300), name="Short lawn"))
    save_drawing(place, person=owner, at=SAVED_AT, base=1, why="Fence", collection=theirs)

    _save_answered(board, 409)
    expect(board.said).to_contain_text("Olive saved this drawing meanwhile")
    expect(page.get_by_label("Name of Sandbox")).to_have_value("Sandbox")
    assert stored(place).keys() == {"Short lawn"}

    page.reload()
    board = Board(page)
    expect(page.get_by_label("Name of Short lawn")).to_have_count(1)
    expect(board.offer).to_contain_text("begun on drawing 1; the saved one is now drawing 2")
    board.button("Continue with it").click()
    board.save("Sandbox after all")
    assert "Sandbox" in stored(place)
