"""Somebody stands in the yard with a new machine and a telephone, and calibrates it."""

import re
from typing import Any

import pytest
from playwright.sync_api import Page, expect

from planner.models import Machine
from planner.selectors.calibrations import newest_calibration
from properties.models import Person
from tests.browser.conftest import OpenWindow

pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]

TIMES_MS = (34_000, 34_200, 33_900)


def _type(page: Page, typed: dict[str, str]) -> None:
    for label, text in typed.items():
        page.get_by_role("textbox", name=label, exact=True).fill(text)


def _keep(page: Page, name: str) -> None:
    page.get_by_role("button", name=name, exact=True).tap()


def _time_a_run(page: Page, lasting_ms: int) -> None:
    page.get_by_role("button", name="Start").first.tap()
    page.clock.run_for(lasting_ms)
    page.get_by_role("button", name="Stop").first.tap()


def _fits(page: Page) -> bool:
    wide: int = page.evaluate("document.documentElement.scrollWidth")
    return wide <= 360


def _add_and_fit(page: Page) -> None:
    page.goto("/machines/")
    page.get_by_role("link", name="Add a sprayer").tap()
    _type(page, {"Name": "New boom", "Swath": "10", "Tank 1": "60"})
    _keep(page, "Keep")
    page.get_by_role("link", name="Tips, pressure, nozzles").tap()
    page.get_by_label("Tips (optional)", exact=True).fill("Red flat fan")
    page.get_by_label("Number of nozzles").fill("6")
    page.get_by_role("textbox", name="Pressure").fill("28")
    page.get_by_role("textbox", name="Nozzles are apart").fill("20")
    _keep(page, "Keep")


def _catch(page: Page, ounces: list[str]) -> None:
    page.get_by_role("link", name="Catch every nozzle").tap()
    _type(page, {f"Nozzle {number}": caught for number, caught in enumerate(ounces, start=1)})
    page.get_by_role("textbox", name="Length of the course").fill("200")


def _time_without_a_signal(page: Page) -> None:
    """Behind the shed there is no signal: the timer goes on, and so do the boxes."""
    page.context.set_offline(True)
    for lasting_ms in TIMES_MS:
        _time_a_run(page, lasting_ms)
    # Real time runs on while the clock is turned, so a tenth or two may come on top.
    expect(page.get_by_label("Time 3")).to_have_value(re.compile(r"^3[34]\.\d$"))
    page.context.set_offline(False)


def test_a_boom_is_added_fitted_and_calibrated_nozzle_by_nozzle(
    open_window: OpenWindow, phone: dict[str, Any], office: Person
) -> None:
    page = open_window(office, **phone)
    page.clock.install()
    _add_and_fit(page)
    page.get_by_role("link", name="Calibrate", exact=True).tap()

    _catch(page, ["36", "36", "36", "28", "36", "36"])
    _time_without_a_signal(page)
    page.reload()
    expect(page.get_by_label("Time 2")).to_have_value(re.compile(r"^34\.\d$"))
    expect(page.get_by_label("Nozzle 4")).to_have_value("28")
    assert _fits(page)
    _keep(page, "Keep the calibration")

    expect(page.get_by_role("heading", name="Failed")).to_be_visible()
    expect(page.get_by_text("Nozzle 4 gives 28 fl oz")).to_contain_text("clean tip and screen")
    expect(page.locator(".nozzle-off")).to_have_count(1)
    assert _fits(page)

    page.get_by_role("link", name="Calibrate again").tap()
    _catch(page, ["36"] * 6)
    _type(page, {f"Time {n}": f"{lasting / 1000:g}" for n, lasting in enumerate(TIMES_MS, start=1)})
    _keep(page, "Keep the calibration")

    expect(page.get_by_role("heading", name="Passed")).to_be_visible()
    expect(page.get_by_text("used for plans")).to_be_visible()
    # 5940 × 0.5625 gal/min / (4.0067 mph × 20 in) / 43.56, by hand.
    shown = page.locator("output[data-value]").first
    expect(shown).to_have_attribute("data-value", re.compile(r"0\.957"))
    made = newest_calibration(Machine.objects.get(name="New boom"))
    assert made is not None
    assert made.set_up == {"tips": "Red flat fan", "pressure": "28 psi"}


def test_a_timer_that_was_started_goes_on_over_a_reload(
    open_window: OpenWindow, phone: dict[str, Any], crew: Person, hand_gun: Machine
) -> None:
    page = open_window(crew, **phone)
    page.clock.install()
    page.goto(f"/machines/{hand_gun.pk}/calibrate/walk/")
    page.get_by_role("button", name="Start").first.tap()
    page.clock.run_for(20_000)

    page.reload()
    page.clock.run_for(57_000)
    page.get_by_role("button", name="Stop").first.tap()

    expect(page.get_by_label("Time 1")).to_have_value(re.compile(r"^7[78]\.\d$"))
