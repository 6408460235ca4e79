"""What a place has had before, as it is told, and every slip in its place."""

from datetime import date
from typing import Any

import pytest

from planner.core.label.limits import MonthDay
from planner.core.label.substances import Content
from planner.core.past import Blackout
from planner.core.request import past, read_request
from properties.core.units import Quantity
from tests.planner.core.asking import HERBICIDE, LAWN, Json, asking
from tests.planner.core.request.test_whole import faults_of

WHERE = LAWN["geometry"]
ENTRY: Json = {
    "on": "2026-05-20",
    "product": "Invented other",
    "rate": "1.2 fl oz/1000 sq ft",
    "where": WHERE,
}
RULE: Json = {"substance": "N", "from": "12-01", "to": "03-01", "source": "invented county"}


def with_past(*entries: Json, **more: Any) -> Json:
    return asking(history=list(entries), on="2026-07-06", **more)


def test_the_past_is_read_as_it_was_written() -> None:
    (entry,) = read_request(with_past(ENTRY)).past.history or ()

    assert (entry.applied_on, entry.product) == (date(2026, 5, 20), "Invented other")
    assert entry.rate == Quantity(1.2, "fl oz/1000 sq ft")
    assert entry.where.area > 0
    assert entry.contents is None


def test_a_past_that_nobody_told_is_not_an_empty_one() -> None:
    assert read_request(asking()).past.history is None
    assert read_request(asking(history=[])).past.history == ()


def test_what_was_in_a_product_is_read() -> None:
    ingredients = [{"name": "Invented-A", "content": "2 lb/gal"}]

    (entry,) = (
        read_request(with_past(ENTRY | {"active_ingredients": ingredients})).past.history or ()
    )

    assert entry.contents == (Content("Invented-A", Quantity(2, "lb/gal").si),)
    (other,) = read_request(with_past(ENTRY | {"active_ingredients": []})).past.history or ()
    assert other.contents == ()


def test_a_product_of_the_mix_had_in_it_what_its_label_says() -> None:
    label = {"active_ingredients": [{"name": "Invented-A", "content": "2 lb/gal"}]}
    mix = [HERBICIDE | {"label": label}]

    entry = ENTRY | {"product": "INVENTED  Herbicide"}
    (told,) = read_request(with_past(entry, mix=mix)).past.history or ()

    assert told.contents == (Content("Invented-A", Quantity(2, "lb/gal").si),)


def test_a_share_of_the_weight_of_a_liquid_needs_its_density() -> None:
    entry = ENTRY | {"active_ingredients": [{"name": "Invented-A", "content": "20 %"}]}

    assert set(faults_of(with_past(entry))) == {"history[0].active_ingredients[0].content"}
    (told,) = read_request(with_past(entry | {"density": "10 lb/gal"})).past.history or ()
    assert told.contents is not None
    assert told.contents[0].kg_per_amount == pytest.approx(Quantity(2, "lb/gal").si)


@pytest.mark.parametrize(
    ("change", "member", "words"),
    [
        ({"on": "2026-07-07"}, "on", "2026-07-07 is after 2026-07-06"),
        ({"on": "May 20"}, "on", "not a day"),
        ({"on": "2025-02-29"}, "on", "2025 has no February 29"),
        ({"on": "1026-05-20"}, "on", "cannot be right"),
        ({"product": ""}, "product", "not a name"),
        ({"rate": "1 %"}, "rate", "not a volume per area"),
        ({"rate": "1 fl oz"}, "rate", "not a volume per area"),
        ({"rate": "0 fl oz/acre"}, "rate", "not above zero"),
        ({"where": {"type": "Point", "coordinates": [-90, 40]}}, "where", "This is not an area"),
        ({"where": None}, "where", "Polygon or MultiPolygon"),
        ({"where": {"type": "Polygon", "coordinates": []}}, "where.coordinates", "is empty"),
        (
            {"where": {"type": "Polygon", "coordinates": [[[-90, 40], [-90, 95], [-89, 40]]]}},
            "where.coordinates[0][1]",
            "off the map",
        ),
        (
            {"where": {"type": "Polygon", "coordinates": [[[-90, 40], [-90, 41], [-90, 40]]]}},
            "where",
            "holds no ground",
        ),
        ({"active_ingredients": [{}]}, "active_ingredients[0].name", "missing"),
        ({"active_ingredients": [3]}, "active_ingredients[0]", "not an object"),
        ({"amount": "3 gal"}, "amount", "not part of a plan request"),
    ],
)
def test_a_slip_in_the_past_is_told_at_its_member(change: Json, member: str, words: str) -> None:
    faults = faults_of(with_past(ENTRY | change))

    assert words in faults[f"history[0].{member}"]
    assert {path.split("[")[0] for path in faults} == {"history"}


def test_every_member_of_an_application_is_needed() -> None:
    faults = faults_of(with_past({}, 7))  # type: ignore[arg-type]

    assert set(faults) == {
        *(f"history[0].{member}" for member in ("on", "product", "rate", "where")),
        "history[1]",
    }


def test_a_volume_now_and_a_weight_then_cannot_be_compared() -> None:
    entry = ENTRY | {"product": HERBICIDE["name"], "rate": "1 oz wt/1000 sq ft"}

    faults = faults_of(with_past(entry))

    assert set(faults) == {"history[0].rate"}
    assert "both as a volume or both as a weight" in faults["history[0].rate"]


@pytest.mark.parametrize(
    ("members", "words"),
    [
        ({"history": [ENTRY]}, "history depends on it"),
        ({"blackouts": [RULE]}, "blackouts depends on it"),
        ({"seedings": [{"on": "2026-05-01", "where": WHERE}]}, "seedings depends on it"),
        (
            {"mix": [HERBICIDE | {"label": {"limits": {"interval": "30 days"}}}]},
            "the interval of a label depends on it",
        ),
    ],
)
def test_what_depends_on_the_day_needs_the_day(members: Json, words: str) -> None:
    faults = faults_of(asking(**members))

    assert set(faults) == {"on"}
    assert words in faults["on"]


def test_nothing_told_needs_no_day() -> None:
    assert read_request(asking(history=[], blackouts=[], seedings=[])).on is None


def test_from_when_the_past_is_known_is_about_a_past() -> None:
    request = read_request(with_past(ENTRY, history_since="2026-01-01"))

    assert request.past.since == date(2026, 1, 1)
    assert set(faults_of(asking(history_since="2026-01-01"))) == {"history_since"}


def test_a_day_that_cannot_be_read_is_told_once() -> None:
    assert set(faults_of(asking(history=[ENTRY], on="x"))) == {"on"}


@pytest.mark.parametrize("day", ["0001-01-01", "9999-12-31"])
def test_a_day_in_no_year_of_anybodys_work_is_told(day: str) -> None:
    assert "the years 1950 to 2199" in faults_of(with_past(ENTRY) | {"on": day})["on"]
    assert "cannot be right" in faults_of(with_past(history_since=day))["history_since"]


def test_outlines_of_the_past_have_their_bounds(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(past, "MOST_CORNERS", 9)

    assert set(faults_of(with_past(ENTRY, ENTRY))) == {"history"}
    assert read_request(with_past(ENTRY)).past.history is not None


def test_blackouts_are_read_as_they_were_written() -> None:
    request = read_request(asking(blackouts=[RULE | {"example": True}], on="2026-07-06"))

    assert request.past.blackouts == (
        Blackout(MonthDay(12, 1), MonthDay(3, 1), "invented county", substance="N", example=True),
    )


@pytest.mark.parametrize(
    ("rule", "member", "words"),
    [
        (RULE | {"product": "F"}, "", "either a “product” or a “substance”"),
        ({key: RULE[key] for key in ("from", "to", "source")}, "", "either a “product”"),
        (RULE | {"from": "2026-12-01"}, ".from", "not a day of the year"),
        (RULE | {"to": "02-29"}, ".to", "Write 02-28 or 03-01"),
        (RULE | {"from": "01-01", "to": "12-31"}, ".to", "leaves no day of the year"),
        (RULE | {"from": "03-01", "to": "02-28"}, ".to", "leaves no day of the year"),
        (RULE | {"source": 1}, ".source", "not a name"),
        (RULE | {"where": "x"}, ".where", "not part of a plan request"),
    ],
)
def test_a_slip_in_a_blackout_is_told_at_its_member(rule: Json, member: str, words: str) -> None:
    faults = faults_of(asking(blackouts=[rule], on="2026-07-06"))

    assert set(faults) == {f"blackouts[0]{member}"}
    assert words in faults[f"blackouts[0]{member}"]


def test_every_member_of_a_blackout_and_a_seeding_is_needed() -> None:
    rule, sown = [{"product": "F"}, 7], [{}, 7]

    faults = faults_of(asking(blackouts=rule, seedings=sown, on="2026-07-06"))

    assert set(faults) == {
        *(f"blackouts[0].{member}" for member in ("from", "to", "source")),
        "blackouts[1]",
        *(f"seedings[0].{member}" for member in ("on", "where")),
        "seedings[1]",
    }
