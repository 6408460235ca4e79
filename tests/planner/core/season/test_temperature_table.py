"""Tables of temperatures: what is read, and every fault with its line."""

from datetime import date
from pathlib import Path

import pytest

from planner.core.season.temperature_table import (
    HEADINGS,
    MOST_ROWS,
    TemperatureRow,
    read_temperatures,
)
from properties.core.errors import FaultsFound
from properties.core.units import Quantity


def _read(text: str, *, order: str = "ymd") -> tuple[TemperatureRow, ...]:
    return read_temperatures(text, unit="deg F", date_order=order)


def _faults(text: str, *, order: str = "ymd") -> list[tuple[str, str]]:
    with pytest.raises(FaultsFound) as found:
        _read(text, order=order)
    return [(fault.field, fault.problem) for fault in found.value.faults]


def test_a_table_is_read_with_its_units() -> None:
    rows = _read("date,max,min,soil\n2026-03-01,51,33,41.5\n2026-03-02,48,30,\n")

    assert rows == (
        TemperatureRow(
            2,
            date(2026, 3, 1),
            Quantity(51, "deg F"),
            Quantity(33, "deg F"),
            Quantity(41.5, "deg F"),
        ),
        TemperatureRow(3, date(2026, 3, 2), Quantity(48, "deg F"), Quantity(30, "deg F"), None),
    )


@pytest.mark.parametrize(
    ("text", "order"),
    [
        ("\ufeffDay;High;Low\r\n2026-03-01;51;-4\r\n", "ymd"),
        ("low\tmax\tother\tdate\n-4\t51\tx\t3/1/2026", "mdy"),
        ('\n"date","max","min"\n"01.03.2026","51","−4"\n\n,,\n', "dmy"),
    ],
)
def test_columns_may_stand_in_any_order_and_be_parted_in_several_ways(
    text: str, order: str
) -> None:
    (row,) = _read(text, order=order)

    assert (row.on, row.soil) == (date(2026, 3, 1), None)
    assert (row.high, row.low) == (Quantity(51, "deg F"), Quantity(-4, "deg F"))


def test_soil_alone_is_enough() -> None:
    (row,) = _read("date,soil\n2026-03-01,44")

    assert (row.high, row.soil) == (None, Quantity(44, "deg F"))


def test_every_fault_is_told_with_its_line() -> None:
    text = (
        "date,max,min\n"
        "2026-03-01,51,33\n"
        "2026-02-29,51,33\n"
        "2026-03-02,warm,33\n"
        "2026-03-01,50,30\n"
        "2026-03-04,30,50\n"
        ",50,30\n"
        "2026-03-05,500,30\n"
        "26-03-06,50,30\n"
        "2026-03\n"
    )

    assert _faults(text) == [
        ("line 3", "“2026-02-29” is no day."),
        ("line 4", "max: “warm” is no temperature."),
        ("line 5", "2026-03-01 stands on line 2 already."),
        ("line 6", "The highest, 30 °F, is below the lowest, 50 °F."),
        ("line 7", "The day is missing."),
        ("line 8", "max: 500 °F cannot be right."),
        ("line 9", "“26-03-06” is no day."),
        ("line 10", "“2026-03” is no day."),
    ]


@pytest.mark.parametrize(
    ("text", "problem"),
    [
        ("", "The table is empty."),
        ("date,max,min\n", "There is no day below the heading."),
        ("2026-03-01,51,33\n", "No column is called “date”."),
        ("date,max\n2026-03-01,51\n", "There are neither “max” and “min” nor “soil”."),
        ("date,max,min,high\n2026-03-01,51,33,51\n", "Two columns are called “max” or alike."),
    ],
)
def test_a_table_that_cannot_be_understood_is_not_guessed_at(text: str, problem: str) -> None:
    assert [told for _, told in _faults(text)] == [problem]


def test_the_description_names_every_heading() -> None:
    described = (Path(__file__).parents[4] / "docs" / "season.md").read_text(encoding="utf-8")

    assert [
        heading
        for headings in HEADINGS.values()
        for heading in headings
        if f"`{heading}`" not in described
    ] == []


def test_a_table_of_many_years_is_sent_in_parts() -> None:
    rows = "\n".join(
        f"{1950 + n // 336}-{n // 28 % 12 + 1}-{n % 28 + 1},50,30" for n in range(MOST_ROWS + 1)
    )

    assert _faults(f"date,max,min\n{rows}") == [
        ("table", "These are 4,001 days; 4,000 are read at once.")
    ]
