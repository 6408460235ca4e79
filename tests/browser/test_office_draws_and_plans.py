"""Somebody in the office takes on a property: from the sign-in to the plan, by mouse."""

import json
from io import StringIO
from pathlib import Path
from typing import Any

import pytest
from django.core.management import call_command
from playwright.sync_api import Page, expect

from planner.models import Machine, Mix
from properties.models import Person, Property
from tests.browser.conftest import OpenWindow
from tests.browser.ground import DEGREES_EAST_PER_PIXEL, corners, geodesic_area_m2, stored
from tests.browser.hands import Board
from tests.people import PASSWORD

pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]

LAWN = [(200.0, 120.0), (700.0, 120.0), (700.0, 440.0), (200.0, 440.0)]
# The second corner lies 9 px from the lawn's, the third 8 px from its east edge.
HOUSE = [(530.0, 126.0), (694.0, 127.0), (692.0, 230.0), (530.0, 230.0)]
BED = [(260.0, 250.0), (330.0, 250.0), (330.0, 290.0), (260.0, 290.0)]
POND = [(420.0, 340.0), (480.0, 330.0), (500.0, 380.0), (440.0, 400.0), (405.0, 370.0)]
SQUARE_FEET_PER_M2 = 1 / 0.3048**2


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


def _draw(board: Board) -> None:
    board.outline("Turf", LAWN)
    board.outline("Building", HOUSE)
    board.outline("Flower bed", BED)
    board.call("Flower bed", "Rose bed")
    board.keep_away("Rose bed", "3.5")
    board.outline("Pond", POND)
    board.save("First drawing, from the deed")


def _plan(page: Page, machine: Machine, mix: Mix) -> None:
    page.get_by_role("link", name="Plan a mix").click()
    page.get_by_label("Machine").select_option(label=str(machine))
    page.get_by_label("Mix", exact=True).select_option(label=str(mix))
    page.get_by_role("textbox", name="Wind now").fill("6")
    page.get_by_label("Wind comes from").fill("W")
    page.get_by_role("button", name="Plan", exact=True).click()


def _command_plans_the_exported_request(page: Page, folder: Path) -> dict[str, Any]:
    with page.expect_download() as download:
        page.get_by_role("link", name="Request as a file").click()
    request = folder / download.value.suggested_filename
    download.value.save_as(request)
    printed = StringIO()
    call_command("plan", str(request), stdout=printed)
    plan: dict[str, Any] = json.loads(printed.getvalue())
    return plan


def _named_figures(page: Page) -> dict[str, tuple[str, str]]:
    found: list[list[str]] = page.locator("[data-figure]").evaluate_all(
        "all => all.map(({ dataset }) => [dataset.figure, dataset.value, dataset.unit])"
    )
    return {key: (value, unit) for key, value, unit in found}


def _figures_of_the_working(page: Page) -> list[tuple[str, str]]:
    found: list[list[str]] = page.locator(".plan-working [data-value]").evaluate_all(
        "all => all.map(({ dataset }) => [dataset.value, dataset.unit])"
    )
    return sorted((value, unit) for value, unit in found)


def _exactly(result: dict[str, Any]) -> tuple[str, str]:
    return repr(result["value"]), result["unit"]


def test_a_lawn_drawn_by_mouse_gets_the_plan_that_the_command_prints_for_it(
    open_window: OpenWindow, office: Person, machine: Machine, mix: Mix, tmp_path: Path
) -> None:
    page = open_window()
    _sign_in(page, office)
    _add_property(page)
    _draw(Board(page))
    _plan(page, machine, mix)
    expect(page.get_by_role("heading", name="What goes into the tank")).to_be_visible()

    plan = _command_plans_the_exported_request(page, tmp_path)

    worked = {entry["figure"]: _exactly(entry["result"]) for entry in plan["working"]}
    shown = _named_figures(page)
    assert shown == {key: worked[key] for key in shown}
    assert shown["treatable_area"] == _exactly(plan["treatable_area"])
    assert shown["carrier_volume"] == _exactly(plan["carrier_volume"])
    assert shown["products[0].amount_to_measure"] == _exactly(
        plan["products"][0]["amount_to_measure"]
    )
    for n, load in enumerate(plan["loads"]):
        assert shown[f"loads[{n}].volume"] == _exactly(load["volume"])
    assert _figures_of_the_working(page) == sorted(worked.values())


def test_what_is_drawn_by_mouse_lies_where_it_was_clicked(
    open_window: OpenWindow, office: Person, bare_place: Property
) -> None:
    page = open_window(office)
    page.goto(bare_place.get_absolute_url())
    board = Board(page)

    _draw(board)

    kept = stored(bare_place)
    centre = board.map.evaluate("map => map.clientWidth / 2")
    west, east = sorted({lon for lon, _ in corners(kept["turf"])})
    for x, lon in ((LAWN[0][0], west), (LAWN[1][0], east)):
        expected = bare_place.longitude + (x - centre) * DEGREES_EAST_PER_PIXEL
        # Half a pixel for the window's whole pixels, half for the map's own.
        assert lon == pytest.approx(expected, abs=1.01 * DEGREES_EAST_PER_PIXEL)
    square_feet = geodesic_area_m2(kept["turf"]) * SQUARE_FEET_PER_M2
    expect(board.figure("turf")).to_have_text(f"{square_feet:,.0f} sq ft")
    assert kept["Rose bed"]["properties"]["setback"] == "3.5 ft"
    assert bare_place.revisions.get().why == "First drawing, from the deed"


def test_a_house_drawn_near_the_edge_of_the_lawn_shares_its_corner_and_its_edge(
    open_window: OpenWindow, office: Person, bare_place: Property
) -> None:
    page = open_window(office)
    page.goto(bare_place.get_absolute_url())
    board = Board(page)
    board.outline("Turf", LAWN)
    board.outline("Building", HOUSE)
    board.save("House")

    kept = stored(bare_place)
    lawn, house = corners(kept["turf"]), corners(kept["building"])
    north_east = max(lawn, key=sum)
    assert north_east in house
    assert sorted(lon for lon, _ in house)[2:] == [pytest.approx(north_east[0], abs=1e-12)] * 2
    assert sorted(lat for _, lat in house)[2:] == [pytest.approx(north_east[1], abs=1e-12)] * 2
