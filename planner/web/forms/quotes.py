"""What is typed about a quote: until when, a message, and options side by side."""

from collections.abc import Iterator, Mapping
from datetime import date
from typing import Any

from django import forms
from django.forms.boundfield import BoundField

from planner.selectors.equipment import machines_of
from planner.selectors.products import mixes_of
from planner.selectors.programmes import offered_to
from planner.selectors.quotes import MOST_OPTIONS, OptionFacts, QuoteFacts
from properties.models import Person

OPTION_FIELDS = tuple(OptionFacts.__dataclass_fields__)
LETTERS = "ABCDEFGH"


class DayInput(forms.DateInput):
    """A day as a browser’s own calendar gives it."""

    input_type = "date"

    def __init__(self) -> None:
        super().__init__(format="%Y-%m-%d")


class QuoteForm(forms.Form):
    """A revision: its last day, its message and up to four options."""

    edition = forms.IntegerField(
        widget=forms.HiddenInput({"data-goes-with-typed": True}), required=False
    )
    valid_until = forms.DateField(
        label="Good until",
        widget=DayInput(),
        help_text="The last day on which the customer can accept.",
    )
    message = forms.CharField(
        label="Message to the customer",
        max_length=2000,
        required=False,
        widget=forms.Textarea({"rows": 4}),
        help_text="Promise only what can be kept: no lawn stays without a weed.",
    )

    def __init__(self, typed: Any = None, *, person: Person, **options: Any) -> None:
        super().__init__(typed, **options)
        for place in range(1, MOST_OPTIONS + 1):
            for name, field in _option_fields(person).items():
                self.fields[f"{name}_{place}"] = field

    def options_shown(self) -> Iterator[dict[str, Any]]:
        """Give each option its letter, its fields, and whether anything stands in it."""
        for place in range(1, MOST_OPTIONS + 1):
            fields = {name: self[f"{name}_{place}"] for name in OPTION_FIELDS}
            used = place == 1 or any(_holds(field) for field in fields.values())
            yield {"letter": LETTERS[place - 1], "fields": fields, "used": used}

    def facts(self) -> QuoteFacts:
        """Give what was typed; an option in which nothing is chosen is left out."""
        typed = self.cleaned_data
        options = [
            OptionFacts(**{name: _plain(typed[f"{name}_{place}"]) for name in OPTION_FIELDS})
            for place in range(1, MOST_OPTIONS + 1)
            if any(typed[f"{name}_{place}"] for name in OPTION_FIELDS)
        ]
        message = typed["message"].replace("\r\n", "\n")
        return QuoteFacts(typed["valid_until"], message, tuple(options))

    def called(self, name: str) -> str:
        """Say which box a name is, with the letter of its option."""
        label = str(self.fields[name].label)
        stem, _, place = name.rpartition("_")
        return f"Option {LETTERS[int(place) - 1]}: {label}" if place.isdecimal() and stem else label

    def said(self, name: str, text: str) -> str:
        """Say what a box held, as its list or its reader would: the name and not the number."""
        field = self.fields[name]
        if isinstance(field, forms.ModelChoiceField):
            chosen = field.queryset.filter(pk=text or None).first() if field.queryset else None
            return str(chosen) if chosen else "nothing"
        return text or "nothing"


def _plain(value: Any) -> Any:
    """Take text as every machine breaks its lines."""
    return value.replace("\r\n", "\n") if isinstance(value, str) else value


class NewQuoteForm(QuoteForm):
    """The first draft of a quote, with the year of its season."""

    year = forms.IntegerField(label="Season", min_value=2000, max_value=2199)

    field_order = ("year", "valid_until", "message")


def _holds(field: BoundField) -> bool:
    return bool(field.value()) or bool(field.errors)


def _option_fields(person: Person) -> dict[str, forms.Field]:
    """The boxes of one option, in the order in which a person fills them in."""
    machines = machines_of(person)
    fields: dict[str, forms.Field] = {
        "programme": forms.ModelChoiceField(
            offered_to(person), label="Programme", required=False, empty_label="a single visit"
        ),
        "title": forms.CharField(
            label="What the customer reads it as",
            max_length=80,
            required=False,
            help_text="Without it: the name of the programme or the mix.",
        ),
        "words": forms.CharField(
            label="In a few words",
            max_length=500,
            required=False,
            widget=forms.Textarea({"rows": 2}),
        ),
        "mix": forms.ModelChoiceField(
            mixes_of(person), label="Mix", required=False, empty_label="none"
        ),
        "machine": forms.ModelChoiceField(
            machines, label="With", required=False, empty_label="none"
        ),
        "hand_tool": forms.ModelChoiceField(
            machines.filter(kind__in=["hand_gun", "backpack_sprayer"]),
            label="And by hand with",
            required=False,
            empty_label="none",
        ),
        "from_on": forms.DateField(label="First day", required=False, widget=DayInput()),
        "to_on": forms.DateField(label="Last day", required=False, widget=DayInput()),
    }
    return fields


class AnswerForm(forms.Form):
    """Which option somebody accepts, under which name, on which day."""

    letter = forms.ChoiceField(label="Option", widget=forms.RadioSelect)
    name = forms.CharField(
        label="Your name", max_length=120, widget=forms.TextInput({"autocomplete": "name"})
    )
    on = forms.DateField(label="Date", widget=DayInput())

    def __init__(self, typed: Any = None, *, options: list[Mapping[str, Any]], today: date) -> None:
        super().__init__(typed, initial={"on": today}, prefix=None)
        letter: Any = self.fields["letter"]
        letter.choices = [
            (each["letter"], f"{each['letter']}. {each['title']}: {each['total_words']}")
            for each in options
        ]
        if len(options) == 1:
            letter.initial = options[0]["letter"]


class TakenForm(AnswerForm):
    """An answer that came on paper or by telephone, as somebody of the firm writes it down."""

    reason = forms.CharField(
        label="Why not, or how they declined",
        max_length=1000,
        required=False,
        widget=forms.Textarea({"rows": 2}),
        help_text="Keep the signed paper. What is written down here counts as their answer.",
    )

    def __init__(self, typed: Any = None, *, options: list[Mapping[str, Any]], today: date) -> None:
        super().__init__(typed, options=options, today=today)
        letter: Any = self.fields["letter"]
        letter.widget = forms.Select()
        letter.required = False
        letter.choices = [("", "none: they declined"), *letter.choices]
        letter.label = "Which option they accepted"
        self.fields["name"].label = "Who answered"


class DeclineForm(forms.Form):
    """Who says no, and why if they like."""

    name = forms.CharField(
        label="Your name", max_length=120, widget=forms.TextInput({"autocomplete": "name"})
    )
    reason = forms.CharField(
        label="Why",
        max_length=1000,
        required=False,
        widget=forms.Textarea({"rows": 3}),
        help_text="It helps the firm to do better, but you owe nobody a reason.",
    )


class AskForm(forms.Form):
    """A question about a quote."""

    name = forms.CharField(
        label="Your name", max_length=120, widget=forms.TextInput({"autocomplete": "name"})
    )
    words = forms.CharField(
        label="Your question", max_length=2000, widget=forms.Textarea({"rows": 4})
    )


class ReplyForm(forms.Form):
    """What the firm replies."""

    reply = forms.CharField(
        label="Reply",
        max_length=2000,
        widget=forms.Textarea({"rows": 4}),
        help_text="The customer reads it on the page of the quote.",
    )
