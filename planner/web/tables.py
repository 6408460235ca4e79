"""Tables as files that a spreadsheet opens, without anything in them coming to life."""

import csv
import io
from collections.abc import Iterable, Sequence

from django.http import HttpResponse

#: A cell that begins with one of these a spreadsheet may take for a formula.
#: OWASP, CSV Injection.
_COMES_TO_LIFE = ("=", "+", "-", "@", "\t", "\r", "\n", "＝", "＋", "－", "＠")  # noqa: RUF001


def csv_file(name: str, rows: Iterable[Sequence[object]]) -> HttpResponse:
    """Send rows as a file of comma-separated values, every cell quoted."""
    written = io.StringIO()
    writer = csv.writer(written, quoting=csv.QUOTE_ALL)
    for row in rows:
        writer.writerow([_still(cell) for cell in row])
    return HttpResponse(
        # The mark lets a spreadsheet read the file as UTF-8.
        "\ufeff" + written.getvalue(),
        content_type="text/csv; charset=utf-8",
        headers={"Content-Disposition": f'attachment; filename="{name}"'},
    )


def _still(cell: object) -> str:
    """Write a cell so that it stays text; a number that we worked out stays a number."""
    if cell is None:
        return ""
    text = str(cell)
    if isinstance(cell, str) and text.lstrip(" ").startswith(_COMES_TO_LIFE):
        return f"'{text}"
    return text
