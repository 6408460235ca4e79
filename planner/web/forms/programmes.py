"""What is typed about a programme and its rounds: rows that come, go and change places."""

from collections.abc import Iterable, Mapping
from typing import Any

from django import forms
from django.core.exceptions import NON_FIELD_ERRORS, ValidationError
from django.db.models import QuerySet
from django.forms.utils import ErrorDict
from django.http import QueryDict

from planner.models import Machine, Mix, Programme, Round
from planner.web.forms.blackouts import MonthDayField
from planner.web.forms.rows import FIRST_ROWS, count_of, rearranged
from properties.core.errors import Refused
from properties.core.turfgrasses import TURFGRASSES
from properties.web.forms.quantities import QuantityField, TemperatureField

DEGREE_DAYS = ("deg F day", "deg C day")
_OF_SOIL = ("soil_at", "soil_days")
_OF_DEGREE_DAYS = ("base", "degree_days_from", "degree_days_to")


class Unjudged:
    """A form that can be shown with what was typed, before anybody judges it."""

    quiet = False

    def full_clean(self) -> None:
        """Judge what was typed, unless rows are only changing places or are not used."""
        if self.quiet:
            self._errors, self.cleaned_data = ErrorDict(), dict[str, Any]()
            return
        super().full_clean()  # type: ignore[misc]


class MainForm(Unjudged, forms.ModelForm):  # type: ignore[type-arg]
    """The programme itself."""

    turfgrasses = forms.MultipleChoiceField(
        label="Meant for",
        choices=list(TURFGRASSES.items()),
        required=False,
        widget=forms.CheckboxSelectMultiple,
        help_text="None ticked: any turf. A lawn with another turfgrass is named and left out.",
    )

    class Meta:
        model = Programme
        fields = ["name", "note", "turfgrasses", "is_retired"]
        labels = {
            "name": "Name of the programme",
            "note": "Note",
            "is_retired": "No longer offered",
        }


class RoundForm(Unjudged, forms.ModelForm):  # type: ignore[type-arg]
    """One round. A row without a name, a mix and a machine is not used."""

    key = forms.IntegerField(required=False, widget=forms.HiddenInput)
    from_day = MonthDayField(label="First day")
    to_day = MonthDayField(label="Last day")
    soil_at = TemperatureField(label="Soil temperature", required=False)
    counted_from = MonthDayField(label="Look or count from")
    base = TemperatureField(label="Base temperature", required=False)
    cut_off = TemperatureField(
        label="Upper temperature", required=False, help_text="For the modified formula."
    )
    degree_days_from = QuantityField(
        units=DEGREE_DAYS, label="Opens at so many degree days", required=False
    )
    degree_days_to = QuantityField(
        units=DEGREE_DAYS, label="Over after so many degree days", required=False
    )

    class Meta:
        model = Round
        fields = [
            *("name", "mix", "machine", "hand_tool", "opened_by"),
            *("from_day", "to_day", "over_new_year", "counted_from"),
            *("soil_way", "soil_at", "soil_days"),
            *("formula", "base", "cut_off", "degree_days_from", "degree_days_to"),
        ]
        labels = {
            "name": "What it is called",
            "hand_tool": "Hand tool beside it",
            "opened_by": "Opened by",
            "over_new_year": "It goes on into the next year",
            "soil_way": "The soil",
            "soil_days": "For how many days in a row",
            "formula": "Formula",
        }

    def __init__(self, *args: Any, owner: "ProgrammeForms", **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        for name, rows in (
            ("mix", owner.mixes),
            ("machine", owner.machines),
            ("hand_tool", owner.hand_tools),
        ):
            self.fields[name].queryset = rows  # type: ignore[attr-defined]
        self.fields["hand_tool"].empty_label = "none"  # type: ignore[attr-defined]
        self.fields["soil_days"].required = False

        names = (self.add_prefix(name) for name in ("name", "mix", "machine"))
        self.is_used = any(str(self.data.get(name, "")).strip() for name in names)
        self.quiet = owner.is_changing_places or not self.is_used

    def clean(self) -> dict[str, Any]:
        """Ask for what the way of opening needs."""
        typed: dict[str, Any] = super().clean() or {}
        opened_by = typed.get("opened_by")
        wanted = {"soil": _OF_SOIL, "degree_days": _OF_DEGREE_DAYS}.get(opened_by or "", ())
        for name in wanted:
            if typed.get(name) is None and name not in self.errors:
                self.add_error(name, "This is needed for the way the round is opened.")
        first, last = typed.get("degree_days_from"), typed.get("degree_days_to")
        if opened_by == "degree_days" and first and last and last.si <= first.si:
            self.add_error("degree_days_to", "That is no more than what opens it.")
        return typed

    def warmth_is_used(self) -> bool:
        """Say whether the part about soil and degree days is filled in, or wrong."""
        return self["opened_by"].value() not in (None, "", "dates") or any(
            self[name].errors for name in (*_OF_SOIL, *_OF_DEGREE_DAYS, "cut_off", "counted_from")
        )


class ProgrammeForms:
    """A programme with its rounds, numbered from 1; a round's fields begin with ``r1-``."""

    def __init__(
        self,
        data: QueryDict | None,
        *,
        programme: Programme,
        mixes: QuerySet[Mix],
        machines: QuerySet[Machine],
    ) -> None:
        self.programme, self.mixes, self.machines = programme, mixes, machines
        self.hand_tools = machines.filter(kind__in=("hand_gun", "backpack_sprayer"))
        self.act = "" if data is None else str(data.get("act", ""))
        typed = "" if data is None else str(data.get("version", ""))
        is_number = typed.isdecimal() and len(typed) < 10
        self.version = int(typed) if is_number else programme.version
        self.kept = {each.pk: each for each in programme.rounds.all()} if programme.pk else {}
        posted = None if data is None else rearranged(data, self.act)
        self.is_changing_places = bool(self.act)
        self.main = MainForm(posted, instance=programme)
        self.main.quiet = self.is_changing_places
        self.rounds = self._rounds(posted)

    def _rounds(self, posted: QueryDict | None) -> list[RoundForm]:
        if posted is not None:
            count = count_of(posted)
            return [self._round(n, posted) for n in range(1, count + 1)]
        kept = list(self.kept.values())
        blank = [Round() for _ in range(0 if kept else FIRST_ROWS)]
        return [self._round(n, None, row) for n, row in enumerate([*kept, *blank], start=1)]

    def _round(self, n: int, posted: QueryDict | None, row: Round | None = None) -> RoundForm:
        if row is None:
            typed = "" if posted is None else str(posted.get(f"r{n}-key", ""))
            row = self.kept.get(int(typed) if typed.isdecimal() else 0) or Round()
        initial = {"key": row.pk} | ({} if row.pk else {"counted_from": "03-01"})
        return RoundForm(
            posted,
            instance=row,
            prefix=f"r{n}",
            owner=self,
            initial=initial,
        )

    def is_valid(self) -> bool:
        """Judge everything, so that every fault is told at once."""
        return all([self.main.is_valid(), *(each.is_valid() for each in self.rounds)])

    @property
    def errors(self) -> list[str]:
        """Whether anything is wrong: for the status, and for the note above the form."""
        found = [self.main.errors, *(each.errors for each in self.rounds)]
        return [name for errors in found for name in errors]

    def written(self) -> list[Round]:
        """Hand the rounds to the service, in their order."""
        return [each.save(commit=False) for each in self.used]

    @property
    def used(self) -> list[RoundForm]:
        """The rows that hold a round."""
        return [each for each in self.rounds if each.is_used]

    def say(self, fault: Refused | ValidationError) -> None:
        """Put what a service refuses beside its field, such as ``to_day_2``."""
        if isinstance(fault, ValidationError):
            told: Mapping[str, Iterable[str]] = (
                fault.message_dict if hasattr(fault, "error_dict") else {"": fault.messages}
            )
            for field, words in told.items():
                self._add(field, [str(each) for each in words])
            return
        self._add(fault.field, [str(fault)])

    def _add(self, field: str, words: list[str]) -> None:
        name, _, number = field.rpartition("_")
        place = int(number) - 1 if number.isdecimal() else -1
        rows = self.used or self.rounds
        if 0 <= place < len(rows) and name in rows[place].fields:
            rows[place].quiet = False
            rows[place].add_error(name, words)
        else:
            known = field in self.main.fields and field != NON_FIELD_ERRORS
            self.main.add_error(field if known else None, words)
