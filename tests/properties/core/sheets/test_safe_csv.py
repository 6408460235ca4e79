"""Files we give out: no cell of them is a formula to a spreadsheet program."""

import csv
import io

import pytest
from hypothesis import given
from hypothesis import strategies as st

from properties.core.sheets.safe_csv import csv_text, without_mark
from properties.core.sheets.text import read_text

# OWASP, CSV Injection: the signs that begin a formula, and two of its examples.
FORMULAS = [
    '=HYPERLINK("//x.example","click")',
    "@SUM(1+1)*cmd|' /C calc'!A0",
    "+1+cmd",
    "-2+3+cmd",
]


def _written(*cells: str | float) -> list[str]:
    """One row as a spreadsheet program would read it."""
    (row,) = csv.reader(io.StringIO(csv_text([cells]), newline=""))
    return row


@pytest.mark.parametrize("formula", FORMULAS)
def test_a_formula_is_written_as_text(formula: str) -> None:
    assert _written("x", formula) == ["x", f"'{formula.strip()}"]


@pytest.mark.parametrize("plain", ["-92.001", "+5", "Lot 1", "", "-1.250,5", -92.001])
def test_a_number_and_a_plain_text_stay_as_they_are(plain: str | float) -> None:
    assert _written("x", plain) == ["x", str(plain)]


@given(cells=st.lists(st.text(max_size=8), min_size=2, max_size=4))
def test_no_cell_that_is_given_out_begins_a_formula(cells: list[str]) -> None:
    for cell in _written(*cells):
        begins = cell.startswith(("=", "+", "-", "@", "\t", "\r", "\n"))
        assert not begins or cell.strip("+-.,0123456789") == ""


@pytest.mark.parametrize("text", ["=1+1", "@x", "-dog", "Lot 1", "'quoted'"])
def test_a_file_that_is_brought_back_reads_as_it_was(text: str) -> None:
    read = read_text(csv_text([["Lot", "Note"], ["Lot 1", text]]).encode())

    assert read.rows[1] == ("Lot 1", text)
    assert without_mark(text) == text
