"""XLSX files: read without working anything out, refused before they swell."""

import io
import zipfile
from collections.abc import Callable, Sequence
from datetime import date

import openpyxl
import pytest

from properties.core.errors import Refused
from properties.services.workbooks import read_workbook


def workbook(*rows: Sequence[object], also: str = "") -> bytes:
    """An XLSX file with these rows, and an empty sheet before them."""
    book = openpyxl.Workbook()
    sheet = book.create_sheet("Lots")
    for row in rows:
        sheet.append(list(row))
    if also:
        book.create_sheet(also)
    kept = io.BytesIO()
    book.save(kept)
    return kept.getvalue()


def altered(content: bytes, member: str, change: Callable[[bytes], bytes]) -> bytes:
    """The file with one of its members changed."""
    kept = io.BytesIO()
    with (
        zipfile.ZipFile(io.BytesIO(content)) as old,
        zipfile.ZipFile(kept, "w", zipfile.ZIP_DEFLATED) as new,
    ):
        for name in old.namelist():
            new.writestr(name, change(old.read(name)) if name == member else old.read(name))
    return kept.getvalue()


LOTS = workbook(["Lot", "Area"], ["Lot 1", 5250.5], ["Lot 2", "=2*3"], [None, None], ["3", True])
SHEET = "xl/worksheets/sheet2.xml"


def test_numbers_stay_numbers_and_the_sheet_is_named() -> None:
    read = read_workbook(LOTS)

    assert read.rows[:2] == (("Lot", "Area"), ("Lot 1", 5250.5))
    assert read.rows[3:] == ((), ("3", "yes"))
    assert "Sheet “Lots” is read." in read.notes
    assert any("The file has 2 sheets" in note for note in read.notes)


def test_a_formula_is_not_worked_out_and_its_saved_value_is_taken() -> None:
    def with_value(xml: bytes) -> bytes:
        return xml.replace(b"<f>2*3</f><v></v>", b"<f>2*3</f><v>7</v>").replace(
            b"<f>2*3</f><v />", b"<f>2*3</f><v>7</v>"
        )

    # Seven, as the file says, though two times three is six.
    assert read_workbook(altered(LOTS, SHEET, with_value)).rows[2] == ("Lot 2", 7.0)
    assert any("Cells with a formula: 1" in note for note in read_workbook(LOTS).notes)


def test_a_formula_whose_value_is_not_saved_stays_its_own_text() -> None:
    assert read_workbook(LOTS).rows[2] == ("Lot 2", "=2*3")


def test_a_date_is_text() -> None:
    assert read_workbook(workbook(["Lot", "Since"], ["1", date(2026, 4, 7)])).rows[1] == (
        "1",
        "2026-04-07 00:00:00",
    )


def test_a_bomb_is_refused_by_what_it_unpacks_to() -> None:
    def swell(_: bytes) -> bytes:
        return b"0" * (90 * 1024 * 1024)

    bomb = altered(LOTS, "xl/theme/theme1.xml", swell)

    assert len(bomb) < 1024 * 1024
    with pytest.raises(Refused, match="far larger than it looks"):
        read_workbook(bomb)


def test_a_file_of_very_many_members_is_refused() -> None:
    kept = io.BytesIO(LOTS)
    with zipfile.ZipFile(kept, "a") as book:
        for n in range(1001):
            book.writestr(f"xl/{n}.xml", b"")

    with pytest.raises(Refused, match="far larger than it looks"):
        read_workbook(kept.getvalue())


def _with_entities(xml: bytes) -> bytes:
    entities = b'<!DOCTYPE x [<!ENTITY a "aaaaaaaaaa"><!ENTITY b "&a;&a;&a;&a;">]>'
    head, _, body = xml.partition(b"?>") if xml.startswith(b"<?xml") else (b"", b"", xml)
    return (head + b"?>" if head else b"") + entities + body.replace(b"Lot 1", b"&b;")


BROKEN = {
    "not a zip": b"PK\x03\x04 and then nothing",
    "cut off": LOTS[: len(LOTS) // 2],
    "another zip": altered(LOTS, "xl/workbook.xml", lambda _: b""),
    "half an element": altered(LOTS, SHEET, lambda xml: xml[: len(xml) // 2]),
    "entities": altered(LOTS, SHEET, _with_entities),
    "a column of no letter": altered(LOTS, SHEET, lambda xml: xml.replace(b'r="A2"', b'r="2"')),
    "a wrong checksum": LOTS.replace(b"<sheetData", b"<sheetDota")[:-40] + b"\0" * 40,
}


@pytest.mark.parametrize("name", BROKEN)
def test_a_broken_file_is_refused_in_words(name: str) -> None:
    with pytest.raises(Refused, match="cannot be read as a spreadsheet") as refused:
        read_workbook(BROKEN[name])

    assert refused.value.field == "file"


def test_a_file_without_any_row_is_refused() -> None:
    with pytest.raises(Refused, match="No sheet of this file"):
        read_workbook(workbook())


def test_a_sheet_that_lies_about_its_size_is_read_to_its_end() -> None:
    def shrink(xml: bytes) -> bytes:
        return xml.replace(b'ref="A1:B5"', b'ref="A1:A1"')

    assert read_workbook(altered(LOTS, SHEET, shrink)).rows == read_workbook(LOTS).rows


def test_too_many_rows_are_refused() -> None:
    with pytest.raises(Refused, match="more than 10,000 rows"):
        read_workbook(workbook(*([["Lot", "Area"]] * 10_002)))
