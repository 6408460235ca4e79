"""From the sign-in to an accepted quote for a newly drawn property, on a desk and on a phone."""

import io
from collections.abc import Callable
from dataclasses import dataclass
from datetime import UTC, date, datetime, timedelta
from typing import Any

import pytest
from playwright.sync_api import Page, expect
from pypdf import PdfReader

from planner.models import Job, Machine, Mix, PriceBook, Programme, Round
from planner.services.programmes import keep_programme
from properties.models import Firm, Person
from tests.browser.conftest import OpenWindow
from tests.browser.fingers import Finger
from tests.browser.hands import Board
from tests.browser.test_every_page import expect_sound_at_both_sizes
from tests.people import PASSWORD

pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]

LAWN = [(200.0, 120.0), (700.0, 120.0), (700.0, 440.0), (200.0, 440.0)]
POND = [(420.0, 300.0), (500.0, 300.0), (500.0, 360.0), (420.0, 360.0)]
ON_A_PHONE = [(80.0, 90.0), (280.0, 90.0), (280.0, 250.0), (80.0, 250.0)]


def _today() -> date:
    """Today, or the day before a day that most years do not have."""
    today = datetime.now(tz=UTC).date()
    return today - timedelta(days=1) if (today.month, today.day) == (2, 29) else today


@dataclass(frozen=True)
class Way:
    """One way through: how the lawn is drawn, what is accepted, what is due then."""

    draw: Callable[[Page], None]
    option: str
    job: str


@pytest.fixture
def due_now(firm: Firm, machine: Machine, mix: Mix, priced: PriceBook) -> Programme:
    """A programme of one round whose days have just begun."""
    first, last = _today(), _today() + timedelta(days=15)
    return keep_programme(
        Programme(firm=firm, name="Weeds once a year"),
        rounds=[
            Round(
                name="Weeds",
                from_day=f"{first:%m-%d}",
                to_day=f"{last:%m-%d}",
                over_new_year=last.year > first.year,
                mix=mix,
                machine=machine,
            )
        ],
    )


def _sign_in(page: Page, person: Person) -> None:
    page.goto("/")
    page.get_by_label("Email").fill(person.email)
    page.get_by_label("Password").fill(PASSWORD)
    page.get_by_role("button", name="Sign in").click()


def _add_property(page: Page) -> None:
    page.get_by_role("link", name="Add a property").first.click()
    page.get_by_label("Name of the property").fill("Corner of Reed Lane")
    page.get_by_label("Address").fill("12 Reed Lane, Hazel Ferry")
    page.get_by_label("Customer").fill("T. Burdock")
    page.get_by_label("Latitude").fill("41.0005")
    page.get_by_label("Longitude").fill("-92.001")
    page.get_by_label("Time zone").select_option("America/Chicago")
    page.get_by_role("button", name="Add and draw").click()


def _write_quote(page: Page, programme: Programme) -> None:
    round_ = programme.rounds.get()
    page.get_by_role("link", name="Quote", exact=True).click()
    page.get_by_label("Season").fill(str(_today().year))
    first = page.get_by_role("group", name="Option A", exact=True)
    first.get_by_label("Programme").select_option(label=str(programme))
    page.get_by_text("Option B").click()
    second = page.get_by_role("group", name="Option B", exact=True)
    second.get_by_label("What the customer reads it as").fill("A single visit")
    second.get_by_label("Mix").select_option(label=str(round_.mix))
    second.get_by_label("With", exact=True).select_option(label=str(round_.machine))
    second.get_by_label("First day").fill(_today().isoformat())
    second.get_by_label("Last day").fill((_today() + timedelta(days=15)).isoformat())
    page.get_by_role("button", name="Keep and see the price").click()


def _send(page: Page) -> str:
    expect(page.get_by_role("heading", name="Send it", exact=True)).to_be_visible()
    page.get_by_role("button", name="Freeze and send").click()
    link = page.locator("[data-copy-link]").get_attribute("href")
    assert link is not None
    return link


def _accept(page: Page, link: str, option: str) -> str:
    """Accept as the customer, and give what is to pay."""
    page.goto(link)
    expect(page.get_by_role("heading", name="What we keep away from")).to_be_visible()
    expect_sound_at_both_sizes(page)
    page.get_by_label(option).check()
    page.get_by_label("Your name").first.fill("T. Burdock")
    page.get_by_role("button", name="Accept this option").click()
    expect(page.get_by_role("heading", name="Accepted", exact=True)).to_be_visible()
    expect(page.get_by_role("button", name="Accept this option")).to_have_count(0)
    expect_sound_at_both_sizes(page)
    card = page.get_by_role("listitem").filter(has_text=option).first
    return card.locator("[data-total]").inner_text()


def _expect_the_jobs(page: Page, name: str) -> None:
    page.goto("/season/")
    expect(page.get_by_text("Corner of Reed Lane").first).to_be_visible()
    page.goto("/loads/")
    lawn = page.get_by_role("checkbox", name=f"Corner of Reed Lane: {name}")
    expect(lawn).to_be_checked()


def _draw_by_mouse(page: Page) -> None:
    board = Board(page)
    board.outline("Turf", LAWN)
    board.outline("Pond", POND)
    board.save("First drawing")


def _draw_by_thumb(page: Page) -> None:
    board, finger = Board(page), Finger(page)
    board.button("Draw a shape").tap()
    board.button("Turf").tap()
    board.button("Crosshair").tap()
    finger.tap(board, *ON_A_PHONE, ON_A_PHONE[0])
    expect(board.status).to_contain_text("Turf added")
    board.why.fill("First drawing")
    board.button("Save drawing").tap()
    expect(board.said).to_contain_text("Saved as drawing")


DESK_WAY = Way(_draw_by_mouse, "A. Weeds once a year", "Weeds")
PHONE_WAY = Way(_draw_by_thumb, "B. A single visit", "A single visit")


@pytest.mark.parametrize("way", [DESK_WAY, PHONE_WAY], ids=["desk", "phone"])
def test_a_new_property_is_drawn_quoted_and_accepted_and_its_job_is_due(
    open_window: OpenWindow, phone: dict[str, Any], office: Person, due_now: Programme, way: Way
) -> None:
    size = phone if way is PHONE_WAY else {}
    page = open_window(**size)
    _sign_in(page, office)
    _add_property(page)
    way.draw(page)
    _write_quote(page, due_now)
    link = _send(page)

    to_pay = _accept(open_window(**size), link, way.option)

    _expect_the_jobs(page, way.job)
    paper = page.request.get(f"{link}letter.pdf")
    words = " ".join(each.extract_text() for each in PdfReader(io.BytesIO(paper.body())).pages)
    assert to_pay in words
    assert "12 Reed Lane, Hazel Ferry" in words
    assert [made.name for made in Job.objects.all()] == [way.job]
