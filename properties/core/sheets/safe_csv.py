"""Rows as CSV that a spreadsheet program opens without working anything out."""

import csv
import io
import re
from collections.abc import Iterable, Sequence

from properties.core.sheets.cells import Cell, cell_text

#: What a spreadsheet program takes for the beginning of a formula.
_DANGEROUS = ("=", "+", "-", "@", "\t", "\r", "\n")
_NUMBER = re.compile(r"[+-]?[\d.,]+")
#: Lets a spreadsheet show what follows as text; taken off again when the file is read.
TEXT_MARK = "'"


def csv_text(rows: Iterable[Sequence[Cell]]) -> str:
    """Write rows as CSV in which no cell is a formula.

    Parameters
    ----------
    rows : iterable of rows
        The rows, each of text or numbers. [-]

    Returns
    -------
    str
        The file, to be sent as UTF-8. [-]

    Raises
    ------
    Nothing
        Any text can be written.

    References
    ----------
    RFC 4180; OWASP, CSV Injection, for the signs that begin a formula.
    """
    written = io.StringIO(newline="")
    csv.writer(written).writerows([_harmless(cell) for cell in row] for row in rows)
    return written.getvalue()


def without_mark(text: str) -> str:
    """Take off the mark that a harmless file carries.

    Parameters
    ----------
    text : str
        A cell of a file. [-]

    Returns
    -------
    str
        The text it stood for. [-]

    Raises
    ------
    Nothing
        Text without a mark stays as it is.

    References
    ----------
    Our own rule, the inverse of ``csv_text``.
    """
    marked = text.startswith(TEXT_MARK) and text[1:].startswith(_DANGEROUS)
    return text[1:] if marked else text


def _harmless(cell: Cell) -> str:
    text = cell_text(cell)
    if text.startswith(_DANGEROUS) and not _NUMBER.fullmatch(text):
        return TEXT_MARK + text
    return text
