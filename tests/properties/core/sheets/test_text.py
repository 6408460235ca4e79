"""Text files: their encodings, their separators, and what cannot be read."""

import csv
import io

import pytest
from hypothesis import given
from hypothesis import strategies as st

from properties.core.errors import Refused
from properties.core.sheets.cells import MOST_COLUMNS, MOST_ROWS, cell_text
from properties.core.sheets.text import SEPARATORS, read_text

LIST = "Lot,Address\nLot 1,1 Teasel Row\nLot 2,2 Teasel Row\n"


@pytest.mark.parametrize(
    ("codec", "said"),
    [
        ("utf-8", "UTF-8"),
        ("utf-8-sig", "UTF-8"),
        ("utf-16", "UTF-16"),
        ("cp1252", "Windows-1252"),
    ],
)
def test_accents_are_right_in_every_encoding_and_the_encoding_is_told(
    codec: str, said: str
) -> None:
    read = read_text("Lot,Customer\nLot 1,Señora Peña\n".encode(codec))

    assert read.rows == (("Lot", "Customer"), ("Lot 1", "Señora Peña"))
    assert said in read.notes[0]


def test_a_guessed_encoding_shows_words_to_look_at() -> None:
    read = read_text("Lot,Customer\n1,Peña\n".encode("cp1252"))

    assert "“1,Peña” is right" in read.notes[0]


@pytest.mark.parametrize("separator", list(SEPARATORS))
def test_the_separator_is_found_also_where_values_hold_other_ones(separator: str) -> None:
    other = ";" if separator != ";" else ","
    text = f"Lot{separator}Address\nLot 1{separator}1 Teasel Row{other} rear\n"

    read = read_text(text.encode())

    assert read.separator == separator
    assert read.rows[1] == ("Lot 1", f"1 Teasel Row{other} rear")


def test_a_separator_that_was_chosen_is_taken() -> None:
    assert read_text(LIST.encode(), separator=";").rows[1] == ("Lot 1,1 Teasel Row",)


def test_an_empty_row_counts_as_a_spreadsheet_counts_it() -> None:
    read = read_text(b"Lot,Address\n\nLot 1,1 Teasel Row\n,,\n")

    assert read.rows == (("Lot", "Address"), (), ("Lot 1", "1 Teasel Row"))


def test_a_line_break_inside_quotation_marks_stays_in_its_cell() -> None:
    assert read_text(b'Lot,Note\nLot 1,"gate\nleft"\n').rows[1] == ("Lot 1", "gate\nleft")


@pytest.mark.parametrize(
    ("content", "words"),
    [
        (b'Lot,Note\n1,"gate left\n2,dog\n', "Line 3 cannot be told apart"),
        (b"Lot,Note\n", "no row under its headings"),
        (b"", "no row under its headings"),
        (b"Lot\0Note\n1\n", "not a text file"),
        (b"\xff\xfea", "not a text file"),
        (b"a,b\n\x81\x8d\n", "not a text file"),
        (b"a,b\n" + b"1,2\n" * (MOST_ROWS + 1), "more than 10,000 rows"),
        (b"a,b\n" + b"1," * MOST_COLUMNS + b"1\n", "more than 60 columns in row 2"),
        (b"a,b\n1," + b"x" * 4001, "a cell of 4,001 signs in row 2"),
        (b"a,b\n" + (b"x" * 3999 + b",") * 50 + b"\n", ""),
    ],
)
def test_what_cannot_be_read_is_refused_with_what_to_do(content: bytes, words: str) -> None:
    if not words:
        read_text(content)
        return
    with pytest.raises(Refused, match=words) as refused:
        read_text(content)

    assert refused.value.field == "file"
    assert refused.value.remedy


def test_a_file_with_far_too_much_text_is_refused_before_it_is_kept() -> None:
    row = ",".join(["x" * 3999] * 40) + "\n"

    with pytest.raises(Refused, match="more text than a list"):
        read_text((row * 90).encode())


def test_as_many_rows_as_are_allowed_are_read() -> None:
    read = read_text(b"a,b\n" + b"1,2\n" * MOST_ROWS)

    assert len(read.rows) == MOST_ROWS + 1


def test_empty_rows_at_the_end_do_not_count_however_many_they_are() -> None:
    assert len(read_text(b"a,b\n1,2\n" + b"\n" * (MOST_ROWS + 5)).rows) == 2


WORDS = st.text(st.characters(codec="utf-8", exclude_categories=["Cs", "Cc", "Z"]), min_size=1)


@given(rows=st.lists(st.lists(WORDS, min_size=2, max_size=2), min_size=2, max_size=6))
def test_what_was_written_as_csv_is_read_again(rows: list[list[str]]) -> None:
    written = io.StringIO(newline="")
    csv.writer(written, delimiter=";").writerows(rows)

    read = read_text(written.getvalue().encode("utf-8-sig"), separator=";")

    # A mark before a formula is taken off: see the tests of harmless files.
    assert [[cell_text(cell).lstrip("'") for cell in row] for row in read.rows] == [
        [cell.lstrip("'") for cell in row] for row in rows
    ]
