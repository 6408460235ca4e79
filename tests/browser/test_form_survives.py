"""A long form outlives what goes wrong: a refusal, a reload, an expired sign-in."""

import re

import pytest
from django.contrib.sessions.models import Session
from playwright.sync_api import Locator, Page, expect

from planner.models import Machine, Product
from properties.models import Person
from tests.browser.conftest import OpenWindow
from tests.people import PASSWORD

pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]

BACK = "What you typed here before is back"
LABEL = {
    "Product": "Invented moss killer",
    "Registration number": "INVENTED-7",
    "What it is for": "Moss in shade",
    "Highest rate": "3.5",
    "Most wind allowed": "10",
    "Pond": "25",
}
WRONG = {"Lowest rate": "plenty", "Beehives": "-4"}
COURSE = {
    "Length of the course": "120",
    "Run 1": "0.81",
    "Run 2": "0.84",
    "Note": "Red tips, 30 psi, Percy drove",
}


def _box(page: Page, label: str) -> Locator:
    return page.get_by_role("textbox", name=re.compile(rf"^{re.escape(label)}( \(optional\))?$"))


def _type(page: Page, typed: dict[str, str]) -> None:
    for label, text in typed.items():
        _box(page, label).fill(text)


def _expect_typed(page: Page, typed: dict[str, str]) -> None:
    for label, text in typed.items():
        expect(_box(page, label)).to_have_value(text)


def _open_label(page: Page) -> None:
    page.goto("/labels/new/")
    for part in ("Weather and water", "Distances the label asks for"):
        page.get_by_text(part, exact=True).click()


def _keep(page: Page, status: int) -> None:
    with page.expect_response(lambda answer: answer.request.method == "POST") as answer:
        page.get_by_role("button", name="Keep").click()
    assert answer.value.status == status


def _sign_in(page: Page, person: Person) -> None:
    page.get_by_label("Email").fill(person.email)
    page.get_by_label("Password").fill(PASSWORD)
    page.get_by_role("button", name="Sign in").click()


def test_a_refused_label_tells_every_fault_and_keeps_what_was_typed(
    open_window: OpenWindow, office: Person
) -> None:
    page = open_window(office)
    _open_label(page)
    _type(page, LABEL | WRONG)
    page.get_by_role("textbox", name="Highest rate").locator("+ select").select_option("L/ha")

    _keep(page, 422)
    _expect_typed(page, LABEL | WRONG)
    expect(page.get_by_role("textbox", name="Highest rate").locator("+ select")).to_have_value(
        "L/ha"
    )
    for label in WRONG:
        field = page.locator(".field", has=_box(page, label))
        expect(field.locator(".errorlist")).not_to_be_empty()
    expect(page.locator(".errorlist")).to_have_count(len(WRONG))

    page.goto("/labels/")
    page.goto("/labels/new/")
    expect(page.get_by_text(BACK)).to_be_visible()
    _expect_typed(page, LABEL | WRONG)


def test_a_label_typed_before_the_sign_in_expired_is_kept_after_signing_in_again(
    open_window: OpenWindow, office: Person
) -> None:
    page = open_window(office)
    _open_label(page)
    _type(page, LABEL)
    Session.objects.all().delete()

    _keep(page, 302)
    _sign_in(page, office)
    expect(page.get_by_text(BACK)).to_be_visible()
    _expect_typed(page, LABEL)
    _keep(page, 302)

    expect(page.get_by_role("heading", name=LABEL["Product"])).to_be_visible()
    kept = Product.objects.get(name=LABEL["Product"])
    assert kept.registration_number == "INVENTED-7"
    assert [str(row.distance) for row in kept.setbacks.all()] == ["25 ft"]
    page.goto("/labels/new/")
    expect(page.get_by_text(BACK)).to_have_count(0)
    expect(page.get_by_label("Registration number")).to_have_value("")


def test_a_half_typed_calibration_is_back_after_a_reload(
    open_window: OpenWindow, crew: Person, machine: Machine
) -> None:
    page = open_window(crew)
    page.goto(f"/machines/{machine.pk}/calibrate/")
    _type(page, COURSE)
    page.get_by_label("Water is read in").select_option("L")

    page.reload()

    expect(page.get_by_text(BACK)).to_be_visible()
    _expect_typed(page, COURSE)
    expect(page.get_by_label("Water is read in")).to_have_value("L")


def test_a_calibration_short_of_a_run_says_so_and_is_kept_once_the_run_is_made(
    open_window: OpenWindow, crew: Person, machine: Machine
) -> None:
    page = open_window(crew)
    page.goto(f"/machines/{machine.pk}/calibrate/")
    _type(page, COURSE)

    _keep(page, 422)
    run = page.locator(".field", has=page.get_by_label("Run 3"))
    expect(run.locator(".errorlist")).to_contain_text("Three runs or more are needed")
    _expect_typed(page, COURSE)
    page.get_by_label("Run 3").fill("0.83")
    _keep(page, 302)

    expect(page.get_by_text("The calibration is kept.")).to_be_visible()
    newest = machine.calibrations.order_by("-done_at")[0]
    assert newest.told["volumes_used"] == [
        "0.81 gal",
        "0.84 gal",
        "0.83 gal",
    ]
    assert newest.note == COURSE["Note"]
