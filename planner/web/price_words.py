"""The terms of a price book in the words of its form."""

import re
from collections.abc import Iterable
from decimal import Decimal
from typing import Any

from planner.models import PriceBookVersion
from planner.selectors.prices import book_of
from planner.web.forms.price_rows import WHENS
from planner.web.forms.prices import BANDINGS, BASES, COSTS, GROUNDS, STEPS, WAYS
from properties.core.showing_money import shown_money
from properties.models.firm import UnitSystem

TERMS = {
    "currency": "Currency",
    "units": "Counts in",
    "basis": "A price starts from",
    "banding": "Bands are for",
    "minimum": "Minimum charge for a visit",
    "trim": "Trimming the edge",
    "margin_percent": "Margin, in % of the price",
    "step": "Prices are rounded to",
    "way": "and there to",
    "costs.wage_per_hour": "Loaded wage, for an hour",
    "costs.travel_min": "The way to a lawn",
    "costs.set_up_min": "Setting up",
    "costs.overhead_percent": "Overhead",
    "costs.waste_percent": "Waste of product",
    "costs.pace_min": "Work where there are no passes",
    "costs.trim_pace": "Edge trimmed in a minute",
    "costs.measuring": "Going there to measure",
}
PARTS = {
    "up_to": "up to",
    "rate": "price",
    "name": "name",
    "when": "for",
    "percent": "in %",
    "amount": "amount",
    "from_visits": "from so many visits on",
}
CHOICES = dict([*BASES, *BANDINGS, *STEPS, *WAYS, *WHENS, *UnitSystem.choices])
MONEY_COSTS = {"wage_per_hour", "measuring"}
COST_UNITS = {
    "travel_min": "{} min",
    "set_up_min": "{} min",
    "overhead_percent": "{} %",
    "waste_percent": "{} %",
    "pace_min": "{} min for {per_area}",
    "trim_pace": "{} {length}",
}
#: Terms that are chosen from a list.
CHOSEN = {"units", "basis", "banding", "step", "way", "when"}
_OF_A_ROW = re.compile(r"(band|discount)s (\d+)\.(\w+)")


def book_words(version: PriceBookVersion) -> dict[str, Any]:
    """Say what a version of a price book says in the words of its form."""
    book = book_of(version)
    words = GROUNDS[book.units.value]
    return {
        "basis": CHOICES[book.basis.value],
        "banding": CHOICES[book.banding.value],
        "bands": book.bands,
        "minimum": book.minimum,
        "trim": book.trim,
        "margin_percent": book.margin_percent,
        "rounding": f"{CHOICES[book.step.value]}, {CHOICES[book.way.value]}",
        "currency": book.currency,
        "discounts": book.discounts,
        "costs": [
            (TERMS[f"costs.{name}"], _cost(name, getattr(book.costs, name), book.currency, words))
            for name in COSTS
        ],
        **words,
    }


def _cost(name: str, value: Decimal | None, currency: str, words: dict[str, str]) -> str:
    if value is None:
        return "not known"
    if name in MONEY_COSTS:
        return shown_money(value, currency)
    return COST_UNITS[name].format(f"{value:f}", **words)


def in_words(changes: Iterable[dict[str, str]]) -> list[dict[str, str]]:
    """Say what changed between two versions the way the form says it."""
    return [
        {
            "term": _term(change["term"]),
            "before": _value(change["term"], change["before"]),
            "after": _value(change["term"], change["after"]),
        }
        for change in changes
    ]


def _term(path: str) -> str:
    found = _OF_A_ROW.fullmatch(path)
    if found is None:
        return TERMS[path]
    row, number, part = found.groups()
    return f"{row.capitalize()} {number}: {PARTS[part]}"


def _value(path: str, value: str) -> str:
    if not value:
        return "nothing"
    is_chosen = path.rpartition(".")[2] in CHOSEN
    return str(CHOICES.get(value, value)) if is_chosen else value
