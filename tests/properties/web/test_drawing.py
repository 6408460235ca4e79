"""What the drawing board asks the server for."""

import json
from typing import Any

import pytest
from django.test import Client
from django.urls import reverse

from properties.models import Person, Property, Revision
from properties.services.places import add_property
from tests.places import collection, facts, feature, rectangle, small_lot


def _post(client: Client, name: str, place: Property, body: Any) -> Any:
    return client.post(
        reverse(name, args=[place.pk]),
        body if isinstance(body, str) else json.dumps(body),
        content_type="application/json",
    )


def test_a_saved_drawing_comes_back_with_its_number_and_areas(
    client: Client, owner: Person, place: Property
) -> None:
    client.force_login(owner)
    lawn = collection(feature("lawn", "turf", rectangle(0, 0, 400, 300), name="Lawn"))

    answer = _post(client, "save_drawing", place, {"base": 1, "why": "Less", "collection": lawn})

    saved = answer.json()
    assert answer.status_code == 200
    assert saved["number"] == 2
    assert saved["collection"] == lawn
    assert saved["measured"]["totals"]["treatable"] == saved["measured"]["totals"]["turf"]
    revision = Revision.objects.get(property=place, number=2)
    assert (revision.why, revision.saved_by) == ("Less", owner)


def test_every_fault_is_told_with_its_shape_at_once(
    client: Client, owner: Person, place: Property
) -> None:
    client.force_login(owner)
    broken = small_lot()
    broken["features"][0]["geometry"]["coordinates"][0][1] = [200, 95]
    broken["features"][2]["properties"]["setback"] = "three feet"

    answer = _post(client, "save_drawing", place, {"base": 1, "why": "", "collection": broken})

    assert answer.status_code == 422
    assert {fault["shape"] for fault in answer.json()["faults"]} == {"lawn", "roses"}


def test_a_bow_tie_is_refused_and_its_place_is_told(
    client: Client, owner: Person, place: Property
) -> None:
    client.force_login(owner)
    lawn = rectangle(0, 0, 400, 400)
    ring = lawn["coordinates"][0]
    ring[1], ring[2] = ring[2], ring[1]

    answer = _post(
        client, "measure_drawing", place, {"collection": collection(feature("x", "turf", lawn))}
    )

    (fault,) = answer.json()["faults"]
    assert answer.status_code == 422
    assert fault["at"] == pytest.approx([-92.0008, 41.0007], abs=1e-6)


def test_the_second_of_two_people_is_told_and_nothing_is_overwritten(
    client: Client, owner: Person, office: Person, place: Property
) -> None:
    lawn = collection(feature("lawn", "turf", rectangle(0, 0, 400, 300)))
    client.force_login(office)
    _post(client, "save_drawing", place, {"base": 1, "why": "", "collection": lawn})
    client.force_login(owner)

    answer = _post(client, "save_drawing", place, {"base": 1, "why": "", "collection": small_lot()})

    assert answer.status_code == 409
    assert "Percy saved this drawing meanwhile" in answer.json()["message"]
    place.refresh_from_db()
    assert place.drawing_number == 2


def test_measuring_accounts_for_every_square_foot(
    client: Client, owner: Person, place: Property
) -> None:
    client.force_login(owner)

    measured = _post(client, "measure_drawing", place, {"collection": small_lot()}).json()

    totals = {name: total["value"] for name, total in measured["totals"].items()}
    assert totals["turf"] == pytest.approx(
        totals["treatable"] + totals["obstacle"] + totals["no_spray"], rel=1e-9
    )
    assert {zone["properties"]["distance"] for zone in measured["no_spray"]["features"]} == {
        "3.0 ft",
        "25.0 ft",
    }
    assert measured["shapes"]["lawn"]["text"].endswith(" sq ft")


def test_somebody_who_thinks_in_metres_reads_metres(
    client: Client, owner: Person, place: Property
) -> None:
    owner.units = "metric"
    owner.save()
    client.force_login(owner)

    measured = _post(client, "measure_drawing", place, {"collection": small_lot()}).json()

    assert measured["totals"]["turf"]["unit"] == "m2"
    assert measured["totals"]["turf"]["text"].endswith(" m²")


@pytest.mark.parametrize(
    "body",
    ["", "{", "[]", "7", '{"base": "1"}', '{"collection": {}}', "[" * 100_000],
    ids=["empty", "half", "list", "number", "text base", "no base", "deep"],
)
def test_a_body_that_is_no_drawing_is_answered_in_words(
    client: Client, owner: Person, place: Property, body: str
) -> None:
    client.force_login(owner)

    answer = _post(client, "save_drawing", place, body)

    assert answer.status_code == 400
    assert "kept in this browser" in answer.json()["message"]


@pytest.mark.parametrize("name", ["save_drawing", "measure_drawing"])
def test_somebody_signed_out_is_told_that_the_drawing_is_kept(
    client: Client, place: Property, name: str
) -> None:
    answer = _post(client, name, place, {"base": 1, "collection": small_lot()})

    assert answer.status_code == 401
    assert "kept in this browser" in answer.json()["message"]


def test_the_crew_may_measure_but_not_save(client: Client, crew: Person, place: Property) -> None:
    client.force_login(crew)
    body = {"base": 1, "why": "", "collection": small_lot()}

    assert _post(client, "measure_drawing", place, body).status_code == 200
    assert _post(client, "save_drawing", place, body).status_code == 403


def test_a_missing_seal_is_answered_as_data_and_not_as_a_page(
    owner: Person, place: Property
) -> None:
    client = Client(enforce_csrf_checks=True)
    client.force_login(owner)

    answer = client.post(
        reverse("save_drawing", args=[place.pk]),
        "{}",
        content_type="application/json",
        headers={"accept": "application/json"},
    )

    assert answer.status_code == 403
    assert "Reload the page" in answer.json()["message"]


def test_the_drawing_leaves_as_geojson_to_the_last_digit(
    client: Client, owner: Person, place: Property
) -> None:
    client.force_login(owner)

    answer = client.get(reverse("export_drawing", args=[place.pk]))

    assert answer["Content-Type"] == "application/geo+json"
    assert json.loads(answer.content) == small_lot()


def test_the_page_carries_the_drawing_its_number_and_its_areas(
    client: Client, owner: Person, place: Property
) -> None:
    client.force_login(owner)

    context = client.get(place.get_absolute_url()).context

    assert context["drawing_json"]["number"] == 1
    assert context["drawing_json"]["measured"]["totals"]["treatable"]["value"] > 0
    assert context["editable"] is True


def test_a_drawing_that_starts_from_another_one_than_nothing_is_told_so(
    client: Client, owner: Person
) -> None:
    empty = add_property(firm=owner.firm, facts=facts())
    client.force_login(owner)

    answer = _post(client, "save_drawing", empty, {"base": 7, "collection": small_lot()})

    assert answer.status_code == 409
    assert answer.json()["number"] == 0
    assert not Revision.objects.exists()


@pytest.mark.parametrize(
    ("typed", "kept"),
    [
        ("\ud800after the frost", "after the frost"),
        ("after\x00 the\nfrost", "after the frost"),
        ("x" * 1000, "x" * 300),
        ({"why": "not text"}, ""),
    ],
)
def test_a_reason_that_a_row_cannot_hold_does_not_lose_the_drawing(
    client: Client, owner: Person, place: Property, typed: object, kept: str
) -> None:
    client.force_login(owner)
    lawn = collection(feature("lawn", "turf", rectangle(0, 0, 400, 300)))

    answer = _post(client, "save_drawing", place, {"base": 1, "why": typed, "collection": lawn})

    assert answer.status_code == 200
    assert Revision.objects.get(property=place, number=2).why == kept
