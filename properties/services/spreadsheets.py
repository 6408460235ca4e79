"""A spreadsheet is brought, read another way, its columns confirmed, or thrown away."""

import hashlib
from dataclasses import dataclass
from datetime import datetime
from pathlib import PurePath

from django.db import transaction

from properties.core.errors import Refused
from properties.core.sheets.cells import MOST_BYTES, Table
from properties.core.sheets.columns import Columns, Fact
from properties.core.sheets.text import read_text
from properties.models import Person, Spreadsheet
from properties.selectors.imports import work_on
from properties.services.workbooks import read_workbook

#: Files that people bring by mistake, by their first bytes.
_OTHER_FILES = {
    b"\xd0\xcf\x11\xe0": "a spreadsheet in the old XLS format",
    b"%PDF": "a PDF",
    b"{\\rtf": "a text document",
    b"\x89PNG": "a picture",
    b"\xff\xd8\xff": "a picture",
}


@dataclass(frozen=True)
class ForAll:
    """What is told once for all rows: where the map opens, and the time zone."""

    latitude: float | None
    longitude: float | None
    time_zone: str


@transaction.atomic
def bring_spreadsheet(
    *, person: Person, file_name: str, content: bytes, at: datetime
) -> Spreadsheet:
    """Keep a file of properties and read its rows. Nothing is imported yet."""
    table = _table(content)
    sheet = Spreadsheet(
        firm=person.firm,
        brought_by=person,
        brought_at=at,
        file_name=_plain_name(file_name),
        fingerprint=hashlib.sha256(content).hexdigest(),
        content=content,
    )
    return _keep(sheet, table)


@transaction.atomic
def read_again(sheet: Spreadsheet, *, separator: str) -> Spreadsheet:
    """Read a text file once more, with another separator between its columns."""
    sheet = _open(sheet)
    sheet.columns = None
    return _keep(sheet, read_text(bytes(sheet.content), separator=separator))


@transaction.atomic
def confirm_columns(sheet: Spreadsheet, columns: Columns, for_all: ForAll) -> Spreadsheet:
    """Keep what the columns hold, as somebody confirmed it."""
    sheet = _open(sheet)
    if not columns.positions_of(Fact.ADDRESS):
        raise Refused("facts", "No column is the address.", "Choose the one that holds it.")
    sheet.columns = columns.to_json()
    sheet.latitude, sheet.longitude = for_all.latitude, for_all.longitude
    sheet.time_zone = for_all.time_zone
    sheet.full_clean(exclude=["content"])
    sheet.save()
    return sheet


@transaction.atomic
def throw_away(sheet: Spreadsheet) -> None:
    """Forget a spreadsheet that was not imported."""
    _open(sheet).delete()


def _open(sheet: Spreadsheet) -> Spreadsheet:
    """Lock a spreadsheet that may still be changed."""
    sheet = Spreadsheet.objects.select_for_update().get(pk=sheet.pk)
    if sheet.imported_at or work_on(sheet):
        raise Refused(
            "file", "This list is imported, or on its way in.", "Bring the file again to change it."
        )
    return sheet


def _keep(sheet: Spreadsheet, table: Table) -> Spreadsheet:
    sheet.rows = [list(row) for row in table.rows]
    sheet.reading = {
        "kind": table.kind,
        "separator": table.separator,
        "notes": list(table.notes),
    }
    sheet.full_clean(exclude=["content"])
    sheet.save()
    return sheet


def _table(content: bytes) -> Table:
    if len(content) > MOST_BYTES:
        raise Refused(
            "file",
            f"This file is larger than {MOST_BYTES // 1024**2} MB.",
            "Keep only the list, or divide it.",
        )
    for beginning, what in _OTHER_FILES.items():
        if content.startswith(beginning):
            raise Refused("file", f"This is {what}.", "Save the list as XLSX or CSV.")
    return read_workbook(content) if content.startswith(b"PK") else read_text(content)


def _plain_name(file_name: str) -> str:
    """The name of a file without its folder or what no page could show."""
    name = "".join(sign for sign in PurePath(file_name).name if sign.isprintable())
    return name[-120:] or "spreadsheet"
