"""The parts of a price book that come in rows: bands of area, and discounts."""

import re
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from django import forms

from planner.web.forms.money import PlainDecimalField

WHENS = [("programme", "a programme"), ("prepaid", "paying ahead")]
Typed = dict[str, Any]
Row = dict[str, forms.BoundField]


class BandRows:
    """Bands of area, each up to an end; the last has none."""

    WORDS = ("up_to", "rate")

    def __init__(self, form: forms.Form, count: int, ground: Mapping[str, str]) -> None:
        self.form, self.count = form, count
        self.read_from: list[int] = []
        for n in range(1, count + 1):
            form.fields[f"band_{n}_up_to"] = PlainDecimalField(
                label=f"Band {n}: up to, in {ground['area']}", required=False
            )
            form.fields[f"band_{n}_rate"] = PlainDecimalField(
                label=f"Band {n}: price for {ground['per_area']}", places=4, required=False
            )

    def rows(self) -> list[tuple[int, Row]]:
        """List the boxes of each row with its number."""
        return _rows(self.form, "band", self.WORDS, self.count)

    def clean(self, typed: Typed) -> None:
        """Ask for the price of a band that has an end."""
        self.read_from = []
        for n in range(1, self.count + 1):
            up_to, rate = (typed.get(f"band_{n}_{word}") for word in self.WORDS)
            if rate is not None:
                self.read_from.append(n)
            elif up_to is not None and f"band_{n}_rate" not in self.form.errors:
                self.form.add_error(f"band_{n}_rate", "Enter what this band costs.")

    def read(self, typed: Typed) -> list[dict[str, str | None]]:
        """List the bands that were filled in."""
        return [
            {word: _text(typed[f"band_{n}_{word}"]) for word in self.WORDS} for n in self.read_from
        ]

    def field_of(self, path: str) -> str | None:
        """Name the box that a path of the terms is about."""
        return "band_1_rate" if path == "bands" else _field_of(path, "band", self.read_from)


class DiscountRows:
    """Discounts in the order in which they are taken off."""

    WORDS = ("name", "when", "percent", "amount", "from_visits")

    def __init__(self, form: forms.Form, count: int) -> None:
        self.form, self.count = form, count
        self.read_from: list[int] = []
        for n in range(1, count + 1):
            form.fields |= {
                f"discount_{n}_name": forms.CharField(
                    label=f"Discount {n}: name", required=False, max_length=60
                ),
                f"discount_{n}_when": forms.ChoiceField(
                    label=f"Discount {n}: for", choices=WHENS, required=False
                ),
                f"discount_{n}_percent": PlainDecimalField(
                    label=f"Discount {n}: in %", required=False
                ),
                f"discount_{n}_amount": PlainDecimalField(
                    label=f"Discount {n}: or amount", required=False
                ),
                f"discount_{n}_from_visits": forms.IntegerField(
                    label=f"Discount {n}: from visits",
                    required=False,
                    min_value=1,
                    max_value=60,
                    widget=forms.TextInput({"inputmode": "numeric", "size": 4}),
                ),
            }

    def rows(self) -> list[tuple[int, Row]]:
        """List the boxes of each row with its number."""
        return _rows(self.form, "discount", self.WORDS, self.count)

    def clean(self, typed: Typed) -> None:
        """Ask for the name of a discount that takes something off."""
        self.read_from = []
        for n in range(1, self.count + 1):
            told = [typed.get(f"discount_{n}_{word}") for word in ("percent", "amount")]
            if typed.get(f"discount_{n}_name"):
                self.read_from.append(n)
            elif any(each is not None for each in told):
                self.form.add_error(f"discount_{n}_name", "Enter what it is called on a quote.")

    def read(self, typed: Typed) -> list[dict[str, Any]]:
        """List the discounts that were filled in."""
        return [
            {
                "name": typed[f"discount_{n}_name"],
                "when": typed[f"discount_{n}_when"] or "programme",
                "percent": _text(typed[f"discount_{n}_percent"]),
                "amount": _text(typed[f"discount_{n}_amount"]),
                "from_visits": typed[f"discount_{n}_from_visits"] or 2,
            }
            for n in self.read_from
        ]

    def field_of(self, path: str) -> str | None:
        """Name the box that a path of the terms is about."""
        return _field_of(path, "discount", self.read_from)


def _rows(form: forms.Form, word: str, words: tuple[str, ...], count: int) -> list[tuple[int, Row]]:
    return [(n, {each: form[f"{word}_{n}_{each}"] for each in words}) for n in range(1, count + 1)]


def _field_of(path: str, word: str, numbers: list[int]) -> str | None:
    found = re.fullmatch(rf"{word}s\[(\d+)\]\.(\w+)", path)
    return None if found is None else f"{word}_{numbers[int(found[1])]}_{found[2]}"


def _text(amount: Any) -> str | None:
    return None if amount is None else f"{amount.normalize():f}"


#: What a press on a button beside the rows asks for: one more, or one less.
_ASKED = re.compile(r"(add|remove)_(band|discount)(?:_(\d+))?")


@dataclass(frozen=True)
class _Counted:
    """Where a kind of row is counted, what is in one, and how many there may be."""

    name: str
    words: tuple[str, ...]
    fewest: int
    most: int


COUNTED = {
    "band": _Counted("bands", BandRows.WORDS, fewest=1, most=12),
    "discount": _Counted("discount_rows", DiscountRows.WORDS, fewest=0, most=8),
}


def rows_asked(typed: Mapping[str, str]) -> dict[str, str] | None:
    """Add a row to what was typed, or take one out; None where nobody asked for that."""
    found = next((match for name in typed if (match := _ASKED.fullmatch(name))), None)
    if found is None:
        return None
    act, word, number = found.groups()
    rows = COUNTED[word]
    told = typed.get(rows.name, "")
    count = min(int(told), rows.most) if told.isdecimal() else rows.fewest
    changed = dict(typed.items())
    if act == "add":
        return changed | {rows.name: str(min(count + 1, rows.most))}
    for n in range(int(number or count), count):
        for each in rows.words:
            changed[f"{word}_{n}_{each}"] = changed.get(f"{word}_{n + 1}_{each}", "")
    fewer = count - 1 if int(number or count) <= count else count
    return changed | {rows.name: str(max(fewer, rows.fewest))}
