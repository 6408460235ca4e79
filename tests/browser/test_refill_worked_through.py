"""On a small telephone at the yard: the day is split, the gauge is read, the make-up is shown.

Seven invented lawns; the numbers were worked by hand, as for the request of the same day.
"""

from typing import Any
from urllib.parse import urlencode

import pytest
from playwright.sync_api import Locator, Page, expect

from planner.services.tanks import record_tank_use
from properties.models import Person
from tests.browser.conftest import OpenWindow, Visit
from tests.browser.test_every_page import expect_sound_at_both_sizes
from tests.pennywhistle import Day, hand_tool_of
from tests.work import DONE_AT

pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]


def _figure(page: Page, key: str) -> Locator:
    return page.locator(f'output[data-figure="{key}"]')


def _value(page: Page, key: str) -> float:
    return float(_figure(page, key).get_attribute("data-value") or "nan")


def _choose_the_day(page: Page, day: Day) -> None:
    """Pick machine, mix and the way by their names, row after row."""
    page.get_by_label("Machine").select_option(label="Truck gun")
    page.get_by_label("Mix").select_option(label="W-2 alone")
    way = [f"Stop {number}" for number in range(1, 5)]
    way += ["The yard", "Stop 5", "Customer’s tap without air gap and backflow device"]
    for row, name in enumerate(way[:6], start=1):
        page.get_by_label(f"Place {row} on the way").select_option(label=name)
    page.get_by_role("button", name="More rows").click()
    for row, name in enumerate([*way[6:], "Stop 6", "Stop 7"], start=7):
        page.get_by_label(f"Place {row} on the way").select_option(label=name)
    page.get_by_role("button", name="Work out the loads").click()


@pytest.fixture
def on_the_phone(
    open_window: OpenWindow, phone: dict[str, Any], crew: Person, pennywhistle: Day
) -> Page:
    """Somebody of the crew with the day worked out."""
    page = open_window(crew, **phone)
    page.goto("/loads/")
    _choose_the_day(page, pennywhistle)
    return page


def test_the_day_is_split_after_the_fourth_lawn(on_the_phone: Page) -> None:
    page = on_the_phone

    expect(page.get_by_role("heading", name="2 loads, as planned")).to_be_visible()
    # 57.5 thousand sq ft × 2.0 gal and 3 gal that cannot be sprayed; 118 × 0.6 = 70.8 fl oz.
    assert _value(page, "route.loads[0].add") == pytest.approx(118.0, rel=5e-3)
    assert _value(page, "route.loads[0].products[0].amount_to_measure") == 71
    expect(page.get_by_text("no reload point, an air gap or a backflow device")).to_be_visible()


def test_what_the_gauge_shows_becomes_what_to_add_and_opens_to_its_working(
    on_the_phone: Page,
) -> None:
    page = on_the_phone
    page.get_by_role("link", name="At the refill").click()
    page.get_by_label("Gauge reading", exact=True).fill("9.0")
    page.get_by_role("button", name="What to add").click()

    expect(page.get_by_text("Check before you go on")).to_be_visible()
    added = "route.refill.loads[0].add"
    product = "route.refill.loads[0].products[0]"
    assert _value(page, "route.refill.measured_output") == pytest.approx(1.8957, rel=5e-3)
    assert _value(page, added) == pytest.approx(95.99, rel=5e-3)
    assert _value(page, f"{product}.amount_to_measure") == 61
    assert _value(page, "route.refill.naive.left") == pytest.approx(14.6, abs=0.3)

    opened = page.locator("details.figure", has=_figure(page, added))
    opened.locator("summary").click()
    steps = opened.locator(".figure-steps")
    expect(steps.get_by_text("tank − in it already")).to_be_visible()
    told = steps.locator("li").all_inner_texts()
    tank, there = (float(line.split(": ")[1].split()[0]) for line in told)
    assert tank - there == pytest.approx(_value(page, added), rel=1e-8)


def test_the_old_recipe_is_shown_as_what_not_to_do_and_the_flush_stands_in_a_record(
    on_the_phone: Page,
) -> None:
    page = on_the_phone
    page.get_by_label("Gauge reading", exact=True).fill("9.0")
    page.get_by_role("button", name="What to add").click()

    expect(page.get_by_role("heading", name="Not like this")).to_be_visible()
    expect(page.get_by_text("Flush it onto Stop 7")).to_be_visible()
    assert _value(page, "route.rinse.stays_percent") == pytest.approx(0.2219, abs=1e-3)


def test_a_reading_that_is_no_number_stands_beside_its_box_and_the_way_is_kept(
    on_the_phone: Page,
) -> None:
    page = on_the_phone
    page.get_by_label("Gauge reading", exact=True).fill("nearly full")
    page.get_by_role("button", name="What to add").click()

    expect(page.get_by_text("does not begin with a number").first).to_be_visible()
    page.get_by_text("The day", exact=True).click()
    expect(page.get_by_label("Place 9 on the way").locator("option:checked")).to_have_text("Stop 7")
    expect(page.get_by_label("Gauge reading", exact=True)).to_have_value("nearly full")


def test_the_loads_of_a_day_are_readable_by_everybody_and_fit_their_window(
    visit: Visit, pennywhistle: Day
) -> None:
    readings = {"in_tank_0": "9.0", "in_tank_1": "gal", "gauge_1_0": "95.6", "gauge_1_1": "gal"}
    page = visit(f"/loads/?{urlencode(pennywhistle.question(**readings))}", pennywhistle.person)
    for line in page.locator("details:not([open]) > summary:visible").element_handles():
        line.click()

    expect_sound_at_both_sizes(page)


def test_what_is_done_by_hand_is_readable_by_everybody_and_fits_its_window(
    visit: Visit, with_strip: Day
) -> None:
    question = with_strip.question(hand_tool=hand_tool_of(with_strip).pk)
    page = visit(f"/loads/?{urlencode(question)}", with_strip.person)

    expect(page.get_by_role("heading", name="By hand: 1 load")).to_be_visible()
    expect_sound_at_both_sizes(page)


def test_a_shut_tank_and_its_rinse_are_readable_by_everybody_and_fit_their_window(
    visit: Visit, pennywhistle: Day
) -> None:
    record_tank_use(
        pennywhistle.machine, tank=1, mix=pennywhistle.mix, person=pennywhistle.person, at=DONE_AT
    )
    address = f"/machines/{pennywhistle.machine.pk}/tanks/"

    expect_sound_at_both_sizes(visit(address, pennywhistle.person))
    expect_sound_at_both_sizes(visit(f"{address}1/rinsed/", pennywhistle.person))
