"""No published example is forgotten: each is run by a test that is named, or says why not."""

import re
from pathlib import Path

import pytest

from tests.planner.core.published import DATA, rows_of

EXAMPLES = rows_of("published_examples.csv")
TESTS = DATA.parent
#: The list as it was copied: a new example is added to the list and to this count.
HOW_MANY = 130


def test_the_list_is_whole_and_names_each_example_once_with_its_source() -> None:
    names = [row["example"] for row in EXAMPLES]

    assert len(names) == len(set(names)) == HOW_MANY
    assert all(row["source"] for row in EXAMPLES)


@pytest.mark.parametrize("row", EXAMPLES, ids=lambda row: row["example"])
def test_an_example_is_run_or_says_why_not(row: dict[str, str]) -> None:
    run_by, why = row["run_by"], row["not_run_because"]
    assert bool(run_by) is not bool(why)
    if why:
        assert len(why) > len("no reason")
        return
    where, name = run_by.split(" ")
    if where.endswith(".csv"):
        assert name in {each["case"] for each in rows_of(where)}
        assert any(where in text for text in _texts_of(TESTS / "planner" / "core"))
    else:
        test = (TESTS / where).read_text(encoding="utf-8")
        assert re.search(rf"^def {name}\(", test, re.MULTILINE)


def _texts_of(folder: Path) -> list[str]:
    return [path.read_text(encoding="utf-8") for path in folder.rglob("test_*.py")]
