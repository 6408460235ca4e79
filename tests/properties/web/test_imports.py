"""Pages that bring in a list: file, columns, preview, report, and the rows to put right."""

import csv
import io
from typing import Any

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.test import Client
from django.urls import reverse

from properties.models import Errand, Person, Property, Spreadsheet
from tests.properties.services.test_workbooks import workbook
from tests.spreadsheets import ROWS, brought, confirmed, imported, listed, seen

FOR_ALL = {
    "area_unit": "sq ft",
    "decimals": "point",
    "latitude": "41",
    "longitude": "-92",
    "time_zone": "America/Chicago",
}


def _bring(client: Client, content: bytes, name: str = "lots.csv") -> Any:
    return client.post(
        reverse("import_properties"), {"file": SimpleUploadedFile(name, content)}, follow=True
    )


def _columns(*facts: str, **told: str) -> dict[str, str]:
    return {f"column_{n}": fact for n, fact in enumerate(facts)} | FOR_ALL | told


def test_a_list_comes_in_by_file_columns_preview_and_confirmation(
    client: Client, office: Person
) -> None:
    client.force_login(office)

    page = _bring(client, listed(*ROWS))
    sheet = Spreadsheet.objects.get()
    facts = ["name", "address", "customer", "email", "area"]
    preview = client.post(reverse("import_columns", args=[sheet.pk]), _columns(*facts), follow=True)
    assert not Property.objects.exists()
    sheet.refresh_from_db()
    report = client.post(
        reverse("import_preview", args=[sheet.pk]), {"seen": seen(sheet)}, follow=True
    )

    assert "Columns stand between a comma" in page.content.decode()
    assert "Read as UTF-8" in page.content.decode()
    assert "5,250 sq ft" in preview.content.decode()
    assert "2 properties" in report.content.decode()
    assert Property.objects.count() == 2
    listing = client.get(reverse("properties")).content.decode()
    assert "5,250 sq ft, as stated, not drawn" in listing


def test_a_workbook_comes_in_the_same_way(client: Client, office: Person) -> None:
    client.force_login(office)

    page = _bring(client, workbook(["Lot", "Address"], ["1", "1 Plover Street"]), "lots.xlsx")

    assert "Sheet “Lots” is read." in page.content.decode()


def test_what_is_guessed_is_shown_and_the_unit_has_to_be_chosen(
    client: Client, owner: Person
) -> None:
    sheet = brought(owner, listed("1,1 Elm,Wren,12.5", headings="Lot,Address,Owner,Area"))
    client.force_login(owner)
    address = reverse("import_columns", args=[sheet.pk])

    page = client.get(address).content.decode()
    answer = client.post(address, _columns("name", "address", "customer", "area", area_unit=""))

    assert "Our guess is 1,000 square feet, since a middle value of 12.5" in page
    assert "12.5 is 12,500 sq ft" in page
    assert '<option value="area" selected>' in page
    assert answer.status_code == 422
    assert "Choose the unit" in answer.context["form"].errors["area_unit"][0]
    sheet.refresh_from_db()
    assert sheet.columns is None


def test_decimals_that_no_number_shows_have_to_be_chosen(client: Client, owner: Person) -> None:
    sheet = brought(owner, listed('1,1 Elm,Wren,"1,250"', headings="Lot,Address,Owner,Acres"))
    client.force_login(owner)
    address = reverse("import_columns", args=[sheet.pk])

    page = client.get(address).content.decode()
    answer = client.post(address, _columns("name", "address", "customer", "area", decimals=""))

    assert "“1,250” is then 1250" in page
    assert "“1,250” is then 1.25" in page
    assert "decimals" in answer.context["form"].errors


@pytest.mark.parametrize(
    ("facts", "told", "field", "words"),
    [
        (["name", "", "customer"], {}, "__all__", "No column is the address"),
        (["name", "address", ""], {}, "customer_for_all", "No column is the customer"),
        (["name", "address", "name"], {}, "column_2", "“Lot” is that already"),
        (["latitude", "address", "customer"], {}, "__all__", "belong together"),
        (["name", "address", "customer"], {"latitude": ""}, "latitude", "No column tells"),
        (["name", "address", "customer"], {"latitude": "95"}, "latitude", "less than or equal"),
        (["name", "address", "customer"], {"time_zone": ""}, "time_zone", "required"),
    ],
)
def test_columns_that_do_not_tell_enough_are_refused_where_they_stand(
    client: Client, owner: Person, facts: list[str], told: dict[str, str], field: str, words: str
) -> None:
    sheet = brought(owner, listed("1,1 Elm,Wren", headings="Lot,Address,Owner"))
    client.force_login(owner)

    answer = client.post(reverse("import_columns", args=[sheet.pk]), _columns(*facts, **told))

    assert answer.status_code == 422
    assert words in " ".join(answer.context["form"].errors[field])


def test_every_fault_is_shown_and_nothing_is_imported_before_the_rows_are_left_out(
    client: Client, owner: Person, confirmed_spreadsheet: Spreadsheet
) -> None:
    client.force_login(owner)
    address = reverse("import_preview", args=[confirmed_spreadsheet.pk])

    page = client.get(address).content.decode()
    answer = client.post(address, {"seen": seen(confirmed_spreadsheet)})

    assert "To put right: 2 in 1 row" in page
    assert "The address is missing." in page
    assert "“much” is not a number." in page
    assert answer.status_code == 422
    assert "leave_out_faulty" in answer.context["form"].errors
    assert not Property.objects.exists()


def test_the_rows_to_put_right_come_as_a_harmless_file(client: Client, owner: Person) -> None:
    sheet = confirmed(owner, listed("=cmd(),,Wren Alder,,much"))
    client.force_login(owner)

    answer = client.get(reverse("import_left_out", args=[sheet.pk]))

    rows = list(csv.reader(io.StringIO(answer.content.decode("utf-8-sig"))))
    assert rows[0][-2:] == ["Row of the file", "To put right"]
    assert rows[1][0] == "'=cmd()"
    assert rows[1][5] == "2"
    assert rows[1][6].count(" / ") == 2
    assert "attachment" in answer["Content-Disposition"]


def test_the_left_out_rows_are_kept_after_the_import(
    client: Client, owner: Person, imported_spreadsheet: Spreadsheet
) -> None:
    client.force_login(owner)

    answer = client.get(reverse("import_left_out", args=[imported_spreadsheet.pk]))

    assert "Lot 9,,Wren Alder" in answer.content.decode()


def test_twins_are_shown_and_what_becomes_of_them_is_asked(client: Client, owner: Person) -> None:
    imported(confirmed(owner, listed(*ROWS)), owner)
    sheet = confirmed(owner, listed(*ROWS, "Lot 3,3 Plover Street,Ida Sedge,,"))
    client.force_login(owner)
    address = reverse("import_preview", args=[sheet.pk])

    page = client.get(address).content.decode()
    asked = client.post(address, {"seen": seen(sheet)})
    client.post(address, {"seen": seen(sheet), "twins": "ticked", "kept_twins": ["3"]})

    assert "Address known already: 2 rows" in page
    assert "Choose what becomes of these rows" in asked.context["form"].errors["twins"][0]
    names = set(Property.objects.values_list("name", flat=True))
    assert names == {"Lot 1", "Lot 2", "Lot 2 (2)", "Lot 3"}


def test_the_same_file_is_noticed(client: Client, owner: Person) -> None:
    imported(confirmed(owner, listed(*ROWS)), owner)
    client.force_login(owner)

    page = _bring(client, listed(*ROWS))

    assert "This very file has been imported already" in page.content.decode()


def test_a_long_list_goes_to_the_worker_and_its_page_tells_how_far_it_is(
    client: Client, owner: Person, settings: object
) -> None:
    settings.TASKS = {  # type: ignore[attr-defined]
        "default": {"BACKEND": "django_tasks_db.DatabaseBackend"}
    }
    sheet = confirmed(owner, listed(*(f"Lot {n},{n} Plover Street,Ida,," for n in range(501))))
    client.force_login(owner)

    answer = client.post(reverse("import_preview", args=[sheet.pk]), {"seen": seen(sheet)})

    errand = Errand.objects.get()
    assert answer["Location"] == errand.get_absolute_url()
    assert "Import 501 properties from lots.csv" in client.get(answer["Location"]).content.decode()
    for name in ("import_columns", "import_preview"):
        assert client.get(reverse(name, args=[sheet.pk]))["Location"] == errand.get_absolute_url()
    assert not Property.objects.exists()


def test_a_page_seen_before_something_changed_is_refused_in_words(
    client: Client, owner: Person
) -> None:
    sheet = confirmed(owner, listed(*ROWS))
    client.force_login(owner)

    answer = client.post(reverse("import_preview", args=[sheet.pk]), {"seen": "before"})

    assert answer.status_code == 422
    page = answer.content.decode()
    assert "Since you looked" in page
    assert f'name="seen" value="{seen(sheet)}"' in page


def test_a_file_that_is_none_is_refused_beside_its_field(client: Client, owner: Person) -> None:
    client.force_login(owner)

    answer = _bring(client, b"%PDF-1.7", "lots.pdf")

    assert answer.status_code == 422
    assert "This is a PDF" in answer.context["form"].errors["file"][0]
    assert not Spreadsheet.objects.exists()


@pytest.mark.parametrize("megabytes", [5.1, 12])
def test_a_file_that_is_too_large_is_refused_and_not_kept(
    client: Client, owner: Person, megabytes: float
) -> None:
    client.force_login(owner)

    answer = _bring(client, b"x" * int(megabytes * 1024 * 1024))

    assert answer.status_code == 422
    assert "This file is larger than 5 MB" in answer.context["form"].errors["file"][0]


def test_the_columns_are_cut_again_by_another_separator(client: Client, owner: Person) -> None:
    sheet = brought(owner, b"Lot;Address\n1;1 Plover Street, rear\n")
    client.force_login(owner)

    page = client.post(
        reverse("read_spreadsheet_again", args=[sheet.pk]), {"separator": ","}, follow=True
    )

    assert "Columns stand between a comma" in page.content.decode()


def test_a_list_is_thrown_away_but_not_after_its_import(
    client: Client, owner: Person, spreadsheet: Spreadsheet, imported_spreadsheet: Spreadsheet
) -> None:
    client.force_login(owner)

    for sheet in (spreadsheet, imported_spreadsheet):
        client.post(reverse("throw_spreadsheet_away", args=[sheet.pk]))

    assert list(Spreadsheet.objects.all()) == [imported_spreadsheet]


@pytest.mark.parametrize("name", ["read_spreadsheet_again", "throw_spreadsheet_away"])
def test_the_crew_and_strangers_change_no_list(
    client: Client, crew: Person, stranger: Person, spreadsheet: Spreadsheet, name: str
) -> None:
    address = reverse(name, args=[spreadsheet.pk])

    client.force_login(crew)
    assert client.post(address).status_code == 403
    client.force_login(stranger)
    assert client.post(address).status_code == 404
    assert Spreadsheet.objects.filter(pk=spreadsheet.pk).exists()


def test_a_property_that_was_imported_says_what_is_known_of_it(
    client: Client, owner: Person
) -> None:
    imported(confirmed(owner, listed(*ROWS)), owner)
    client.force_login(owner)

    page = client.get(Property.objects.get(name="Lot 1").get_absolute_url()).content.decode()

    assert "Not located yet" in page
    assert "Turf as stated, not drawn: 5,250 sq ft" in page
