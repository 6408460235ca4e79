"""A label as its page tells it: part by part, only what was copied."""

from collections.abc import Iterator

from planner.models import Product
from planner.selectors.labels import ADJUVANTS_TO_CHOOSE, TURFGRASSES_TO_CHOOSE
from planner.web.forms.label_rows import NEEDS, TOLERANCE
from planner.web.forms.labels import LabelForm
from properties.core.showing import shown
from properties.core.units import Quantity, parse_quantity

Fact = tuple[str, str]

TITLES = {
    "product": "The product",
    "rates": "Rates",
    "fertilizer": "Fertilizer",
    "spray": "Spray",
    "weather": "Weather and water",
    "people": "People",
    "limits": "How much and how often",
    "tank": "In the tank",
}
_SAID_ELSEWHERE = {"name", "purpose", "is_invented"}


def label_words(product: Product) -> list[tuple[str, list[Fact]]]:
    """List the parts of a label, each with its facts in words."""
    further = {
        "product": list(_ingredients(product)),
        "limits": [],
        "tank": list(_chosen(product.adjuvants, ADJUVANTS_TO_CHOOSE, NEEDS)),
    }
    parts = [
        (title, [*_facts(product, name), *further.get(name, [])]) for name, title in TITLES.items()
    ]
    parts.append(("Turf", list(_chosen(product.tolerance, TURFGRASSES_TO_CHOOSE, TOLERANCE))))
    return [(title, facts) for title, facts in parts if facts]


def _facts(product: Product, group: str) -> Iterator[Fact]:
    counts_a_year = product.per_year is not None or product.uses_per_year is not None
    for name in LabelForm.GROUPS[group]:
        if name in _SAID_ELSEWHERE or (name == "year" and not counts_a_year):
            continue
        words = _words(product, name)
        if words:
            field = LabelForm.base_fields[name]
            yield str(field.label or name), words


def _words(product: Product, name: str) -> str:
    value = getattr(product, name)
    if isinstance(value, Quantity):
        return shown(value)
    if value in (None, "", False):
        return ""
    if value is True:
        return "yes"
    display = getattr(product, f"get_{name}_display", None)
    return str(display() if display else value)


def _ingredients(product: Product) -> Iterator[Fact]:
    for row in product.active_ingredients:
        limits = [
            f"{words} {shown(parse_quantity(row[word]))}"
            for word, words in (
                ("acid_equivalent", "as acid"),
                ("per_application", "most each time"),
                ("per_year", "most in a year"),
            )
            if word in row
        ]
        yield row["name"], "; ".join([shown(parse_quantity(row["content"])), *limits])


def _chosen(
    told: dict[str, str], names: list[tuple[str, str]], words: list[tuple[str, str]]
) -> Iterator[Fact]:
    said = dict(words)
    for token, name in names:
        if token in told:
            yield name[:1].upper() + name[1:], said[told[token]]
