"""Importing a list: all that was confirmed, or nothing."""

from typing import Any

import pytest
from django.db import OperationalError, connection
from django.utils import timezone

from properties.core.errors import Refused
from properties.models import Customer, Person, Property, Spreadsheet, StatedArea
from properties.selectors.stated_areas import stated_ground_of
from properties.services.imports import Choice, import_in_background, import_now
from properties.services.outlines import save_drawing
from properties.services.places import add_property, change_property
from properties.services.spreadsheets import bring_spreadsheet, read_again, throw_away
from tests.places import SAVED_AT, facts, small_lot
from tests.spreadsheets import ROWS, brought, confirmed, imported, listed, seen

MANY = 5000
FAULTY = 40


def _many() -> bytes:
    """5,000 rows, of which every 125th states no area that could be."""
    every = MANY // FAULTY
    return listed(
        *(
            f"Lot {n},{n} Plover Street,Wren Alder,,{'much' if n % every == 0 else 5000 + n}"
            for n in range(MANY)
        )
    )


def test_a_good_list_becomes_properties_with_areas_as_stated(owner: Person) -> None:
    sheet = confirmed(owner, listed(*ROWS))

    assert imported(sheet, owner) == ["Lot 1", "Lot 2"]

    place = Property.objects.get(name="Lot 1")
    assert (place.address, place.customer.name) == ("1 Plover Street", "Wren Alder")
    assert place.customer.email == "wren@example.com"
    assert (place.is_located, place.turf_area_m2, place.drawing_number) == (False, 0, 0)
    assert str(place.stated_area.area) == "5250 sq ft"
    assert place.stated_area.source == "lots.csv, row 2"


def test_5000_rows_with_40_bad_ones_report_all_40_and_import_none_until_confirmed(
    owner: Person,
) -> None:
    sheet = confirmed(owner, _many())
    now = timezone.now()

    with pytest.raises(Refused, match="40 rows cannot be imported as they are"):
        import_now(sheet, person=owner, choice=Choice(seen(sheet)), at=now)
    assert not Property.objects.exists()

    choice = Choice(seen(sheet), leave_out_faulty=True)
    errand = import_in_background(sheet, person=owner, choice=choice, at=now)

    errand.refresh_from_db()
    sheet.refresh_from_db()
    assert (errand.state, errand.done, errand.total) == ("done", 4960, 4960)
    assert Property.objects.count() == StatedArea.objects.count() == 4960
    assert (sheet.report["added"], sheet.report["left_out"]) == (4960, 40)
    assert len(sheet.report["rows"]) == 41
    assert sheet.report["rows"][1][-2:] == [
        "2",
        "Area (sq ft): “much” is not a number. Write it like 1,250.5.",
    ]
    assert bytes(sheet.content) == b""
    assert sheet.rows == []


def _refuse_areas(execute: Any, sql: str, *rest: Any) -> Any:
    """A database that is full just when the stated areas are written."""
    if sql.startswith('INSERT INTO "properties_statedarea"'):
        raise OperationalError("database or disk is full")
    return execute(sql, *rest)


def test_a_database_that_refuses_the_last_rows_has_kept_none(owner: Person) -> None:
    sheet = confirmed(owner, listed(*ROWS))
    choice = Choice(seen(sheet))

    with connection.execute_wrapper(_refuse_areas), pytest.raises(OperationalError):
        import_now(sheet, person=owner, choice=choice, at=timezone.now())

    assert not Property.objects.exists()
    assert not Customer.objects.exists()


def test_an_address_that_is_known_is_skipped_unless_it_is_kept(owner: Person) -> None:
    add_property(firm=owner.firm, facts=facts(name="Old", address="1 Plover St"))
    sheet = confirmed(owner, listed(*ROWS))

    assert imported(sheet, owner) == ["Lot 2", "Old"]
    sheet.refresh_from_db()
    assert sheet.report["skipped"] == 1


def test_both_are_kept_where_that_was_chosen(owner: Person) -> None:
    add_property(firm=owner.firm, facts=facts(name="Lot 1", address="1 Plover Street"))
    sheet = confirmed(owner, listed(*ROWS))

    assert imported(sheet, owner, kept_twins=(2,)) == ["Lot 1", "Lot 1 (2)", "Lot 2"]
    sheet.refresh_from_db()
    assert sheet.report["renamed"] == 1


def test_a_row_that_stands_twice_in_the_file_is_a_twin(owner: Person) -> None:
    sheet = confirmed(owner, listed(ROWS[0], ROWS[0], ROWS[0]))

    assert imported(sheet, owner, kept_twins=(4,)) == ["Lot 1", "Lot 1 (2)"]


def test_an_address_of_another_firm_is_no_twin(owner: Person, stranger: Person) -> None:
    add_property(firm=stranger.firm, facts=facts(name="Theirs", address="1 Plover Street"))

    assert imported(confirmed(owner, listed(*ROWS)), owner) == ["Lot 1", "Lot 2"]


def test_what_changed_since_somebody_looked_is_looked_at_again(owner: Person) -> None:
    sheet = confirmed(owner, listed(*ROWS))
    choice = Choice(seen(sheet))
    add_property(firm=owner.firm, facts=facts(address="2 Plover St"))

    with pytest.raises(Refused, match="Since you looked"):
        import_now(sheet, person=owner, choice=choice, at=timezone.now())

    assert Property.objects.count() == 1


def test_a_list_is_imported_once_however_often_the_button_is_pressed(owner: Person) -> None:
    sheet = confirmed(owner, listed(*ROWS))
    choice = Choice(seen(sheet))
    imported(sheet, owner)

    for act in (import_now, import_in_background):
        with pytest.raises(Refused, match="imported already"):
            act(sheet, person=owner, choice=choice, at=timezone.now())

    assert Property.objects.count() == 2


def test_nothing_that_is_left_is_not_imported(owner: Person) -> None:
    sheet = confirmed(owner, listed("Lot 1,,Wren,,", "Lot 2,,Wren,,"))

    with pytest.raises(Refused, match="No row is left"):
        imported(sheet, owner)


def test_columns_that_nobody_confirmed_import_nothing(owner: Person) -> None:
    with pytest.raises(Refused, match="Nobody has said what the columns hold"):
        import_now(
            brought(owner, listed(*ROWS)), person=owner, choice=Choice(""), at=timezone.now()
        )


def test_a_customer_keeps_what_is_known_and_gains_what_was_not(owner: Person) -> None:
    add_property(
        firm=owner.firm, facts=facts(customer_name="Wren Alder", customer_email="w@example.com")
    )
    rows = "Lot 1,1 Plover Street,Wren Alder,wren@example.com,555 0100"
    headings = "Lot,Address,Customer,Email,Phone"
    sheet = confirmed(owner, listed(rows, headings=headings))

    imported(sheet, owner)

    wren = Customer.objects.get(name="Wren Alder")
    assert (wren.email, wren.phone) == ("w@example.com", "555 0100")
    sheet.refresh_from_db()
    assert sheet.report["other_contacts"] == 1


def test_a_list_under_way_cannot_be_changed_or_begun_twice(owner: Person, settings: object) -> None:
    settings.TASKS = {  # type: ignore[attr-defined]
        "default": {"BACKEND": "django_tasks_db.DatabaseBackend"}
    }
    sheet = confirmed(owner, listed(*ROWS))
    choice = Choice(seen(sheet))
    import_in_background(sheet, person=owner, choice=choice, at=timezone.now())

    with pytest.raises(Refused, match="on its way in"):
        import_in_background(sheet, person=owner, choice=choice, at=timezone.now())
    with pytest.raises(Refused, match="on its way in"):
        throw_away(sheet)
    assert not Property.objects.exists()


def test_a_stated_area_gives_way_to_a_drawing_and_its_position_to_a_better_one(
    owner: Person,
) -> None:
    imported(confirmed(owner, listed(*ROWS)), owner)
    place = Property.objects.get(name="Lot 1")
    ground = stated_ground_of(place)
    assert ground is not None
    assert ground.half_width_m2 == pytest.approx(0.294 * ground.area_m2)
    assert "common practice" in ground.error_source

    change_property(place, facts(name="Lot 1", address="1 Plover Street"))
    save_drawing(place, person=owner, at=SAVED_AT, base=0, why="", collection=small_lot())

    place.refresh_from_db()
    assert place.is_located
    assert stated_ground_of(place) is None


def test_a_property_that_nobody_stated_has_no_stated_ground(owner: Person) -> None:
    assert stated_ground_of(add_property(firm=owner.firm, facts=facts())) is None


def test_a_file_is_read_again_with_another_separator(owner: Person) -> None:
    sheet = brought(owner, b"Lot;Address\n1;1 Plover Street, rear\n")

    again = read_again(sheet, separator=",")

    assert again.rows[1] == ["1;1 Plover Street", "rear"]


def test_a_file_that_was_thrown_away_is_gone(owner: Person) -> None:
    throw_away(brought(owner, listed(*ROWS)))

    assert not Spreadsheet.objects.exists()


@pytest.mark.parametrize(
    ("content", "words"),
    [
        (b"\xd0\xcf\x11\xe0old", "old XLS format"),
        (b"%PDF-1.7", "a PDF"),
        (b"x" * (5 * 1024 * 1024 + 1), "larger than 5 MB"),
    ],
)
def test_another_kind_of_file_is_refused_by_its_name(
    owner: Person, content: bytes, words: str
) -> None:
    with pytest.raises(Refused, match=words):
        bring_spreadsheet(person=owner, file_name="x.csv", content=content, at=timezone.now())


def test_a_file_name_loses_its_folder_and_what_cannot_be_shown(owner: Person) -> None:
    assert brought(owner, listed(*ROWS), name="/home/a/lots\x07.csv").file_name == "lots.csv"
