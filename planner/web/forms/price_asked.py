"""What is asked when a piece of work is priced."""

from datetime import date
from typing import Any

from django import forms
from django.db.models import QuerySet

from planner.models import Machine, Mix, PriceBook, Programme
from planner.selectors.equipment import machines_of
from planner.selectors.priced_visits import PriceAsked
from planner.selectors.prices import price_books_of
from planner.selectors.products import mixes_of
from planner.selectors.programmes import offered_to
from planner.web.forms.days import day_field
from planner.web.forms.money import PlainDecimalField
from planner.web.forms.plans import HAND_KINDS
from properties.models import Person, Property


class PriceForm(forms.Form):
    """A programme, or one visit with a mix and a machine; and how it is paid."""

    book = forms.ModelChoiceField(
        PriceBook.objects.none(), label="Price book", empty_label=None, required=True
    )
    programme = forms.ModelChoiceField(
        Programme.objects.none(), required=False, empty_label="none: one visit"
    )
    mix = forms.ModelChoiceField(
        Mix.objects.none(), label="Or one visit with", required=False, empty_label="no mix"
    )
    machine = forms.ModelChoiceField(
        Machine.objects.none(), label="Machine of the visit", required=False, empty_label="none"
    )
    hand_tool = forms.ModelChoiceField(
        Machine.objects.none(),
        label="Hand tool of the visit",
        required=False,
        empty_label="none: leave strips and edges",
    )
    year = forms.IntegerField(
        label="Season of the programme",
        required=False,
        min_value=2000,
        max_value=2199,
        widget=forms.TextInput({"inputmode": "numeric", "size": 5, "autocomplete": "off"}),
        help_text="Empty: this year, or the next where its rounds are over.",
    )
    on = day_field("Day of the price", required=False, help_text="Empty: today.")
    travel_min = PlainDecimalField(
        label="The way there, in minutes",
        required=False,
        help_text="Empty: as in the price book.",
    )
    prepaid = forms.BooleanField(label="All is paid ahead", required=False)
    no_trim = forms.BooleanField(label="Leave the edge out", required=False)

    def __init__(self, *args: Any, person: Person, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        machines = machines_of(person)
        offered: dict[str, QuerySet[Any]] = {
            "book": price_books_of(person),
            "programme": offered_to(person),
            "mix": mixes_of(person),
            "machine": machines,
            "hand_tool": machines.filter(kind__in=HAND_KINDS),
        }
        for name, rows in offered.items():
            self.fields[name].queryset = rows  # type: ignore[attr-defined]

    def clean(self) -> dict[str, Any]:
        """Ask for a programme, or for a mix with its machine, and not for both."""
        typed = super().clean() or {}
        if typed.get("programme") is not None:
            if typed.get("mix") is not None:
                self.add_error("mix", "Choose a programme or one visit, not both.")
        elif typed.get("mix") is None:
            self.add_error("programme", "Choose a programme, or a mix for one visit.")
        elif typed.get("machine") is None:
            self.add_error("machine", "Choose the machine that puts it down.")
        return typed

    def asked(self, place: Property, *, day: date) -> PriceAsked:
        """Say what is asked for."""
        typed = self.cleaned_data
        told = ("programme", "year", "mix", "machine", "hand_tool", "book", "prepaid", "travel_min")
        return PriceAsked(
            place=place,
            on=typed["on"] or day,
            trims=not typed["no_trim"],
            **{name: typed[name] for name in told},
        )
