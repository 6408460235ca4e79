"""What the columns of a spreadsheet seem to hold, to be shown and confirmed."""

from collections.abc import Iterator
from dataclasses import dataclass

from properties.core.errors import Refused
from properties.core.sheets.area_units import UnitGuess, guessed_unit
from properties.core.sheets.cells import Cell, Table, cell_text
from properties.core.sheets.columns import NUMBERS, Fact, guessed_facts, heading_row_of
from properties.core.sheets.numbers import Decimals, decimals_of, number_and_rest
from properties.core.sheets.rows import headings_of
from properties.models import Person, Spreadsheet
from properties.selectors.imports import table_of
from properties.selectors.places import newest_time_zone, properties_of

_SAMPLES = 3
_LOOKED_AT = 2000


@dataclass(frozen=True)
class Guesses:
    """Guesses about a spreadsheet. None of them counts before a person confirms it."""

    heading_row: int
    headings: tuple[str, ...]
    facts: tuple[Fact | None, ...]
    samples: tuple[tuple[str, ...], ...]
    decimals: Decimals
    #: Whether a number shows how decimals are written; else a person has to say.
    decimals_shown: bool
    unit: UnitGuess | None
    example_area: float | None
    units: str
    number_texts: tuple[str, ...] = ()

    def example_number(self, decimals: Decimals) -> tuple[str, float] | None:
        """Give a number of the file that could be read in two ways, and how it reads so."""
        for text in self.number_texts:
            try:
                told = [number_and_rest(text, way)[0] for way in Decimals]
            except Refused:
                continue
            if told[0] != told[1]:
                return text, number_and_rest(text, decimals)[0]
        return None


def guesses_of(sheet: Spreadsheet, *, units: str) -> Guesses:
    """Guess what each column holds, the unit of the areas and how decimals are written."""
    table = table_of(sheet)
    heading_row = heading_row_of(table.rows)
    headings = headings_of(table, heading_row)
    facts = guessed_facts(headings)
    number_columns = [n for n, fact in enumerate(facts) if fact in NUMBERS]
    number_cells = [cell for n in number_columns for cell in _column(table, heading_row, n)]
    decimals, is_shown = decimals_of(number_cells, separator=table.separator)
    areas = list(_areas(table, heading_row, facts, decimals))
    heading = headings[facts.index(Fact.AREA)] if Fact.AREA in facts else ""
    return Guesses(
        heading_row=heading_row,
        headings=headings,
        facts=facts,
        samples=tuple(_samples(table, heading_row, n) for n in range(len(headings))),
        decimals=decimals,
        decimals_shown=is_shown,
        unit=guessed_unit(heading, areas, units=units) if heading else None,
        example_area=areas[0] if areas else None,
        units=units,
        number_texts=tuple(cell for cell in number_cells if isinstance(cell, str)),
    )


def first_answers(person: Person) -> dict[str, object]:
    """Give what is asked once for all rows as it was for the property added last."""
    newest = properties_of(person).filter(is_located=True).order_by("-pk").first()
    return {
        "time_zone": newest_time_zone(person),
        "latitude": round(newest.latitude, 5) if newest else None,
        "longitude": round(newest.longitude, 5) if newest else None,
    }


def _column(table: Table, heading_row: int, position: int) -> Iterator[Cell]:
    for row in table.rows[heading_row : heading_row + _LOOKED_AT]:
        if position < len(row) and cell_text(row[position]):
            yield row[position]


def _samples(table: Table, heading_row: int, position: int) -> tuple[str, ...]:
    cells = _column(table, heading_row, position)
    return tuple(cell_text(cell)[:60] for cell, _ in zip(cells, range(_SAMPLES), strict=False))


def _areas(
    table: Table, heading_row: int, facts: tuple[Fact | None, ...], decimals: Decimals
) -> Iterator[float]:
    """The numbers of the column of areas, those that name no unit themselves."""
    if Fact.AREA not in facts:
        return
    for cell in _column(table, heading_row, facts.index(Fact.AREA)):
        try:
            value, unit = number_and_rest(cell, decimals)
        except Refused:
            continue
        if not unit and value > 0:
            yield value
