"""Lists of invented properties, for the tests of reading them."""

from properties.core.sheets.cells import Cell, Table
from properties.core.sheets.columns import Columns, Fact
from properties.core.sheets.numbers import Decimals

HEADINGS = ("Lot", "Address", "Customer", "Email", "Area", "Latitude", "Longitude")
FACTS = (
    Fact.NAME,
    Fact.ADDRESS,
    Fact.CUSTOMER,
    Fact.EMAIL,
    Fact.AREA,
    Fact.LATITUDE,
    Fact.LONGITUDE,
)
GOOD: tuple[Cell, ...] = (
    "Lot 1",
    "1 Teasel Row",
    "M. Sorrel",
    "sorrel@example.com",
    "5,250",
    41.0005,
    -92.001,
)


def table(*rows: tuple[Cell, ...], headings: tuple[str, ...] = HEADINGS) -> Table:
    """A table with these rows below its headings."""
    return Table((headings, *rows), "text", ",")


def columns(
    *,
    facts: tuple[Fact | None, ...] = FACTS,
    decimals: Decimals = Decimals.POINT,
    area_unit: str = "sq ft",
    customer_for_all: str = "",
    position_for_all: bool = True,
) -> Columns:
    """The confirmed meaning of the columns of ``table``."""
    return Columns(1, facts, decimals, area_unit, customer_for_all, position_for_all)


def with_cell(fact: Fact, cell: Cell) -> tuple[Cell, ...]:
    """The good row with one cell changed."""
    at = FACTS.index(fact)
    return (*GOOD[:at], cell, *GOOD[at + 1 :])
