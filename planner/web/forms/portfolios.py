"""What is typed about a portfolio, its lots, and the quote that is asked for."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from typing import Any

from django import forms
from django.http import QueryDict

from planner.models import Portfolio, PortfolioMember, PriceBook, Programme
from planner.selectors.portfolios import PortfolioAsked
from planner.selectors.prices import price_books_of
from planner.selectors.programmes import offered_to
from planner.services.portfolios import PortfolioFacts
from planner.web.forms.days import day_field
from planner.web.forms.money import PlainDecimalField
from properties.models import Customer, Person
from properties.selectors.places import customers_of


class NewPortfolioForm(forms.Form):
    """A name, the customer whose properties come together, and who shares what."""

    name = forms.CharField(max_length=120, help_text="As it stands on the quote.")
    customer = forms.ModelChoiceField(
        Customer.objects.none(),
        empty_label="choose",
        help_text="All properties of this customer come in. You say then which are common areas.",
    )
    sharing = forms.ChoiceField(
        label="Lots share what common areas cost", choices=Portfolio.SHARING
    )

    def __init__(self, *args: Any, person: Person, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        field = self.fields["customer"]
        assert isinstance(field, forms.ModelChoiceField)  # noqa: S101
        field.queryset = customers_of(person).filter(properties__isnull=False).distinct()


@dataclass(frozen=True)
class MemberRow:
    """A property of the portfolio as the form shows it."""

    member: PortfolioMember
    is_common: bool
    is_left_out: bool
    share: str
    errors: list[str]


class PortfolioForm(forms.Form):
    """The roles and shares of all members; many rows, so few boxes for each."""

    edition = forms.IntegerField(widget=forms.HiddenInput)
    name = forms.CharField(max_length=120)
    sharing = forms.ChoiceField(
        label="Lots share what common areas cost", choices=Portfolio.SHARING
    )
    add_the_others = forms.BooleanField(
        label="Add the properties of this customer that are not here", required=False
    )

    def __init__(
        self, portfolio: Portfolio, members: list[PortfolioMember], data: QueryDict | None = None
    ) -> None:
        told = {name: getattr(portfolio, name) for name in ("edition", "name", "sharing")}
        super().__init__(data, initial=told)
        self.members = members
        self.wrong: dict[int, str] = {}

    def clean(self) -> dict[str, Any]:
        """Read the share of each property."""
        typed = super().clean() or {}
        typed["shares"] = {}
        number = PlainDecimalField(places=4, required=False)
        for member in self.members:
            try:
                typed["shares"][member.place_id] = number.clean(self._share(member))
            except forms.ValidationError as invalid:
                self.wrong[member.place_id] = " ".join(invalid.messages)
        if self.wrong:
            self.add_error(None, "Look at the marked shares.")
        return typed

    def add_error(self, field: str | None, error: Any) -> None:
        """Keep what is said of the share of one property beside it."""
        place = (field or "").removeprefix("share_")
        if place.isdigit():
            self.wrong[int(place)] = str(error)
            field, error = None, "Look at the marked shares."
        super().add_error(field, error)

    def _chosen(self, name: str) -> frozenset[int]:
        sent = self.data.getlist(name) if isinstance(self.data, QueryDict) else []
        return frozenset(int(key) for key in sent if key.isdigit())

    def _share(self, member: PortfolioMember) -> str:
        if self.is_bound:
            return str(self.data.get(f"share_{member.place_id}", ""))
        return "" if member.share is None else f"{member.share.normalize():f}"

    def rows(self) -> Iterator[MemberRow]:
        """List the properties with what is typed of each."""
        commons, left_out = self._chosen("common"), self._chosen("left_out")
        for member in self.members:
            yield MemberRow(
                member,
                is_common=member.place_id in commons if self.is_bound else member.is_common,
                is_left_out=member.place_id in left_out,
                share=self._share(member),
                errors=[self.wrong[member.place_id]] if member.place_id in self.wrong else [],
            )

    def facts(self) -> PortfolioFacts:
        """Hand what was typed to the service."""
        typed = self.cleaned_data
        return PortfolioFacts(
            name=typed["name"],
            sharing=typed["sharing"],
            commons=self._chosen("common"),
            left_out=self._chosen("left_out"),
            shares=typed["shares"],
            add_the_others=typed["add_the_others"],
        )


class PortfolioQuoteForm(forms.Form):
    """A programme, its year, and the price book."""

    programme = forms.ModelChoiceField(Programme.objects.none(), empty_label="choose")
    year = forms.IntegerField(
        min_value=2000, max_value=2199, widget=forms.TextInput({"inputmode": "numeric"})
    )
    book = forms.ModelChoiceField(PriceBook.objects.none(), label="Price book", empty_label=None)
    travel_min = PlainDecimalField(
        label="The way from one to the next, in minutes",
        required=False,
        help_text="For each visit to each property. Empty: the way of the price book.",
    )
    prepaid = forms.BooleanField(label="All is paid ahead", required=False)

    def __init__(self, data: Any = None, *, person: Person, today: date) -> None:
        super().__init__(data, initial={"year": today.year})
        self.today = today
        for name, rows in {
            "programme": offered_to(person),
            "book": price_books_of(person),
        }.items():
            self.fields[name].queryset = rows  # type: ignore[attr-defined]

    def asked(self) -> PortfolioAsked:
        """Say what is asked for."""
        typed = self.cleaned_data
        return PortfolioAsked(
            programme=typed["programme"],
            year=typed["year"],
            on=max(self.today, date(typed["year"], 1, 1)),
            book=typed["book"],
            prepaid=typed["prepaid"],
            travel_min=typed["travel_min"],
        )


class AcceptedForm(forms.Form):
    """Who said yes, and on which day."""

    name = forms.CharField(label="Who accepted", max_length=120)
    on = day_field("On which day", required=True)
