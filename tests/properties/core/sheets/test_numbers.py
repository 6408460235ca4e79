"""Numbers as people write them, with a point or a comma before decimals."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from properties.core.errors import Refused
from properties.core.sheets.cells import Cell, cell_text
from properties.core.sheets.numbers import Decimals, decimals_of, number_and_rest

# The same number by the rules of English and German (DIN 1333) and of French (a narrow gap).
WRITTEN = [
    ("1,250.5", Decimals.POINT, 1250.5),
    ("1.250,5", Decimals.COMMA, 1250.5),
    ("1 250,5", Decimals.COMMA, 1250.5),
    ("1\u202f250,5", Decimals.COMMA, 1250.5),
    ("1'250.5", Decimals.POINT, 1250.5),
    ("1,250", Decimals.POINT, 1250.0),
    ("1,250", Decimals.COMMA, 1.25),
    ("\u221292.001", Decimals.POINT, -92.001),
    (".5", Decimals.POINT, 0.5),
    (0.125, Decimals.COMMA, 0.125),
]


@pytest.mark.parametrize(("cell", "decimals", "meant"), WRITTEN)
def test_a_number_is_read_as_it_was_meant(cell: Cell, decimals: Decimals, meant: float) -> None:
    assert number_and_rest(cell, decimals) == (meant, "")


@pytest.mark.parametrize(
    ("text", "decimals"),
    [
        ("12,5", Decimals.POINT),
        ("1.250.5", Decimals.POINT),
        ("12.5", Decimals.COMMA),
        ("41.0005", Decimals.COMMA),
        ("about 5000", Decimals.POINT),
        ("", Decimals.POINT),
        ("=2*3", Decimals.POINT),
    ],
)
def test_what_is_no_number_this_way_is_refused(text: str, decimals: Decimals) -> None:
    with pytest.raises(Refused, match="is not a number"):
        number_and_rest(text, decimals)


def test_what_follows_a_number_is_given_too() -> None:
    assert number_and_rest("5,250 sq ft", Decimals.POINT) == (5250.0, "sq ft")


@given(thousandths=st.integers(-(10**9), 10**9))
def test_both_ways_of_writing_a_number_are_read_alike(thousandths: int) -> None:
    with_point = f"{thousandths / 1000:,.3f}"
    with_comma = with_point.translate(str.maketrans(",.", ".,"))

    read = number_and_rest(with_point, Decimals.POINT)

    assert read == number_and_rest(with_comma, Decimals.COMMA) == (thousandths / 1000, "")


@pytest.mark.parametrize(
    ("cells", "separator", "guess"),
    [
        (["1,250", "12.5"], ",", (Decimals.POINT, True)),
        (["1.250", "12,5"], ";", (Decimals.COMMA, True)),
        (["1,250"], ",", (Decimals.POINT, False)),
        (["1,250"], ";", (Decimals.COMMA, False)),
        ([12.5, "none"], ";", (Decimals.COMMA, True)),
        (["12,5", "12.5"], ",", (Decimals.POINT, False)),
    ],
)
def test_the_guess_says_whether_a_number_shows_it(
    cells: list[Cell], separator: str, guess: tuple[Decimals, bool]
) -> None:
    assert decimals_of(cells, separator=separator) == guess


@pytest.mark.parametrize(
    ("cell", "text"), [(12.0, "12"), (12.5, "12.5"), (" a ", "a"), (float("inf"), "inf")]
)
def test_a_cell_is_written_as_a_person_would(cell: Cell, text: str) -> None:
    assert cell_text(cell) == text
