"""A table from a text file: how it is encoded, and what stands between its columns."""

import csv
import io
from collections import Counter
from itertools import islice

from properties.core.errors import Refused
from properties.core.sheets.cells import RowsKept, Table
from properties.core.sheets.safe_csv import without_mark

#: What may stand between columns, by the name a person reads.
SEPARATORS = {",": "comma", ";": "semicolon", "\t": "tab", "|": "upright stroke"}
_LOOKED_AT = 60
_MARKS = {
    b"\xef\xbb\xbf": ("utf-8-sig", "UTF-8"),
    b"\xff\xfe": ("utf-16", "UTF-16"),
    b"\xfe\xff": ("utf-16", "UTF-16"),
}


def read_text(content: bytes, *, separator: str = "") -> Table:
    """Read rows of text whose columns stand between separators.

    Parameters
    ----------
    content : bytes
        The file: UTF-8 with or without a mark, UTF-16 with one, or Windows-1252. [-]
    separator : str
        What stands between columns; found by itself if empty. [-]

    Returns
    -------
    Table
        All rows, the separator, and notes on the encoding. [-]

    Raises
    ------
    Refused
        If it is no text, a quotation mark is not closed, or it is too much.

    References
    ----------
    RFC 4180 for quotation marks; the rest is our own rule.
    """
    text, notes = _decoded(content)
    separator = separator or _separator_of(text)
    kept = RowsKept()
    rows = csv.reader(io.StringIO(text, newline=""), delimiter=separator, strict=True)
    try:
        for row in rows:
            kept.add([without_mark(cell) for cell in row])
    except csv.Error as broken:
        raise Refused(
            "file",
            f"Line {rows.line_num} cannot be told apart into columns: {broken}.",
            "Look for a quotation mark that is opened and not closed, or save the list as XLSX.",
        ) from broken
    return Table(kept.rows(), "text", separator, notes)


def _decoded(content: bytes) -> tuple[str, tuple[str, ...]]:
    """The text of a file, and what to know about its encoding."""
    for mark, (codec, name) in _MARKS.items():
        if content.startswith(mark):
            return _plain(content, codec), (f"Read as {name}.",)
    try:
        return _plain(content, "utf-8"), ("Read as UTF-8.",)
    except UnicodeDecodeError:
        text = _plain(content, "cp1252")
    words = [word for word in text.split() if not word.isascii()][:3]
    shown = ", ".join(f"“{word[:40]}”" for word in words)
    note = f"This file is not UTF-8. It was read as Windows-1252: look whether {shown} is right."
    return text, (note,)


def _plain(content: bytes, codec: str) -> str:
    try:
        text = content.decode(codec)
    except UnicodeDecodeError:
        if codec == "utf-8":
            raise
        raise _no_text() from None
    if "\0" in text:
        raise _no_text()
    return text


def _no_text() -> Refused:
    return Refused(
        "file", "This is not a text file.", "Save the list as CSV or XLSX and choose that."
    )


def _separator_of(text: str) -> str:
    """The separator that cuts most of the first rows into equally many columns."""
    return max(SEPARATORS, key=lambda separator: _evenness(text, separator))


def _evenness(text: str, separator: str) -> tuple[int, int]:
    rows = csv.reader(io.StringIO(text, newline=""), delimiter=separator)
    try:
        widths = Counter(len(row) for row in islice(rows, _LOOKED_AT) if len(row) > 1)
    except csv.Error:
        return 0, 0
    width, rows_so_wide = max(widths.items(), key=lambda found: found[::-1], default=(0, 0))
    return rows_so_wide, width
