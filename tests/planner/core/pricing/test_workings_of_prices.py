"""Every figure of a price, reconstructed by hand from its own working."""

import re
from decimal import Decimal
from math import ceil
from typing import Any

import pytest

from planner.core.money import Step
from planner.core.pricing import (
    Banding,
    Basis,
    Discount,
    Taxed,
    TaxRate,
    When,
    price_as_json,
    price_of,
)
from planner.core.pricing.report import figure_as_json
from planner.core.shown import Units
from tests.planner.core.pricing.asking import SQ_FT_M2, book, visit, work

DISCOUNTS = (
    Discount("Programme", When.PROGRAMME, percent=Decimal("7.5")),
    Discount("Paid ahead", When.PREPAID, amount=Decimal(5)),
)
TAXES = (
    TaxRate("State", Decimal("6.25"), Taxed.EVERYTHING, "Invented code 1"),
    TaxRate("Town", Decimal("1.125"), Taxed.EVERYTHING, "Invented code 2"),
    TaxRate("Product tax", Decimal(3), Taxed.MATERIAL, "Invented code 3"),
    TaxRate("None", Decimal(0), Taxed.SERVICE, "Invented code 4"),
)
SEASON = work(
    visit(area_m2=7777 * SQ_FT_M2, paced_m2=500 * SQ_FT_M2),
    visit(area_m2=12000 * SQ_FT_M2),
    taxes=TAXES,
    prepaid=True,
)
SMALL = work(visit(area_m2=1234 * SQ_FT_M2))
TRIMS = {"trim": Decimal("0.043"), "discounts": DISCOUNTS}
PRICES = {
    "by area": price_of(SEASON, book(**TRIMS)),
    "whole lawns": price_of(SEASON, book(banding=Banding.WHOLE, step=Step.FIVE_CENTS, **TRIMS)),
    "by cost": price_of(SEASON, book(basis=Basis.COST, step=Step.DOLLAR, **TRIMS)),
    "the higher": price_of(SMALL, book(basis=Basis.HIGHER, minimum=Decimal(60), **TRIMS)),
    "metric": price_of(SEASON, book(units=Units.METRIC, currency="EUR", **TRIMS)),
}
WORKING = [
    pytest.param(price, entry, id=f"{name}: {entry['figure']} {place}")
    for name, price in ((name, price_as_json(price)) for name, price in PRICES.items())
    for place, entry in enumerate(price["working"])
]

HAND = {"ceil": ceil, "min": min, "Decimal": Decimal, "__builtins__": {}}
# A figure may be off by half of its last place; tax is carried and then shared, a cent at most.
HALF_A_CENT = Decimal("0.005")


def by_hand(entry: dict[str, Any]) -> Decimal:
    """Put the inputs into the formula, and work it out."""
    values = {each["name"]: each["value"] for each in entry["inputs"]}
    names = "|".join(sorted(map(re.escape, values), key=len, reverse=True))
    number = r"(?<![\w.])\d+(?:\.\d+)?"
    text = re.sub(
        f"{names}|{number}" if names else number,
        lambda found: f"Decimal('{values.get(found[0], found[0])}')",
        entry["formula"],
    )
    for ours, python in (("×", "*"), ("−", "-")):
        text = text.replace(ours, python)
    return Decimal(eval(text, HAND))  # noqa: S307 - a formula of our own, in a test


@pytest.mark.parametrize(("price", "entry"), WORKING)
def test_the_inputs_shown_give_the_figure_by_the_formula_shown(
    price: Any, entry: dict[str, Any]
) -> None:
    off = Decimal("0.01") if entry["figure"].startswith("taxes") else HALF_A_CENT

    assert abs(by_hand(entry) - Decimal(entry["result"]["value"])) <= off


@pytest.mark.parametrize("name", PRICES)
def test_every_amount_of_a_price_has_a_working(name: str) -> None:
    price = price_as_json(PRICES[name])
    told = {entry["figure"] for entry in price["working"]}

    for place, each in enumerate(price["visits"]):
        for line in (*each["steps"], *each["costs"]):
            assert f"visits[{place}].{line['key']}" in told
    for line in (*price["discounts"], *price["taxes"], *price["make_up"]):
        assert line["key"] in told
    assert {"net", "total", "low", "high", "margin_percent"} <= told


def test_money_in_json_is_text_and_never_a_float() -> None:
    def floats(value: Any) -> list[float]:
        if isinstance(value, dict):
            return [each for part in value.values() for each in floats(part)]
        if isinstance(value, list):
            return [each for part in value for each in floats(part)]
        return [value] if isinstance(value, float) else []

    assert [floats(price_as_json(price)) for price in PRICES.values()] == [[]] * len(PRICES)


def test_a_figure_alone_is_written_as_in_the_working_of_its_price() -> None:
    price = PRICES["by area"]

    alone = [figure_as_json(figure) for figure in price.figures]

    assert alone == price_as_json(price)["working"]
