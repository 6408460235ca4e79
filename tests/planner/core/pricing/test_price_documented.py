"""The page about the JSON of a price names every member, every line and every warning."""

import re
from pathlib import Path

from planner.core.pricing import price_as_json
from tests.planner.core.pricing.test_workings_of_prices import PRICES

PAGE = Path("docs/price.md").read_text(encoding="utf-8")
NAMED = {name.partition("[")[0] for name in re.findall(r"`([a-z_]+(?:\[n\])?)`", PAGE)}


def test_every_member_of_a_price_is_on_the_page() -> None:
    for price in map(price_as_json, PRICES.values()):
        assert price.keys() <= NAMED
        for visit in price["visits"]:
            assert visit.keys() <= NAMED


def test_every_line_of_a_visit_is_on_the_page() -> None:
    keys = {
        line["key"].partition("[")[0]
        for price in map(price_as_json, PRICES.values())
        for visit in price["visits"]
        for line in (*visit["steps"], *visit["costs"])
    }

    assert keys <= NAMED


def test_every_warning_that_the_code_gives_is_on_the_page() -> None:
    folder = Path("planner/core/pricing")
    codes = {
        code
        for file in folder.glob("*.py")
        for code in re.findall(r'Finding\(\s*"([a-z_]+)"', file.read_text(encoding="utf-8"))
    }

    assert len(codes) == 7
    assert codes <= NAMED
