"""What is typed into a price book, about a rate of tax, and when a price is asked for."""

from collections.abc import Iterator, Mapping
from decimal import Decimal
from typing import Any

from django import forms

from planner.models import PriceBook, TaxRule
from planner.web.forms.days import day_field
from planner.web.forms.money import PlainDecimalField
from planner.web.forms.price_rows import COUNTED, BandRows, DiscountRows
from properties.core.errors import FaultsFound
from properties.models.firm import UnitSystem

BASES = [
    ("higher", "The higher of the two: no price is less than cost and margin"),
    ("area", "The list: area, edge and minimum"),
    ("cost", "Cost and margin"),
]
BANDINGS = [
    ("marginal", "Each part of a lawn at the price of its own band"),
    ("whole", "The whole lawn at the price of the band it ends in"),
]
STEPS = [("0.01", "the cent"), ("0.05", "5 cents"), ("1", "whole dollars")]
WAYS = [
    ("half up", "the nearer, a half goes up"),
    ("half even", "the nearer, a half goes to the even one"),
    ("up", "the next one up"),
]
#: What a cost is called in a book, and whether somebody may not know it.
COSTS = {
    "wage_per_hour": ("Loaded wage, for an hour", "Wage, taxes on it and insurance.", True),
    "travel_min": ("The way to a lawn, in minutes", "There, from the lawn before.", True),
    "set_up_min": ("Setting up, in minutes", "Parking, hose, sign, writing it down.", True),
    "overhead_percent": ("Overhead, in % of all other cost", "Office, trucks, insurance.", True),
    "waste_percent": ("Waste of product, in %", "Spilt, or left in containers.", True),
    "pace_min": (
        "Minutes of work for {per_area}",
        "Used where a plan has no passes: by hand, with a spreader, without a speed.",
        False,
    ),
    "trim_pace": (
        "Edge trimmed in a minute, in {length}",
        "Needed where the edge is asked.",
        False,
    ),
    "measuring": (
        "Going there to measure",
        "What one visit to measure and quote costs you.",
        False,
    ),
}
GROUNDS = {
    "us": {"area": "sq ft", "per_area": "1,000 sq ft", "length": "ft"},
    "metric": {"area": "m²", "per_area": "100 m²", "length": "m"},
}


class PriceBookForm(forms.Form):
    """One version of a price book; its bands and discounts come in rows."""

    seen = forms.IntegerField(widget=forms.HiddenInput, initial=0)
    bands = forms.IntegerField(widget=forms.HiddenInput, initial=3)
    discount_rows = forms.IntegerField(widget=forms.HiddenInput, initial=2)
    name = forms.CharField(label="Name of the book", max_length=80)
    is_usual = forms.BooleanField(
        label="Price by this book where no other is chosen", required=False
    )
    units = forms.ChoiceField(label="Counts in", choices=UnitSystem.choices)
    basis = forms.ChoiceField(label="A price starts from", choices=BASES)
    banding = forms.ChoiceField(label="Bands are for", choices=BANDINGS)
    minimum = PlainDecimalField(label="Minimum charge for a visit")
    margin_percent = PlainDecimalField(
        label="Margin, in % of the price",
        help_text="Of the price, not of the cost: price = cost ÷ (1 − margin). At 40 % a cost of "
        "60 is a price of 100.",
    )
    trim = PlainDecimalField(
        label="Trimming the edge, for each {length}",
        places=4,
        required=False,
        help_text="Empty: the edge is not trimmed.",
    )
    step = forms.ChoiceField(label="Prices are rounded to", choices=STEPS)
    way = forms.ChoiceField(label="and there to", choices=WAYS)
    note = forms.CharField(
        label="Why it changes", required=False, max_length=300, help_text="For those who compare."
    )

    def __init__(self, *args: Any, fixed_units: str = "", **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        if fixed_units:
            # Every rate of the book would mean something else.
            units: Any = self.fields["units"]
            units.choices = [pair for pair in UnitSystem.choices if pair[0] == fixed_units]
        #: The units that the boxes are labelled in.
        self.labelled = fixed_units or self._told("units") or "us"
        words = GROUNDS.get(self.labelled, GROUNDS["us"])
        for name, (label, help_text, required) in COSTS.items():
            self.fields[name] = PlainDecimalField(
                label=label.format(**words), help_text=help_text, required=required
            )
        trim = self.fields["trim"]
        trim.label = str(trim.label).format(**words)
        self.ground = words
        self.band_rows = BandRows(self, self._count("band"), words)
        self.discount_lines = DiscountRows(self, self._count("discount"))

    def _told(self, name: str) -> str:
        source: Mapping[str, Any] = self.data if self.is_bound else self.initial
        return str(source.get(name, self.fields[name].initial or ""))

    def _count(self, word: str) -> int:
        rows = COUNTED[word]
        text = self._told(rows.name)
        return min(int(text), rows.most) if text.isdecimal() else rows.fewest

    def cost_fields(self) -> list[forms.BoundField]:
        """List the boxes about cost."""
        return [self[name] for name in COSTS]

    def clean(self) -> dict[str, Any]:
        """Say beside a row what it lacks."""
        typed = super().clean() or {}
        if self.data.get("labelled", self.labelled) != self.labelled:
            self.add_error(
                "units", "The boxes are for these units now. Check every number, then keep."
            )
        self.band_rows.clean(typed)
        self.discount_lines.clean(typed)
        return typed

    def terms(self, currency: str) -> dict[str, Any]:
        """Write the book as it is kept: amounts as text."""
        typed = self.cleaned_data
        texts = {name: text_of(typed[name]) for name in ("minimum", "margin_percent", "trim")}
        return texts | {
            "currency": currency,
            **{name: typed[name] for name in ("units", "basis", "banding", "step", "way")},
            "bands": self.band_rows.read(typed),
            "discounts": self.discount_lines.read(typed),
            "costs": {name: text_of(typed[name]) for name in COSTS},
        }

    def blame(self, found: FaultsFound) -> None:
        """Put each fault of the terms beside the box that it is about."""
        for fault in found.faults:
            name = self.band_rows.field_of(fault.field) or self.discount_lines.field_of(fault.field)
            name = name or fault.field
            self.add_error(name if name in self.fields else None, str(fault))


def text_of(amount: Any) -> str | None:
    """Write a decimal as a book keeps it."""
    return None if amount is None else f"{amount.normalize():f}"


def initial_of(book: PriceBook, number: int, terms: Mapping[str, Any]) -> dict[str, Any]:
    """Fill the form with what a version says."""
    plain = ("units", "basis", "banding", "step", "way", "minimum", "margin_percent", "trim")
    return {
        "seen": number,
        "name": book.name,
        "is_usual": book.is_usual,
        **{name: terms[name] for name in plain},
        **terms["costs"],
        "bands": len(terms["bands"]),
        "discount_rows": max(len(terms["discounts"]), 1),
        **dict(_initial_rows(terms)),
    }


def _initial_rows(terms: Mapping[str, Any]) -> Iterator[tuple[str, Any]]:
    for place, band in enumerate(terms["bands"], start=1):
        yield from ((f"band_{place}_{word}", value) for word, value in band.items())
    for place, discount in enumerate(terms["discounts"], start=1):
        yield from ((f"discount_{place}_{word}", value) for word, value in discount.items())


class TaxRuleForm(forms.ModelForm):  # type: ignore[type-arg]
    """A rate of tax: where and when it holds, and who says so."""

    percent = PlainDecimalField(label="Rate, in %", places=4, max_value=Decimal(100))
    from_on = day_field("First day")
    to_on = day_field("Last day", required=False, help_text="Empty: until further notice.")

    class Meta:
        model = TaxRule
        fields = ["name", "percent", "taxed", "where", "source", "from_on", "to_on"]
        labels = {
            "name": "What it is called",
            "taxed": "It falls on",
            "where": "Where the address has these words",
            "source": "Where the rate comes from",
        }
        help_texts = {
            "name": "As it should stand on a quote, such as State sales tax.",
            "taxed": "The material’s share of the price is in proportion to cost. Check locally "
            "what is taxed.",
            "where": "A town, a county or a state. Empty: everywhere.",
            "source": "The code or the notice, so that somebody else can check it.",
        }
