"""The plan page follows the wind while it is typed, and keeps its answer when it cannot."""

from collections.abc import Callable

import pytest
from playwright.sync_api import Page, expect

from planner.models import Machine, Mix
from properties.core.units import Quantity
from properties.models import Person, Property, SetbackRule

pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]


@pytest.fixture
def planned(
    open_window: Callable[..., Page],
    owner: Person,
    place: Property,
    machine: Machine,
    hand_gun: Machine,
    mix: Mix,
) -> Page:
    """A plan with both tools, where beds ask for more ground downwind."""
    SetbackRule.objects.filter(kind="flower_bed").update(downwind=Quantity(20.0, "ft"))
    page = open_window(owner, foreseen={422})
    page.goto(
        f"/properties/{place.pk}/plan/?machine={machine.pk}&hand_tool={hand_gun.pk}&mix={mix.pk}"
    )
    page.get_by_text("Change machine, mix or wind").click()
    return page


def _treatable(page: Page) -> str | None:
    return page.locator('[data-figure="treatable_area"]').first.get_attribute("data-value")


def test_the_shape_and_the_amounts_follow_the_wind(planned: Page) -> None:
    before = _treatable(planned)

    planned.locator("#id_wind_from").fill("W")
    expect(planned.locator('[data-figure="treatable_area"]').first).not_to_have_attribute(
        "data-value", str(before)
    )
    from_west = _treatable(planned)
    planned.locator("#id_wind_from").fill("E")
    expect(planned.locator('[data-figure="treatable_area"]').first).not_to_have_attribute(
        "data-value", str(from_west)
    )

    # With the wind unknown the larger distance is kept all round.
    assert float(before or 0) < min(float(from_west or 0), float(_treatable(planned) or 0))
    assert "wind_from=E" in planned.url
    # The file that is offered and the plan that would be kept are of this wind too.
    assert "wind_from=E" in str(
        planned.get_by_role("link", name="Request as a file").get_attribute("href")
    )
    assert "wind_from=E" in str(planned.locator(".keep-plan form").get_attribute("action"))
    planned.locator(".map-viewer").first.scroll_into_view_if_needed()
    expect(planned.locator(".map-viewer .ground-treatable").first).to_be_attached()


def test_too_much_wind_is_a_hold_and_a_lull_takes_it_back(planned: Page) -> None:
    planned.locator("#id_wind_speed_0").fill("11")
    expect(planned.get_by_role("heading", name="Hold: nothing is sprayed")).to_be_visible()
    expect(planned.locator("[data-plan-said]")).to_contain_text("Hold")

    planned.locator("#id_wind_speed_0").fill("6")
    expect(planned.get_by_role("heading", name="Hold: nothing is sprayed")).to_have_count(0)


def test_a_direction_that_is_none_is_said_and_what_was_typed_stays(planned: Page) -> None:
    planned.locator("#id_wind_from").fill("400")

    expect(planned.get_by_role("heading", name="No plan yet")).to_be_visible()
    expect(planned.get_by_text("400 is no direction").first).to_be_visible()
    expect(planned.locator("#id_wind_from")).to_have_value("400")


def test_without_a_connection_the_old_answer_stays_and_says_so(planned: Page) -> None:
    before = _treatable(planned)
    planned.route("**/plan/**", lambda route: route.abort())

    planned.locator("#id_wind_from").fill("N")

    notice = planned.locator("[data-plan-said]")
    expect(notice).to_contain_text("for what was asked before")
    expect(notice).to_be_in_viewport()
    assert _treatable(planned) == before


def test_paper_has_the_appendix_only_where_it_is_asked_for(planned: Page) -> None:
    working = planned.locator(".plan-working")
    planned.emulate_media(media="print")
    expect(working).to_be_hidden()
    expect(planned.locator(".plan-loads")).to_be_visible()
    planned.emulate_media(media="screen")

    planned.get_by_label("On paper: the appendix too").check()
    planned.emulate_media(media="print")
    planned.evaluate("window.dispatchEvent(new Event('beforeprint'))")

    expect(working).to_be_visible()
    expect(working.locator(".figure-formula").first).to_be_visible()
