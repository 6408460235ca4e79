"""A table from an XLSX file. Nothing in it is worked out, and it is refused before it swells."""

import io
import zipfile
import zlib
from collections.abc import Iterator
from datetime import date, datetime
from typing import Any
from xml.etree.ElementTree import ParseError

import openpyxl
from openpyxl.utils.exceptions import InvalidFileException

from properties.core.errors import Refused
from properties.core.sheets.cells import Cell, RowsKept, Table

MOST_MEMBERS = 1_000
#: What the parts of a file may be together once they are unpacked. [bytes]
MOST_UNPACKED = 80 * 1024 * 1024
_BITE = 1 << 16
#: The last row that the format knows.
_LAST_ROW = 1 << 20
#: What the reader raises for files that are none; entities in XML are a ValueError too.
_BROKEN = (
    zipfile.BadZipFile,
    zlib.error,
    EOFError,
    InvalidFileException,
    KeyError,
    ParseError,
    NotImplementedError,
    RuntimeError,
    TypeError,
    ValueError,
    IndexError,
    AttributeError,
)


def read_workbook(content: bytes) -> Table:
    """Read the first sheet that holds anything.

    The value of a formula is the one the file keeps; a formula whose value it does not
    keep is given as its own text, which no column takes for a number or a name.
    """
    try:
        _require_moderate(content)
        return _read(content)
    except Refused:
        raise
    except _BROKEN as broken:
        raise Refused(
            "file",
            "This file cannot be read as a spreadsheet.",
            "Open it in your spreadsheet program and save it again as XLSX or CSV.",
        ) from broken


def _require_moderate(content: bytes) -> None:
    """Count what every member unpacks to, whatever the file says of itself."""
    with zipfile.ZipFile(io.BytesIO(content)) as packed:
        members = packed.infolist()
        if len(members) > MOST_MEMBERS:
            raise _swollen()
        left = MOST_UNPACKED
        for member in members:
            with packed.open(member) as unpacking:
                while bite := unpacking.read(_BITE):
                    left -= len(bite)
                    if left < 0:
                        raise _swollen()


def _swollen() -> Refused:
    return Refused(
        "file",
        "This file is far larger than it looks once it is unpacked.",
        "Copy the list alone into a new sheet and save that.",
    )


def _read(content: bytes) -> Table:
    shown = openpyxl.load_workbook(io.BytesIO(content), read_only=True, data_only=True)
    written = openpyxl.load_workbook(io.BytesIO(content), read_only=True, data_only=False)
    try:
        for name in shown.sheetnames:
            if hasattr(shown[name], "iter_rows") and _has_rows(shown[name]):
                return _read_sheet(shown[name], written[name], shown.sheetnames)
    finally:
        shown.close()
        written.close()
    raise Refused("file", "No sheet of this file holds anything.", "Choose another file.")


def _has_rows(sheet: Any) -> bool:
    return any(value is not None for row in _rows(sheet) for value in row)


def _rows(sheet: Any) -> Iterator[tuple[Any, ...]]:
    """Rows of a sheet, however large it says it is: its own measure may be wrong."""
    sheet.reset_dimensions()
    yield from sheet.iter_rows(max_row=_LAST_ROW, values_only=True)


def _read_sheet(shown: Any, written: Any, names: list[str]) -> Table:
    kept = RowsKept()
    formulas = 0
    for values, texts in zip(_rows(shown), _rows(written), strict=True):
        formulas += sum(1 for text in texts if _is_formula(text))
        kept.add([_cell(*pair) for pair in zip(values, texts, strict=True)])
    notes = [f"Sheet “{shown.title}” is read."]
    if len(names) > 1:
        notes.append(
            f"The file has {len(names)} sheets. To read another, save it as a file of its own."
        )
    if formulas:
        notes.append(
            f"Cells with a formula: {formulas:,}. They are not worked out here: what your "
            "spreadsheet program saved as their values is taken."
        )
    return Table(kept.rows(), "workbook", "", tuple(notes))


def _is_formula(text: Any) -> bool:
    return (isinstance(text, str) and text.startswith("=")) or hasattr(text, "text")


def _cell(value: Any, text: Any) -> Cell:
    if value is None:
        return f"={getattr(text, 'text', text)}".replace("==", "=") if _is_formula(text) else ""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, int | float):
        return float(value)
    if isinstance(value, datetime | date):
        return value.isoformat(sep=" ") if isinstance(value, datetime) else value.isoformat()
    return str(value)
