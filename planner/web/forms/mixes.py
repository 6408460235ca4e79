"""Which products go into a mix, at what rate and by which line of their labels."""

from collections.abc import Iterable
from typing import Any

from django import forms

from planner.models import LabelLine, Mix, MixPart, Product
from planner.selectors.labels import rate_kind, slip_words
from planner.web.forms.label_units import LINE_RATES
from properties.core.showing import shown_unit
from properties.core.units import Quantity
from properties.web.forms.quantities import PositiveQuantityField

MOST_PARTS = 6
USUAL_PARTS = 3


#: A product, its rate, what that is a rate of, and the line of the label.
Row = tuple[forms.BoundField, forms.BoundField, forms.BoundField, forms.BoundField]


class MixForm(forms.ModelForm):  # type: ignore[type-arg]
    """Which products go into the tank together, and at what rate each."""

    class Meta:
        model = Mix
        fields = ["name", "order_is_from_label"]
        labels = {
            "name": "Name of the mix",
            "order_is_from_label": "They go into the tank in just this order: a label says so",
        }

    def __init__(self, *args: Any, products: Iterable[Product], **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.known = {str(product.pk): product for product in products}
        choices = [("", "nothing"), *((pk, product.name) for pk, product in self.known.items())]
        self.known_lines = {
            str(line.pk): line for product in self.known.values() for line in product.lines.all()
        }
        lines = [
            ("", "the label’s general range"),
            *((pk, f"{line.product}: {line}") for pk, line in self.known_lines.items()),
        ]
        parts = list(self.instance.parts.all()) if self.instance.pk else []
        for n in range(MOST_PARTS):
            part = parts[n] if n < len(parts) else None
            self.fields[f"product_{n + 1}"] = forms.ChoiceField(
                label=f"Product {n + 1}",
                choices=choices,
                required=n == 0,
                initial=part.product_id if part else "",
            )
            self.fields[f"rate_{n + 1}"] = PositiveQuantityField(
                units=LINE_RATES,
                label=f"Rate of product {n + 1}",
                required=False,
                initial=part.rate if part else None,
            )
            self.fields[f"of_{n + 1}"] = forms.ChoiceField(
                label=f"Rate {n + 1} is of",
                choices=MixPart.NUTRIENTS,
                required=False,
                initial=part.nutrient if part else "",
            )
            self.fields[f"line_{n + 1}"] = forms.ChoiceField(
                label=f"Line of the label for product {n + 1}",
                choices=lines,
                required=False,
                initial=part.line_id if part else "",
            )

    def rows(self) -> list[Row]:
        """Put each product with its rate and its line, for the page: as many as most mixes have."""
        return self._rows()[:USUAL_PARTS]

    def further_rows(self) -> list[Row]:
        """Put together what only large mixes have, for a part of the page that unfolds."""
        return self._rows()[USUAL_PARTS:]

    def further_is_used(self) -> bool:
        """Say whether one of those is filled in, or wrong."""
        return any(
            row[0].value() or any(field.errors for field in row) for row in self.further_rows()
        )

    def has_lines(self) -> bool:
        """Say whether any label has a table of rates to choose from."""
        return bool(self.known_lines)

    def _rows(self) -> list[Row]:
        return [
            (self[f"product_{n}"], self[f"rate_{n}"], self[f"of_{n}"], self[f"line_{n}"])
            for n in range(1, MOST_PARTS + 1)
        ]

    def clean(self) -> dict[str, Any]:
        """Pair products with rates, and say beside each rate what is wrong with it."""
        typed: dict[str, Any] = super().clean() or {}
        self.parts: list[tuple[Product, Quantity]] = []
        self.lines: list[LabelLine | None] = []
        self.nutrients: list[str] = []
        for n in range(1, MOST_PARTS + 1):
            product = self.known.get(typed.get(f"product_{n}") or "")
            rate = typed.get(f"rate_{n}")
            line = self.known_lines.get(typed.get(f"line_{n}") or "")
            if line is not None and line.product_id != (product.pk if product else None):
                self.add_error(f"line_{n}", "This line belongs to the label of another product.")
                continue
            problem = self._problem(product, rate, f"rate_{n}")
            if (
                not problem
                and product is not None
                and rate is not None
                and not typed.get(f"of_{n}")
            ):
                problem = _outside(product, rate, line or product)
            if problem:
                self.add_error(f"rate_{n}", problem)
            elif product is not None and rate is not None:
                self.parts.append((product, rate))
                self.lines.append(line)
                self.nutrients.append(typed.get(f"of_{n}") or "")
        return typed

    def _problem(self, product: Product | None, rate: Quantity | None, name: str) -> str:
        if name in self.errors or (product is None and rate is None):
            return ""
        if product is None:
            return "Choose the product that this rate belongs to."
        if rate is None:
            return f"Enter the rate of {product}."
        if product in [known for known, _ in self.parts]:
            return f"{product} stands in this mix already."
        return ""


def _outside(product: Product, rate: Quantity, table: Product | LabelLine) -> str:
    """Say why a rate does not go with the label, or with the line of it that was chosen."""
    limits = [limit for limit in (table.rate_min, table.rate_max) if limit is not None]
    if any(rate_kind(limit) != rate_kind(rate) for limit in limits):
        ounces = {"oz wt", "fl oz"} == {rate.unit.split("/")[0], limits[0].unit.split("/")[0]}
        other = (
            "An ounce by weight is no fluid ounce: look at the label again."
            if ounces
            else f"Choose that in the list beside the number, such as {shown_unit(limits[0].unit)}."
        )
        return f"The label of {product} gives its rate as a {limits[0].dimension}. {other}"
    if table.rate_max is not None and rate.si > table.rate_max.si * (1 + 1e-12):
        return (
            f"That is more than the label allows (highest {table.rate_max})."
            f"{slip_words(rate, table.rate_min, table.rate_max)}"
        )
    if table.rate_min is not None and rate.si < table.rate_min.si * (1 - 1e-12):
        return (
            f"That is less than the label's lowest rate ({table.rate_min})."
            f"{slip_words(rate, table.rate_min, table.rate_max)}"
        )
    return ""
