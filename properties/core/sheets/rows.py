"""Each row of a list as a property, or every fault that keeps it from being one."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import TypeVar

from properties.core.errors import Refused
from properties.core.sheets.area_units import AREA_UNITS
from properties.core.sheets.cells import Cell, Table, cell_text
from properties.core.sheets.columns import Columns, Fact
from properties.core.sheets.faults import RowFault, fault_of
from properties.core.sheets.values import (
    FARTHEST,
    degrees,
    email_address,
    plain_text,
    stated_area,
)
from properties.core.units import Quantity

LONGEST = {
    Fact.ADDRESS: 200,
    Fact.NAME: 120,
    Fact.CUSTOMER: 120,
    Fact.PHONE: 40,
    Fact.EMAIL: 254,
    Fact.NOTE: 2000,
}
Read = TypeVar("Read")


@dataclass(frozen=True)
class ListedPlace:
    """A property as a row of a list tells it. An area is as stated: nothing is drawn."""

    row: int
    name: str
    address: str
    customer: str
    phone: str = ""
    email: str = ""
    note: str = ""
    latitude: float | None = None
    longitude: float | None = None
    area: Quantity | None = None
    area_typed: str = ""


@dataclass(frozen=True)
class ReadRows:
    """Every row of a list: those that are properties, and the faults of the others."""

    places: tuple[ListedPlace, ...]
    faults: tuple[RowFault, ...]

    @property
    def faulty_rows(self) -> tuple[int, ...]:
        """The rows that have a fault, each once."""
        return tuple(dict.fromkeys(fault.row for fault in self.faults))


def read_rows(table: Table, columns: Columns) -> ReadRows:
    """Read every row below the headings. No fault hides another.

    Parameters
    ----------
    table : Table
        The rows of the file. [-]
    columns : Columns
        What its columns hold, as a person confirmed it. [-]

    Returns
    -------
    ReadRows
        Properties and faults in the order of the rows; empty rows are neither. [-]

    Raises
    ------
    Nothing
        What is wrong with a row is told as its faults.

    References
    ----------
    Our own rule.
    """
    places: list[ListedPlace] = []
    faults: list[RowFault] = []
    for reader in _readers(table, columns):
        place = reader.place()
        places += [] if reader.faults else [place]
        faults += reader.faults
    return ReadRows(tuple(places), tuple(faults))


def headings_of(table: Table, heading_row: int) -> tuple[str, ...]:
    """Name every column: by its heading, or by its letter where it has none.

    Parameters
    ----------
    table : Table
        The rows of the file. [-]
    heading_row : int
        The row of the headings, counted from one. [-]

    Returns
    -------
    tuple of str
        One name for each column: one that has a heading, or that half of the rows fill. [-]

    Raises
    ------
    Nothing
        A column always has a letter.

    References
    ----------
    Our own rule.
    """
    row = table.rows[heading_row - 1] if heading_row <= len(table.rows) else ()
    widths = sorted((len(row) for row in table.rows[heading_row:] if row), reverse=True)
    width = max(len(row), widths[len(widths) // 2] if widths else 0)
    spoken = [cell_text(cell) for cell in row] + [""] * width
    return tuple(spoken[n] or f"Column {_letters(n)}" for n in range(width))


def _letters(position: int) -> str:
    above, letter = divmod(position, 26)
    return (_letters(above - 1) if above else "") + chr(ord("A") + letter)


def _readers(table: Table, columns: Columns) -> Iterator["_Row"]:
    headings = headings_of(table, columns.heading_row)
    for number, cells in enumerate(table.rows, start=1):
        if number > columns.heading_row and cells:
            yield _Row(number, cells, columns, headings)


class _Row:
    """One row while it is read, with the faults found so far."""

    def __init__(
        self, number: int, cells: tuple[Cell, ...], columns: Columns, headings: tuple[str, ...]
    ) -> None:
        self.number, self.cells = number, cells
        self.columns, self.headings = columns, headings
        self.faults: list[RowFault] = []

    def place(self) -> ListedPlace:
        """The property of this row; it counts only if no fault was found."""
        self._refuse_cells_beyond()
        address = self._address()
        area, typed = self._area()
        latitude, longitude = self._position()
        return ListedPlace(
            row=self.number,
            name=self._text(Fact.NAME) or address[: LONGEST[Fact.NAME]],
            address=address,
            customer=self._customer(),
            phone=self._text(Fact.PHONE),
            email=self._checked(Fact.EMAIL, self._text(Fact.EMAIL), email_address) or "",
            note=self._text(Fact.NOTE),
            latitude=latitude,
            longitude=longitude,
            area=area,
            area_typed=typed,
        )

    def _refuse_cells_beyond(self) -> None:
        """Say that a separator in a value has made a row wider than its headings."""
        if len(self.cells) > len(self.columns.facts):
            beyond = cell_text(self.cells[len(self.columns.facts)])
            self._fault(
                f"Column {_letters(len(self.columns.facts))}",
                beyond,
                f"This row has {len(self.cells)} cells under {len(self.columns.facts)} headings.",
                "Put a value that holds the separator in quotation marks.",
            )

    def _cell(self, fact: Fact) -> Cell:
        found = self.columns.positions_of(fact)
        return self.cells[found[0]] if found and found[0] < len(self.cells) else ""

    def _heading(self, fact: Fact) -> str:
        found = self.columns.positions_of(fact)
        return self.headings[found[0]] if found else str(fact).capitalize()

    def _text(self, fact: Fact) -> str:
        """The text of a fact, its parts joined."""
        positions = [n for n in self.columns.positions_of(fact) if n < len(self.cells)]
        parts = [" ".join(cell_text(self.cells[n]).split()) for n in positions]
        text = ", ".join(part for part in parts if part)
        return self._checked(fact, text, lambda text: plain_text(text, LONGEST[fact])) or ""

    def _address(self) -> str:
        """The address; a town alone is none, so its first part has to be there."""
        if not cell_text(self._cell(Fact.ADDRESS)):
            self._fault(
                self._heading(Fact.ADDRESS),
                "",
                "The address is missing.",
                "Write it, or leave this row out.",
            )
        return self._text(Fact.ADDRESS)

    def _customer(self) -> str:
        told = self._text(Fact.CUSTOMER) or self.columns.customer_for_all
        if not told:
            self._fault(
                self._heading(Fact.CUSTOMER),
                "",
                "The customer is missing.",
                "Write who it is, or name one customer for all rows that name none.",
            )
        return told

    def _area(self) -> tuple[Quantity | None, str]:
        cell = self._cell(Fact.AREA)
        text = cell_text(cell)
        if not text:
            return None, ""
        area = self._checked(Fact.AREA, cell, lambda c: stated_area(c, self.columns))
        has_own_unit = isinstance(cell, str) and any(map(str.isalpha, text))
        return area, text if has_own_unit else f"{text} ({AREA_UNITS[self.columns.area_unit][2]})"

    def _position(self) -> tuple[float | None, float | None]:
        told = {fact: self._degrees(fact) for fact in FARTHEST}
        missing = [fact for fact in FARTHEST if not cell_text(self._cell(fact))]
        if missing and (len(missing) == 1 or not self.columns.position_for_all):
            self._fault(
                self._heading(missing[0]),
                "",
                f"The {missing[0]} is missing.",
                "Write latitude and longitude, or neither and one position for all rows.",
            )
        return told[Fact.LATITUDE], told[Fact.LONGITUDE]

    def _degrees(self, fact: Fact) -> float | None:
        return self._checked(fact, self._cell(fact), lambda c: degrees(c, fact, self.columns))

    def _checked(self, fact: Fact, given: Cell, read: Callable[[Cell], Read]) -> Read | None:
        """Read a cell, or keep what is wrong with it."""
        if given == "":
            return None
        try:
            return read(given)
        except Refused as refused:
            self.faults.append(
                fault_of(
                    refused,
                    row=self.number,
                    column=self._heading(fact),
                    value=cell_text(given),
                )
            )
        return None

    def _fault(self, column: str, value: str, problem: str, remedy: str) -> None:
        self.faults.append(RowFault(self.number, column, value[:80], problem, remedy))
