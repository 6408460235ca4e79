"""The history of a property: what each saving changed, and two drawings compared."""

import copy
import re
from collections.abc import Callable
from datetime import UTC, datetime
from typing import Any

import pytest
from django.test import Client
from django.urls import reverse

from properties.models import Person, Property, Revision
from properties.selectors.history import number_held_at, steps_of
from properties.services.outlines import save_drawing
from properties.services.places import add_property
from tests.places import collection, facts, feature, rectangle, small_lot

#: Clocks in Chicago were set back on 1 November 2026: 1:30 came twice, at 6:30 and 7:30 UTC.
SUMMER_HALF_PAST_ONE = datetime(2026, 11, 1, 6, 30, tzinfo=UTC)
WINTER_HALF_PAST_ONE = datetime(2026, 11, 1, 7, 30, tzinfo=UTC)
#: The last minute of that day, and the first of the next: six hours behind UTC by then.
LAST_MINUTE = datetime(2026, 11, 2, 5, 59, tzinfo=UTC)
NEXT_DAY = datetime(2026, 11, 2, 6, 0, tzinfo=UTC)

Change = Callable[[dict[str, Any]], None]


def redraw(place: Property, person: Person, at: datetime, change: Change, why: str = "") -> None:
    """Save the small lot with something about its shapes changed."""
    drawn = copy.deepcopy(small_lot())
    change({shape["id"]: shape for shape in drawn["features"]} | {"all": drawn["features"]})
    place.refresh_from_db()
    save_drawing(place, person=person, at=at, base=place.drawing_number, why=why, collection=drawn)
    place.refresh_from_db()


def _sand_box(shapes: dict[str, Any]) -> None:
    sand = feature("sand", "play_area", rectangle(20, 20, 40, 40), name="Sand box")
    shapes["all"].append(sand)


def _pond_away(shapes: dict[str, Any]) -> None:
    _sand_box(shapes)
    shapes["all"].remove(shapes["pond"])


def _another_lawn(shapes: dict[str, Any]) -> None:
    _pond_away(shapes)
    shapes["lawn"]["geometry"] = rectangle(0, 0, 500, 410)
    shapes["lawn"]["properties"] |= {"name": "Back lawn", "slope": "12 %"}
    shapes["roses"]["geometry"] = rectangle(360, 150, 60, 40)
    shapes["roses"]["properties"]["setback"] = "10 ft"


@pytest.fixture
def redrawn(place: Property, owner: Person, office: Person) -> Property:
    """The small lot saved four times, the last two on the night the clocks were set back."""
    redraw(place, office, datetime(2026, 5, 2, 15, 0, tzinfo=UTC), _sand_box, why="New sand box")
    redraw(place, owner, SUMMER_HALF_PAST_ONE, _pond_away)
    redraw(place, owner, WINTER_HALF_PAST_ONE, _another_lawn, why="Measured again")
    return place


def _page(client: Client, place: Property, **asked: str) -> Any:
    return client.get(reverse("history", args=[place.pk]), asked)


def _told(page: Any) -> dict[str, tuple[str, ...]]:
    return {change.name: change.words for change in page.context["changes"]}


def test_every_saving_tells_who_when_and_what_it_changed(
    client: Client, owner: Person, redrawn: Property
) -> None:
    client.force_login(owner)

    page = _page(client, redrawn)

    steps = [
        (step["revision"].number, str(step["revision"].saved_by), step["revision"].why)
        for step in page.context["steps"]
    ]
    assert steps == [
        (4, "Olive", "Measured again"),
        (3, "Olive", ""),
        (2, "Percy", "New sand box"),
        (1, "Olive", "First drawing"),
    ]
    sentences = [[one.sentence for one in step["changes"]] for step in page.context["steps"]]
    assert sentences[1] == [f"Pond removed, {_area(80, 60)}"]
    assert sentences[2] == [f"Sand box added, {_area(40, 40)}"]
    assert len(sentences[3]) == 4
    assert sentences[0][1].startswith("Rose bed: moved by 2.8 ft, distance to keep 10 ft, was 3 ft")


def _area(east: float, north: float) -> str:
    """Square feet of a rectangle at 41° N, its sides in millionths of a degree."""
    # NGA.STND.0036, WGS 84: at 41.0007° a degree is 84.1366 km of longitude, 111.0504 of latitude.
    return f"{east * north * 0.0841366 * 0.1110504 / 0.3048**2:,.0f} sq ft"


def test_an_hour_that_came_twice_is_told_apart_by_its_zone(
    client: Client, owner: Person, redrawn: Property
) -> None:
    client.force_login(owner)

    text = _page(client, redrawn).content.decode()

    times = set(re.findall(r"Nov 1, 2026, (\d\d:\d\d \w+)", text))
    assert times == {"01:30 CST", "01:30 CDT"}
    assert "Apr 7, 2026, 09:30 CDT" in text
    assert "America/Chicago" in text


def test_without_a_wish_the_present_is_compared_with_the_one_before(
    client: Client, crew: Person, redrawn: Property
) -> None:
    client.force_login(crew)

    page = _page(client, redrawn)

    assert (page.context["before"], page.context["after"]) == (3, 4)
    assert _told(page) == {
        "Back lawn": ("reshaped", "was called “Lawn”", "slope 12 %, was level"),
        "Rose bed": ("moved by 2.8 ft", "distance to keep 10 ft, was 3 ft"),
    }
    assert page.context["unchanged"] == 2


def test_two_drawings_far_apart_are_compared_in_one_step(
    client: Client, owner: Person, redrawn: Property
) -> None:
    client.force_login(owner)

    page = _page(client, redrawn, **{"from": "1", "to": "4"})

    fates = {change.name: change.fate for change in page.context["changes"]}
    assert fates == {
        "Back lawn": "changed",
        "Rose bed": "changed",
        "Sand box": "added",
        "Pond": "removed",
    }
    drawn = [
        (shape["properties"]["change"], shape["properties"]["name"])
        for shape in page.context["map_json"]["collection"]["features"]
    ]
    assert drawn == [
        ("same", "House"),
        ("removed", "Pond, removed"),
        ("old", "Lawn, before"),
        ("old", "Rose bed, before"),
        ("new", "Back lawn, now"),
        ("new", "Rose bed, now"),
        ("added", "Sand box, added"),
    ]


def test_the_later_drawing_asked_for_first_still_comes_last(
    client: Client, owner: Person, redrawn: Property
) -> None:
    client.force_login(owner)

    page = _page(client, redrawn, **{"from": "3", "to": "2"})

    assert (page.context["before"], page.context["after"]) == (2, 3)


@pytest.mark.parametrize(
    ("from_day", "to_day", "numbers"),
    [
        ("2026-04-06", "2026-04-07", (0, 1)),
        ("2026-04-07", "2026-05-01", (1, 1)),
        ("2026-05-01", "2026-05-02", (1, 2)),
        ("2026-10-31", "2026-11-01", (2, 4)),
        ("2026-04-30", "2199-12-31", (1, 4)),
        ("2026-05-02", "4", (2, 4)),
    ],
)
def test_a_day_finds_the_drawing_that_held_at_its_end(
    client: Client,
    owner: Person,
    redrawn: Property,
    from_day: str,
    to_day: str,
    numbers: tuple[int, int],
) -> None:
    client.force_login(owner)

    page = _page(client, redrawn, **{"from": from_day, "to": to_day})

    assert page.status_code == 200
    assert (page.context["before"], page.context["after"]) == numbers


@pytest.mark.parametrize(("at", "number"), [(LAST_MINUTE, 2), (NEXT_DAY, 1)])
def test_the_longest_day_of_the_year_ends_at_its_own_midnight(
    client: Client, owner: Person, place: Property, at: datetime, number: int
) -> None:
    redraw(place, owner, at, _sand_box)
    client.force_login(owner)

    page = _page(client, place, **{"from": "0", "to": "2026-11-01"})

    assert page.context["after"] == number


@pytest.mark.parametrize(
    "asked",
    [
        {"from": "9"},
        {"to": "5"},
        {"from": "-1"},
        {"from": "2026-02-30"},
        {"to": "yesterday"},
        {"to": "0001-01-01"},
        {"to": "9999-12-31"},
        {"from": "2026-04-01T12:00"},
        {"from": "9" * 5000},
        {"from": "٣"},
        {"to": "1\x00"},
        {"from": "<script>"},
    ],
)
def test_what_names_no_drawing_is_answered_in_words_beside_the_history(
    client: Client, owner: Person, redrawn: Property, asked: dict[str, str]
) -> None:
    client.force_login(owner)

    page = _page(client, redrawn, **asked)

    assert page.status_code == 422
    text = page.content.decode()
    assert "Nothing to compare yet" in text
    assert "Measured again" in text
    assert "<script>:" not in text


@pytest.mark.parametrize("asked", [{}, {"from": "", "to": ""}, {"page": "many"}, {"page": "99"}])
def test_what_is_left_open_falls_back_to_the_present(
    client: Client, owner: Person, redrawn: Property, asked: dict[str, str]
) -> None:
    client.force_login(owner)

    page = _page(client, redrawn, **asked)

    assert (page.status_code, page.context["after"]) == (200, 4)


def test_a_drawing_compared_with_itself_says_that_nothing_differs(
    client: Client, owner: Person, redrawn: Property
) -> None:
    client.force_login(owner)

    page = _page(client, redrawn, **{"from": "2", "to": "2"})

    assert "Nothing differs." in page.content.decode()
    assert {row["difference"] for row in page.context["totals"]} == {"no change"}


def test_shapes_put_in_another_order_are_told_as_just_that(
    client: Client, owner: Person, place: Property
) -> None:
    redraw(place, owner, NEXT_DAY, lambda shapes: shapes["all"].reverse())
    client.force_login(owner)

    assert "Only the order of the shapes changed." in _page(client, place).content.decode()


def test_the_reader_gets_their_own_units(client: Client, owner: Person, redrawn: Property) -> None:
    owner.units = "metric"
    owner.save()
    client.force_login(owner)

    page = _page(client, redrawn)

    rose = next(change for change in page.context["changes"] if change.name == "Rose bed")
    assert rose.words[0] == "moved by 0.8 m"
    assert rose.before.endswith("m²")
    assert {row["before"].split()[-1] for row in page.context["totals"]} == {"m²"}


def test_the_whole_property_adds_up_before_and_after(
    client: Client, owner: Person, redrawn: Property
) -> None:
    client.force_login(owner)

    page = _page(client, redrawn, **{"from": "1", "to": "4"})

    for when in ("before", "after"):
        turf, under, kept, treatable = (
            int(row[when].removesuffix(" sq ft").replace(",", "")) for row in page.context["totals"]
        )
        # Each is rounded to a square foot.
        assert abs(turf - under - kept - treatable) <= 2


def test_a_property_without_a_drawing_says_so(client: Client, owner: Person) -> None:
    bare = add_property(firm=owner.firm, facts=facts(name="Bare lot"))
    client.force_login(owner)

    page = _page(client, bare)

    assert page.status_code == 200
    assert "Nothing has been saved yet" in page.content.decode()


def test_a_colleague_who_has_left_leaves_the_history_readable(
    client: Client, owner: Person, office: Person, redrawn: Property
) -> None:
    office.delete()
    client.force_login(owner)

    assert "somebody who has left" in _page(client, redrawn).content.decode()


def test_names_and_reasons_are_shown_as_text(
    client: Client, owner: Person, place: Property
) -> None:
    def named(shapes: dict[str, Any]) -> None:
        shapes["lawn"]["properties"]["name"] = "</script><b>Lawn"

    redraw(place, owner, NEXT_DAY, named, why="<i>because</i>")
    client.force_login(owner)

    text = _page(client, place).content.decode()

    assert "</script><b>" not in text
    assert "&lt;i&gt;because&lt;/i&gt;" in text


def test_fifty_savings_are_listed_page_by_page_with_as_many_questions_as_two(
    client: Client, owner: Person, place: Property, django_assert_max_num_queries: Any
) -> None:
    for n in range(2, 52):
        lawn = feature("lawn", "turf", rectangle(0, 0, 500, 400 + n), name="Lawn")
        save_drawing(
            place, person=owner, at=NEXT_DAY, base=n - 1, why="", collection=collection(lawn)
        )
    client.force_login(owner)

    with django_assert_max_num_queries(16):
        page = _page(client, place)

    assert [step["revision"].number for step in page.context["steps"]] == list(range(51, 26, -1))
    last = _page(client, place, page="3")
    assert [step["revision"].number for step in last.context["steps"]] == [1]
    assert len(last.context["steps"][0]["changes"]) == 4


def test_a_step_tells_the_same_as_the_two_drawings_compared(
    client: Client, owner: Person, redrawn: Property
) -> None:
    client.force_login(owner)
    steps = {
        step["revision"].number: step["changes"] for step in _page(client, redrawn).context["steps"]
    }

    for number, changes in steps.items():
        page = _page(client, redrawn, **{"from": str(number - 1), "to": str(number)})
        assert page.context["changes"] == changes


def test_no_revision_has_no_step_and_no_moment_before_the_first_has_a_drawing(
    place: Property,
) -> None:
    assert steps_of(place, []) == []
    assert number_held_at(place, datetime(2026, 4, 7, 14, 29, tzinfo=UTC)) == 0
    assert number_held_at(place, Revision.objects.get().saved_at) == 1


def test_the_property_page_leads_to_its_history_in_its_own_time(
    client: Client, owner: Person, place: Property
) -> None:
    client.force_login(owner)

    text = client.get(place.get_absolute_url()).content.decode()

    assert reverse("history", args=[place.pk]) in text
    assert "Apr 7, 2026, 09:30 CDT" in text


def test_a_shape_measured_again_says_how_and_how_well(
    client: Client, owner: Person, place: Property
) -> None:
    def taped(shapes: dict[str, Any]) -> None:
        shapes["lawn"]["properties"] |= {"measured_by": "tape", "position_error": "0.2 ft"}

    redraw(place, owner, SUMMER_HALF_PAST_ONE, taped, why="Measured with a tape")
    client.force_login(owner)

    page = client.get(reverse("history", args=[place.pk])).content.decode()

    assert "measured by tape, was not told" in page
    assert "error of its corners 0.2 ft, was not known" in page
