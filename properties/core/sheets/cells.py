"""A table as it was read from a file: rows of cells, and what was noticed while reading.

Rows are counted from one, as a spreadsheet counts them; empty ones count too.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass

from properties.core.errors import Refused

#: Text as it stands in the file, or a number that the file holds as a number.
Cell = str | float

MOST_BYTES = 5 * 1024 * 1024
MOST_ROWS = 10_000
MOST_COLUMNS = 60
MOST_SIGNS_IN_A_CELL = 4_000
#: What all cells may hold together once they are unpacked.
MOST_SIGNS = 12_000_000


@dataclass(frozen=True)
class Table:
    """Rows of cells, how they were read, and what a person should know about that."""

    rows: tuple[tuple[Cell, ...], ...]
    kind: str
    separator: str = ""
    notes: tuple[str, ...] = ()


class RowsKept:
    """Collects the rows of a file, and refuses it as soon as it is too much."""

    def __init__(self) -> None:
        self._rows: list[tuple[Cell, ...]] = []
        self._signs = self._number = 0

    def add(self, cells: Sequence[Cell]) -> None:
        """Keep a row without the empty cells at its end."""
        row = _without_empty_end(cells)
        self._number = number = self._number + 1
        if row and number > MOST_ROWS + 1:
            raise _too_much(f"more than {MOST_ROWS:,} rows")
        if len(row) > MOST_COLUMNS:
            raise _too_much(f"more than {MOST_COLUMNS} columns in row {number}")
        longest = max((len(cell) for cell in row if isinstance(cell, str)), default=0)
        if longest > MOST_SIGNS_IN_A_CELL:
            raise _too_much(f"a cell of {longest:,} signs in row {number}")
        self._signs += sum(len(cell) if isinstance(cell, str) else 8 for cell in row)
        if self._signs > MOST_SIGNS:
            raise _too_much("more text than a list of properties")
        if number <= MOST_ROWS + 1:
            self._rows.append(row)

    def rows(self) -> tuple[tuple[Cell, ...], ...]:
        """All rows, without empty ones at the end."""
        while self._rows and not self._rows[-1]:
            self._rows.pop()
        if sum(1 for row in self._rows if row) < 2:
            raise Refused(
                "file",
                "This file has no row under its headings.",
                "The first row names the columns; each row below it is a property.",
            )
        return tuple(self._rows)


def cell_text(cell: Cell) -> str:
    """Write a cell as a person would: a whole number without a point.

    Parameters
    ----------
    cell : Cell
        Text or a number. [-]

    Returns
    -------
    str
        Its text, without spaces around it. [-]

    Raises
    ------
    Nothing
        Any cell can be written.

    References
    ----------
    Our own rule.
    """
    if isinstance(cell, str):
        return cell.strip()
    whole = math.isfinite(cell) and cell == int(cell) and abs(cell) < 1e15
    return str(int(cell)) if whole else repr(cell)


def _without_empty_end(cells: Sequence[Cell]) -> tuple[Cell, ...]:
    filled = [n for n, cell in enumerate(cells, start=1) if cell_text(cell)]
    return tuple(
        cell.strip() if isinstance(cell, str) else cell for cell in cells[: max(filled, default=0)]
    )


def _too_much(what: str) -> Refused:
    return Refused("file", f"This file has {what}.", "Divide it, or keep only the columns needed.")
