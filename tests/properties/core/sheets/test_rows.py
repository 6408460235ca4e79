"""Rows of a list: each a property, or every fault that keeps it from being one."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from properties.core.sheets.cells import Cell, Table
from properties.core.sheets.columns import Fact
from properties.core.sheets.numbers import Decimals
from properties.core.sheets.rows import headings_of, read_rows
from properties.core.units import Quantity
from tests.properties.core.sheets.lists import FACTS, GOOD, HEADINGS, columns, table, with_cell


def test_a_good_row_is_a_property_with_its_area_as_stated() -> None:
    read = read_rows(table(GOOD), columns())

    (place,) = read.places
    assert read.faults == ()
    assert (place.row, place.name, place.address) == (2, "Lot 1", "1 Teasel Row")
    assert (place.customer, place.email) == ("M. Sorrel", "sorrel@example.com")
    assert place.area == Quantity(5250.0, "sq ft")
    assert place.area_typed == "5,250 (square feet)"
    assert (place.latitude, place.longitude) == (41.0005, -92.001)


# One fault in one cell: column, what stands there, what is said of it.
FAULTY: list[tuple[Fact, Cell, str]] = [
    (Fact.ADDRESS, "", "The address is missing"),
    (Fact.ADDRESS, "x" * 201, "201 signs"),
    (Fact.NAME, "=HYPERLINK(0)", "This is a formula"),
    (Fact.NAME, "bell\x07", "cannot be shown"),
    (Fact.CUSTOMER, "", "The customer is missing"),
    (Fact.EMAIL, "a@example.com; b@example.com", "not one email address"),
    (Fact.EMAIL, "sorrel@", "not one email address"),
    (Fact.AREA, "about 5000", "is not a number"),
    (Fact.AREA, "0", "This is not an area"),
    (Fact.AREA, "-250", "This is not an area"),
    (Fact.AREA, "5 furlongs", "not a unit on our list"),
    (Fact.AREA, "5 gal", "gal is not a unit of area"),
    (Fact.AREA, "2", "is not the turf of a property"),
    (Fact.AREA, 1e12, "is not the turf of a property"),
    (Fact.AREA, float("nan"), "This is not an area"),
    (Fact.LATITUDE, "95", "not a latitude in degrees"),
    (Fact.LATITUDE, float("nan"), "not a latitude in degrees"),
    (Fact.LONGITUDE, "92 W", "not a longitude in degrees"),
    (Fact.LONGITUDE, "", "The longitude is missing"),
]


@pytest.mark.parametrize(("fact", "cell", "words"), FAULTY)
def test_a_fault_tells_its_row_its_column_its_value_and_what_to_do(
    fact: Fact, cell: Cell, words: str
) -> None:
    read = read_rows(table(GOOD, with_cell(fact, cell)), columns())

    (fault,) = read.faults
    assert [place.row for place in read.places] == [2]
    assert (fault.row, fault.column) == (3, HEADINGS[FACTS.index(fact)])
    assert fault.value == str(cell)[:80] or cell == 1e12
    assert words in fault.problem
    assert fault.remedy.endswith(".")


def test_no_fault_hides_another_of_the_same_row() -> None:
    read = read_rows(table(("", "", "", "no", "much", 99.0, -200.0)), columns())

    assert [fault.column for fault in read.faults] == [
        "Address",
        "Area",
        "Latitude",
        "Longitude",
        "Customer",
        "Email",
    ]
    assert read.faulty_rows == (2,)


def test_an_empty_row_is_neither_a_property_nor_a_fault() -> None:
    read = read_rows(table((), GOOD), columns())

    assert ([place.row for place in read.places], read.faults) == ([3], ())


def test_an_area_that_is_not_known_stays_unknown() -> None:
    (place,) = read_rows(table(with_cell(Fact.AREA, "")), columns()).places

    assert place.area is None


@pytest.mark.parametrize(
    ("cell", "unit", "area"),
    [
        ("12.5", "1000 sq ft", Quantity(12500.0, "sq ft")),
        ("0.25", "acre", Quantity(0.25, "acre")),
        ("0.25 ac", "sq ft", Quantity(0.25, "acre")),
        (850.0, "m2", Quantity(850.0, "m2")),
    ],
)
def test_an_area_is_read_in_the_confirmed_unit_unless_it_names_its_own(
    cell: Cell, unit: str, area: Quantity
) -> None:
    (place,) = read_rows(table(with_cell(Fact.AREA, cell)), columns(area_unit=unit)).places

    assert place.area == area
    assert place.area_typed.count("ac") == (1 if area.unit == "acre" else 0)


def test_a_decimal_comma_is_read_where_it_was_confirmed() -> None:
    row = (*GOOD[:4], "0,25", "41,0005", "-92,001")

    (place,) = read_rows(table(row), columns(decimals=Decimals.COMMA, area_unit="acre")).places

    assert (place.area, place.latitude) == (Quantity(0.25, "acre"), 41.0005)


def test_a_row_without_customer_or_name_takes_what_holds_for_all() -> None:
    row = ("", *GOOD[1:2], "", *GOOD[3:])

    (place,) = read_rows(table(row), columns(customer_for_all="An estate")).places

    assert (place.name, place.customer) == ("1 Teasel Row", "An estate")


def test_the_parts_of_an_address_are_joined() -> None:
    facts = (Fact.ADDRESS, Fact.ADDRESS, Fact.ADDRESS)
    listed = table(("1 Teasel Row", "", "Hazel Ferry"), headings=("Street", "Unit", "Town"))

    (place,) = read_rows(listed, columns(facts=facts, customer_for_all="M. Sorrel")).places

    assert place.address == "1 Teasel Row, Hazel Ferry"


def test_a_town_alone_is_no_address() -> None:
    listed = table(("", "Hazel Ferry"), headings=("Street", "Town"))

    read = read_rows(listed, columns(facts=(Fact.ADDRESS,) * 2, customer_for_all="M. Sorrel"))

    assert [(fault.column, fault.problem) for fault in read.faults] == [
        ("Street", "The address is missing.")
    ]


def test_without_one_position_for_all_each_row_needs_its_own() -> None:
    row = (*GOOD[:5],)

    assert read_rows(table(row), columns()).faults == ()
    (fault,) = read_rows(table(row), columns(position_for_all=False)).faults
    assert (fault.column, fault.problem) == ("Latitude", "The latitude is missing.")


def test_a_separator_inside_a_value_is_found_by_the_cell_too_many() -> None:
    (fault,) = read_rows(table(GOOD, (*GOOD, "rear")), columns()).faults

    assert (fault.column, fault.value) == ("Column H", "rear")
    assert "8 cells under 7 headings" in fault.problem


def test_a_column_without_heading_that_most_rows_fill_has_a_letter() -> None:
    listed = table(*[("", *[""] * 26, "x")] * 3, headings=("Lot", "Address"))

    assert headings_of(listed, 1)[-2:] == ("Column AA", "Column AB")


def test_a_heading_row_below_the_last_row_names_nothing() -> None:
    assert headings_of(Table((("Lot",),), "text"), 5) == ()


CELLS = st.one_of(st.text(max_size=12), st.floats(), st.sampled_from([*GOOD, "", "1,5", "5 ac"]))


@given(rows=st.lists(st.lists(CELLS, max_size=9).map(tuple), max_size=8))
def test_every_filled_row_is_a_property_or_has_a_fault(rows: list[tuple[Cell, ...]]) -> None:
    listed = table(*rows)

    read = read_rows(listed, columns())

    good = {place.row for place in read.places}
    filled = {n for n, row in enumerate(listed.rows, start=1) if n > 1 and row}
    assert good | set(read.faulty_rows) == filled
    assert not good & set(read.faulty_rows)
