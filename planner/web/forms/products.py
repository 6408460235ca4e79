"""What is copied from a label, and which products go into a mix."""

from collections.abc import Iterable
from typing import Any

from django import forms

from planner.models import Mix, Product
from properties.core.features import KINDS, Role
from properties.core.units import Quantity, dimension_of
from properties.web.forms.quantities import (
    LENGTHS,
    SPEEDS,
    PositiveQuantityField,
    QuantityField,
)

RATES = (
    "fl oz/1000 sq ft", "oz wt/1000 sq ft", "lb/1000 sq ft",
    "fl oz/acre", "pt/acre", "qt/acre", "oz wt/acre", "lb/acre",
    "%", "fl oz/gal", "fl oz/100 gal", "oz wt/gal", "lb/100 gal",
    "mL/100 m2", "L/ha", "g/100 m2", "kg/ha", "mL/L", "g/L",
)  # fmt: skip
CARRIER = ("gal/1000 sq ft", "gal/acre", "L/100 m2", "L/ha")
MOST_PARTS = 6
USUAL_PARTS = 3
KEPT_FROM = [kind for kind in KINDS.values() if kind.role is Role.PROTECTED]


class LabelForm(forms.ModelForm):  # type: ignore[type-arg]
    """The facts of a label. The person copies them from the label in their hand."""

    rate_min = PositiveQuantityField(units=RATES, label="Lowest rate", required=False)
    rate_max = PositiveQuantityField(units=RATES, label="Highest rate", required=False)
    carrier_min = PositiveQuantityField(
        units=CARRIER, label="Least finished spray per area", required=False
    )
    carrier_max = PositiveQuantityField(
        units=CARRIER, label="Most finished spray per area", required=False
    )
    wind_max = PositiveQuantityField(units=SPEEDS, label="Most wind allowed", required=False)

    class Meta:
        model = Product
        fields = [
            "name",
            "registration_number",
            "purpose",
            "formulation",
            "rate_min",
            "rate_max",
            "carrier_min",
            "carrier_max",
            "wind_max",
            "protection",
            "is_invented",
        ]
        labels = {
            "name": "Product",
            "registration_number": "Registration number",
            "purpose": "What it is for",
            "protection": "Protective equipment the label asks for",
            "is_invented": "Invented for practice: not a real product",
        }

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        kept = (
            {row.kind: row.distance for row in self.instance.setbacks.all()}
            if (self.instance.pk)
            else {}
        )
        for kind in KEPT_FROM:
            self.fields[f"from_{kind.token}"] = QuantityField(
                units=LENGTHS,
                label=kind.name,
                required=False,
                initial=kept.get(kind.token),
            )

    def setback_fields(self) -> list[forms.BoundField]:
        """List the distances, for a part of the page of their own."""
        return [self[f"from_{kind.token}"] for kind in KEPT_FROM]

    def fact_fields(self) -> list[forms.BoundField]:
        """List everything that is not a distance."""
        return [field for field in self if not field.name.startswith("from_")]

    def clean(self) -> dict[str, Any]:
        """Refuse two limits of different kinds, or the wrong way round."""
        typed: dict[str, Any] = super().clean() or {}
        for low, high in (("rate_min", "rate_max"), ("carrier_min", "carrier_max")):
            problem = _wrong_pair(typed.get(low), typed.get(high))
            if problem:
                self.add_error(high, problem)
        return typed

    def setbacks(self) -> dict[str, Quantity]:
        """List the distances that were filled in, by kind."""
        named = ((kind.token, self.cleaned_data[f"from_{kind.token}"]) for kind in KEPT_FROM)
        return {token: distance for token, distance in named if distance is not None}


def _wrong_pair(low: Quantity | None, high: Quantity | None) -> str:
    if low is None or high is None:
        return ""
    if dimension_of(low.unit) is not dimension_of(high.unit):
        return f"The lowest is a {low.dimension}, this is a {high.dimension}. Use one kind."
    if low.si > high.si:
        return f"The highest lies below the lowest ({low}). Look at the label again."
    return ""


class MixForm(forms.ModelForm):  # type: ignore[type-arg]
    """Which products go into the tank together, and at what rate each."""

    class Meta:
        model = Mix
        fields = ["name"]
        labels = {"name": "Name of the mix"}

    def __init__(self, *args: Any, products: Iterable[Product], **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.known = {str(product.pk): product for product in products}
        choices = [("", "nothing"), *((pk, product.name) for pk, product in self.known.items())]
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
                units=RATES,
                label=f"Rate of product {n + 1}",
                required=False,
                initial=part.rate if part else None,
            )

    def rows(self) -> list[tuple[forms.BoundField, forms.BoundField]]:
        """Pair each product with its rate, for the page: as many as most mixes have."""
        return self._rows()[:USUAL_PARTS]

    def further_rows(self) -> list[tuple[forms.BoundField, forms.BoundField]]:
        """Pair what only large mixes have, for a part of the page that unfolds."""
        return self._rows()[USUAL_PARTS:]

    def further_is_used(self) -> bool:
        """Say whether one of those is filled in, or wrong."""
        return any(field.value() or field.errors for field, _ in self.further_rows()) or any(
            rate.errors for _, rate in self.further_rows()
        )

    def _rows(self) -> list[tuple[forms.BoundField, forms.BoundField]]:
        return [(self[f"product_{n + 1}"], self[f"rate_{n + 1}"]) for n in range(MOST_PARTS)]

    def clean(self) -> dict[str, Any]:
        """Pair products with rates, and say beside each rate what is wrong with it."""
        typed: dict[str, Any] = super().clean() or {}
        self.parts: list[tuple[Product, Quantity]] = []
        for n in range(1, MOST_PARTS + 1):
            product = self.known.get(typed.get(f"product_{n}") or "")
            rate = typed.get(f"rate_{n}")
            problem = self._problem(product, rate, f"rate_{n}")
            if problem:
                self.add_error(f"rate_{n}", problem)
            elif product is not None and rate is not None:
                self.parts.append((product, rate))
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
        return _outside(product, rate)


def _outside(product: Product, rate: Quantity) -> str:
    limits = [limit for limit in (product.rate_min, product.rate_max) if limit is not None]
    if any(limit.dimension is not rate.dimension for limit in limits):
        return f"The label of {product} gives its rate as a {limits[0].dimension}."
    if product.rate_max is not None and rate.si > product.rate_max.si * (1 + 1e-12):
        return f"That is more than the label allows (highest {product.rate_max})."
    if product.rate_min is not None and rate.si < product.rate_min.si * (1 - 1e-12):
        return f"That is less than the label's lowest rate ({product.rate_min})."
    return ""
