"""What columns seem to hold, and that a choice outlives being written down."""

import pytest

from properties.core.sheets.addresses import address_key
from properties.core.sheets.area_units import AREA_UNITS, area_in, guessed_unit
from properties.core.sheets.columns import Columns, Fact, guessed_facts, heading_row_of
from properties.core.sheets.numbers import Decimals

HEADINGS = {
    "Street address": Fact.ADDRESS,
    "Lot": Fact.NAME,
    "Owner's name": Fact.CUSTOMER,
    "E-mail": Fact.EMAIL,
    "Teléfono": Fact.PHONE,
    "Lawn (1,000 sq ft)": Fact.AREA,
    "Superficie": Fact.AREA,
    "LAT": Fact.LATITUDE,
    "Lng": Fact.LONGITUDE,
    "Gate code": Fact.NOTE,
    "Colour of the door": None,
    "": None,
}


@pytest.mark.parametrize(("heading", "fact"), HEADINGS.items())
def test_a_heading_tells_what_its_column_holds(heading: str, fact: Fact | None) -> None:
    assert guessed_facts([heading]) == (fact,)


def test_an_address_may_stand_in_several_columns_but_a_name_in_one() -> None:
    guessed = guessed_facts(["Street", "City", "Lot", "Unit"])

    assert guessed == (Fact.ADDRESS, Fact.ADDRESS, Fact.NAME, None)


@pytest.mark.parametrize(
    ("rows", "heading_row"),
    [
        ([("Lot", "Area"), ("Lot 1", "5000")], 1),
        ([("Lots of an invented association",), (), ("Lot", "Area"), ("Lot 1", "5000")], 3),
        ([("5000", "1 Teasel Row")], 1),
        ([("Lot",), ("Lot 1",)], 1),
        ([], 1),
    ],
)
def test_a_title_above_the_headings_is_stepped_over(
    rows: list[tuple[str, ...]], heading_row: int
) -> None:
    assert heading_row_of(rows) == heading_row


def test_a_choice_is_the_same_after_it_was_written_down() -> None:
    chosen = Columns(3, (Fact.NAME, None, Fact.AREA), Decimals.COMMA, "acre", "An estate", False)

    assert Columns.of_json(chosen.to_json()) == chosen


@pytest.mark.parametrize(
    ("heading", "unit"),
    [
        ("Turf (sq. ft.)", "sq ft"),
        ("Lawn in 1,000 sq ft", "1000 sq ft"),
        ("Turf ksf", "1000 sq ft"),
        ("Acres", "acre"),
        ("Area m²", "m2"),
        ("Area (sq m)", "m2"),
        ("Area in 100 m2", "100 m2"),
        ("Size sq yd", "sq yd"),
        ("Hectares", "ha"),
    ],
)
def test_the_word_of_a_heading_is_stronger_than_the_size_of_its_numbers(
    heading: str, unit: str
) -> None:
    guess = guessed_unit(heading, [7000.0], units="us")

    assert guess is not None
    assert guess.unit == unit
    assert "the heading says" in guess.why


@pytest.mark.parametrize(
    ("values", "units", "unit"),
    [
        ([6000.0, 8000.0, 90000.0], "us", "sq ft"),
        ([6.5, 8.0, 12.5], "us", "1000 sq ft"),
        ([0.15, 0.25], "us", "acre"),
        ([650.0, 800.0], "metric", "m2"),
        ([6.0, 9.0], "metric", "100 m2"),
    ],
)
def test_without_a_word_the_unit_is_the_one_of_a_usual_lawn(
    values: list[float], units: str, unit: str
) -> None:
    guess = guessed_unit("Area", values, units=units)

    assert guess is not None
    assert guess.unit == unit


def test_without_word_and_number_nothing_is_guessed() -> None:
    assert guessed_unit("Area", [0.0, -5.0], units="us") is None


# NIST Handbook 44, Appendix C: an acre is 43 560 square feet, a square yard 9, a hectare 10 000 m².
IN_OTHER_WORDS = [
    ("acre", 43_560, "sq ft"),
    ("1000 sq ft", 1_000, "sq ft"),
    ("sq yd", 9, "sq ft"),
    ("ha", 10_000, "m2"),
    ("100 m2", 100, "m2"),
]


@pytest.mark.parametrize(("unit", "count", "other"), IN_OTHER_WORDS)
def test_a_unit_of_a_list_is_so_many_of_another(unit: str, count: int, other: str) -> None:
    assert area_in(1, unit).si == pytest.approx(area_in(count, other).si, rel=1e-12)


def test_every_unit_has_a_name_to_read() -> None:
    assert all(name.islower() or name[0].isdigit() for _, _, name in AREA_UNITS.values())


# USPS Publication 28, appendix C1 and section 233: the first is the standard abbreviation.
SAME = [
    ("14 N Millrace Rd", "14 North Millrace Road"),
    ("3 Teasel Row, Hazel Ferry", "3 TEASEL ROW  Hazel Ferry."),
    ("9 Plover St Apt 2", "9 Plover Street, Apartment #2"),
    ("5 Peña Ln", "5 Pena Lane"),
]


@pytest.mark.parametrize(("one", "other"), SAME)
def test_two_ways_of_writing_an_address_are_one(one: str, other: str) -> None:
    assert address_key(one) == address_key(other)


@pytest.mark.parametrize(
    ("one", "other"),
    [("14 Millrace Rd", "41 Millrace Rd"), ("3 Elm St", "3 Elm Ct"), ("3 N Elm", "3 S Elm")],
)
def test_two_addresses_are_two(one: str, other: str) -> None:
    assert address_key(one) != address_key(other)
