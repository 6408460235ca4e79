"""How the numbers of a price are written on its page."""

import pytest

from planner.templatetags.money import ground, money, roundly, told


@pytest.mark.parametrize(
    ("value", "unit", "exact", "read"),
    [
        ("87.00", "USD", "$87.00", "$87.00"),
        ("-5.5", "EUR", "−€5.50", "−€5.50"),
        ("8.25", "USD/1000 sq ft", "$8.25 for 1,000 sq ft", "$8.25 for 1,000 sq ft"),
        ("0.043", "USD/ft", "$0.043 for 1 ft", "$0.043 for 1 ft"),
        ("30152.51", "sq ft", "30,152.51 sq ft", "30,153 sq ft"),
        ("40.00", "%", "40.00 %", "40.0 %"),
        ("-12.34", "%", "−12.34 %", "−12.3 %"),
        ("3", "", "3", "3"),
    ],
)
def test_a_number_is_exact_in_its_working_and_short_to_be_read(
    value: str, unit: str, exact: str, read: str
) -> None:
    entry = {"value": value, "unit": unit}

    assert told(entry) == exact
    assert roundly(entry) == read


def test_no_amount_is_a_dash() -> None:
    assert money(None, "USD") == "–"


def test_ground_is_written_in_the_units_of_who_reads() -> None:
    # 1,000 sq ft are 92.90304 m².
    assert ground({"value": "1000", "unit": "sq ft"}, "metric").startswith("92.9")
    assert ground({"value": "1000", "unit": "sq ft"}, "us") == "1,000 sq ft"
