"""The pages of temperatures: a table pasted or sent, and every bad row of it."""

from typing import Any

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.test import Client
from django.urls import reverse

from planner.models import Station
from planner.selectors.temperatures import station_for
from properties.core.units import Quantity
from properties.models import Person, Property

TABLE = "date,max,min\n2026-03-05,50,30\n2026-03-06,52,31\n"
ASKED = {"unit": "deg F", "date_order": "ymd"}


def _post(client: Client, person: Person, station: Station, **typed: Any) -> Any:
    client.force_login(person)
    return client.post(reverse("station", args=[station.pk]), ASKED | typed)


def test_a_pasted_table_is_kept(client: Client, crew: Person, station: Station) -> None:
    answer = _post(client, crew, station, table=TABLE)

    assert answer.status_code == 302
    assert station.days.count() == 4


def test_a_file_is_kept_in_the_unit_and_order_that_are_told(
    client: Client, crew: Person, station: Station
) -> None:
    text = "Day;Max;Min\n07.03.2026;12,5;3\n08.03.2026;11;2\n".replace("12,5", "12.5")
    sent = SimpleUploadedFile("march.csv", text.encode("utf-8-sig"))

    _post(client, crew, station, file=sent, unit="deg C", date_order="dmy")

    assert station.days.order_by("-on")[1].high == Quantity(12.5, "deg C")


def test_every_bad_row_is_named_and_nothing_is_kept(
    client: Client, crew: Person, station: Station
) -> None:
    rows = "".join(f"2026-04-{day:02},{'x' if day % 3 == 0 else 50},30\n" for day in range(1, 31))

    answer = _post(client, crew, station, table=f"date,max,min\n{rows}")

    text = answer.content.decode()
    assert answer.status_code == 422
    assert "10 rows cannot be read" in text
    assert "line 31: max: “x” is no temperature." in text
    assert "2026-04-29,50,30" in text
    assert station.days.count() == 2


@pytest.mark.parametrize(
    ("typed", "words"),
    [
        ({}, "Paste the table here"),
        ({"table": TABLE, "file": SimpleUploadedFile("a.csv", TABLE.encode())}, "not both"),
        ({"file": SimpleUploadedFile("a.csv", b"\xff\xfe\x00")}, "no plain text"),
        ({"file": SimpleUploadedFile("a.csv", b"x" * 1_000_001)}, "larger than 1 MB"),
    ],
)
def test_what_is_no_table_is_refused(
    client: Client, crew: Person, station: Station, typed: dict[str, Any], words: str
) -> None:
    answer = _post(client, crew, station, **typed)

    assert answer.status_code == 422
    assert words in answer.content.decode()


def test_a_property_goes_by_the_station_that_is_chosen(
    client: Client, office: Person, place: Property, station: Station
) -> None:
    client.force_login(office)
    client.post(reverse("new_station"), {"name": "Hill"})
    hill = Station.objects.get(name="Hill")

    client.post(reverse("choose_station", args=[place.pk]), {"station": hill.pk})

    assert station_for(place) == hill


@pytest.mark.parametrize("typed", ["", "x", "0"])
def test_a_station_that_is_not_there_is_not_chosen(
    client: Client, office: Person, place: Property, typed: str
) -> None:
    client.force_login(office)

    answer = client.post(reverse("choose_station", args=[place.pk]), {"station": typed})

    assert answer.status_code == 404


def test_a_stranger_chooses_no_station(
    client: Client, stranger: Person, place: Property, station: Station
) -> None:
    client.force_login(stranger)

    answer = client.post(reverse("choose_station", args=[place.pk]), {"station": station.pk})

    assert answer.status_code == 404


def test_a_name_that_is_taken_is_said(client: Client, office: Person, station: Station) -> None:
    client.force_login(office)

    answer = client.post(reverse("new_station"), {"name": station.name})

    assert answer.status_code == 422
    assert "a station of this name already" in answer.content.decode()
