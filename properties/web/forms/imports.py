"""What is chosen and confirmed about a spreadsheet on its way in."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from django import forms
from django.forms import BoundField
from django.http import QueryDict

from properties.core.sheets.area_units import AREA_UNITS, area_in
from properties.core.sheets.columns import NUMBERS, TOLD_IN_PARTS, Columns, Fact
from properties.core.sheets.numbers import Decimals
from properties.core.sheets.text import SEPARATORS
from properties.core.showing import shown
from properties.models import Spreadsheet
from properties.selectors.imports import Preview
from properties.selectors.spreadsheet_guesses import Guesses
from properties.services.imports import Choice
from properties.services.spreadsheets import ForAll
from properties.web.forms.places import ZONES

FACTS = {
    Fact.ADDRESS: "Address, or a part of it",
    Fact.NAME: "Name of the property",
    Fact.CUSTOMER: "Customer",
    Fact.PHONE: "Telephone",
    Fact.EMAIL: "Email",
    Fact.NOTE: "What to know on arrival",
    Fact.AREA: "Turf area",
    Fact.LATITUDE: "Latitude",
    Fact.LONGITUDE: "Longitude",
}
DECIMALS = {
    Decimals.POINT: "A point, as in 1,250.5",
    Decimals.COMMA: "A comma, as in 1.250,5",
}


class BringForm(forms.Form):
    """A file of properties."""

    file = forms.FileField(
        label="Spreadsheet",
        widget=forms.FileInput({"accept": ".csv,.txt,.tsv,.xlsx"}),
        help_text="CSV or XLSX, up to 5 MB and 10,000 rows. Nothing is imported before you "
        "have seen every row and confirmed.",
    )

    def __init__(self, *args: Any, too_large: bool = False, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        if too_large:
            words = "This file is larger than 5 MB. Keep only the list, or divide it."
            self.fields["file"].error_messages["required"] = words


class SeparatorForm(forms.Form):
    """What stands between the columns of a text file."""

    separator = forms.ChoiceField(
        label="Between columns stands a", choices=[(s, name) for s, name in SEPARATORS.items()]
    )


@dataclass(frozen=True)
class ColumnChoice:
    """A column as the form shows it: its heading, its first values, what it holds."""

    heading: str
    samples: tuple[str, ...]
    field: BoundField


class ColumnsForm(forms.Form):
    """What each column holds, in which unit; and what is told once for all rows."""

    area_unit = forms.ChoiceField(label="Unit of the turf areas", required=False)
    decimals = forms.ChoiceField(label="Before decimals stands", required=False)
    customer_for_all = forms.CharField(
        label="Customer of rows that name none",
        max_length=120,
        required=False,
        help_text="An association, for example. Leave it empty where each row names its customer.",
    )
    latitude = forms.FloatField(
        label="Latitude for rows without a position",
        min_value=-85,
        max_value=85,
        required=False,
        widget=forms.TextInput({"inputmode": "decimal"}),
        help_text="Where the map opens until somebody finds the lawn. Such properties are "
        "marked as not located.",
    )
    longitude = forms.FloatField(
        label="Longitude for rows without a position",
        min_value=-180,
        max_value=180,
        required=False,
        widget=forms.TextInput({"inputmode": "decimal"}),
        help_text="Degrees; west is negative.",
    )
    time_zone = forms.ChoiceField(
        label="Time zone of all rows",
        choices=[("", "choose"), *((zone, zone.replace("_", " ")) for zone in ZONES)],
    )

    def __init__(self, guesses: Guesses, data: Any = None, *, initial: dict[str, Any]) -> None:
        super().__init__(data, initial=initial)
        self.guesses = guesses
        for n, heading in enumerate(guesses.headings):
            self.fields[f"column_{n}"] = forms.ChoiceField(
                label=f"{heading} holds",
                required=False,
                choices=[("", "not used"), *((str(f), name) for f, name in FACTS.items())],
                initial=guesses.facts[n] or "",
            )
        self._choice("area_unit", list(self._units()), "")
        self.fields["area_unit"].help_text = self._unit_help()
        decimals = [("", "choose"), *((str(d), f"{DECIMALS[d]}{self._read(d)}") for d in Decimals)]
        self._choice("decimals", decimals, guesses.decimals if guesses.decimals_shown else "")

    def _choice(self, name: str, choices: list[tuple[str, str]], initial: str) -> None:
        field = self.fields[name]
        assert isinstance(field, forms.ChoiceField)  # noqa: S101
        field.choices = choices
        field.initial = initial

    def _units(self) -> Iterator[tuple[str, str]]:
        """Every unit with what the first area of the list would be."""
        yield "", "choose"
        for unit, (_, _, name) in AREA_UNITS.items():
            yield unit, f"{name}{self._would_be(unit)}"

    def _unit_help(self) -> str:
        """Our guess and its reason. It has to be chosen, so that it is never silent."""
        guess = self.guesses.unit
        if guess is None:
            return "Only needed where a column holds the turf area."
        name = AREA_UNITS[guess.unit][2]
        return f"Our guess is {name}, since {guess.why}{self._would_be(guess.unit)}."

    def _would_be(self, unit: str) -> str:
        example = self.guesses.example_area
        return "" if example is None else f": {example:,.10g} is {self._in_feet(example, unit)}"

    def _in_feet(self, value: float, unit: str) -> str:
        return shown(area_in(value, unit).to("sq ft" if self.guesses.units == "us" else "m2"))

    def _read(self, decimals: Decimals) -> str:
        example = self.guesses.example_number(decimals)
        return "" if example is None else f": “{example[0]}” is then {example[1]:.10g}"

    @property
    def columns(self) -> list[ColumnChoice]:
        """Each column with its first values."""
        return [
            ColumnChoice(heading, self.guesses.samples[n], self[f"column_{n}"])
            for n, heading in enumerate(self.guesses.headings)
        ]

    @property
    def told_once(self) -> list[BoundField]:
        """What is asked below the columns."""
        return [self[name] for name in list(self.fields)[:6]]

    def clean(self) -> dict[str, Any]:
        """See that the columns together tell what a property needs."""
        typed = super().clean() or {}
        facts = self._facts(typed)
        self._require_each_once(facts)
        if Fact.ADDRESS not in facts:
            self.add_error(None, "No column is the address. Choose the one that holds it.")
        if Fact.AREA in facts and not typed.get("area_unit"):
            self.add_error("area_unit", "Choose the unit: a guess of ours is not enough.")
        if NUMBERS & set(facts) and not typed.get("decimals"):
            self.add_error("decimals", "Choose what stands before decimals.")
        if Fact.CUSTOMER not in facts and not typed.get("customer_for_all"):
            self.add_error("customer_for_all", "No column is the customer. Name one for all rows.")
        self._require_position(typed, facts)
        return typed

    def _require_each_once(self, facts: tuple[Fact | None, ...]) -> None:
        for n, fact in enumerate(facts):
            if fact and fact not in TOLD_IN_PARTS and facts.index(fact) < n:
                other = self.guesses.headings[facts.index(fact)]
                self.add_error(f"column_{n}", f"“{other}” is that already. Choose one of them.")

    def _require_position(self, typed: dict[str, Any], facts: tuple[Fact | None, ...]) -> None:
        in_columns = [fact in facts for fact in (Fact.LATITUDE, Fact.LONGITUDE)]
        if any(in_columns) and not all(in_columns):
            self.add_error(None, "Latitude and longitude belong together: choose both columns.")
        for name in ("latitude", "longitude"):
            both = typed.get("latitude") is not None or typed.get("longitude") is not None
            if (
                typed.get(name) is None
                and name not in self.errors
                and (both or not all(in_columns))
            ):
                self.add_error(name, "No column tells a position: say where the map shall open.")

    def _facts(self, typed: dict[str, Any]) -> tuple[Fact | None, ...]:
        chosen = [typed.get(f"column_{n}") for n in range(len(self.guesses.headings))]
        return tuple(Fact(fact) if fact else None for fact in chosen)

    def confirmed(self) -> tuple[Columns, ForAll]:
        """Hand what was confirmed to the service."""
        typed = self.cleaned_data
        columns = Columns(
            heading_row=self.guesses.heading_row,
            facts=self._facts(typed),
            decimals=Decimals(typed["decimals"] or Decimals.POINT),
            area_unit=typed["area_unit"],
            customer_for_all=typed["customer_for_all"],
            position_for_all=typed["latitude"] is not None,
        )
        return columns, ForAll(typed["latitude"], typed["longitude"], typed["time_zone"])

    @staticmethod
    def of(sheet: Spreadsheet, columns: Columns) -> dict[str, Any]:
        """Fill the form from what was confirmed before."""
        facts = {f"column_{n}": fact or "" for n, fact in enumerate(columns.facts)}
        return facts | {
            "area_unit": columns.area_unit,
            "decimals": columns.decimals,
            "customer_for_all": columns.customer_for_all,
            "latitude": sheet.latitude,
            "longitude": sheet.longitude,
            "time_zone": sheet.time_zone,
        }


class ImportForm(forms.Form):
    """The last word on an import: what to leave out, which twins to add."""

    TWINS = [
        ("", "choose"),
        ("skip", "Leave all of them out"),
        ("keep", "Add all of them as well"),
        ("ticked", "Add only those that are ticked"),
    ]

    seen = forms.CharField(widget=forms.HiddenInput)
    leave_out_faulty = forms.BooleanField(required=False)
    twins = forms.ChoiceField(
        label="Rows at an address that is there already", choices=TWINS, required=False
    )
    kept_twins = forms.TypedMultipleChoiceField(coerce=int, required=False)

    def __init__(self, preview: Preview, data: Any = None) -> None:
        super().__init__(data, initial={"seen": preview.seen})
        self.preview = preview
        faulty = len(preview.read.faulty_rows)
        rows = "the row" if faulty == 1 else f"the {faulty:,} rows"
        self.fields["leave_out_faulty"].label = f"Leave out {rows} with something wrong"
        self.twin_rows = [twin.place.row for twin in preview.twins]
        kept = self.fields["kept_twins"]
        assert isinstance(kept, forms.TypedMultipleChoiceField)  # noqa: S101
        kept.choices = [(row, row) for row in self.twin_rows]
        if not faulty:
            del self.fields["leave_out_faulty"]
        if not preview.twins:
            del self.fields["twins"], self.fields["kept_twins"]

    @property
    def ticked(self) -> set[str]:
        """The rows that were ticked, for a form that comes back."""
        sent = self.data.getlist("kept_twins") if isinstance(self.data, QueryDict) else []
        return set(map(str, sent))

    def clean(self) -> dict[str, Any]:
        """See that everything that needs a choice has one."""
        typed = super().clean() or {}
        if "leave_out_faulty" in self.fields and not typed.get("leave_out_faulty"):
            self.add_error(
                "leave_out_faulty",
                "Tick this to import the others, or put the rows right and bring the file again.",
            )
        if "twins" in self.fields and not typed.get("twins"):
            self.add_error("twins", "Choose what becomes of these rows.")
        return typed

    def choice(self) -> Choice:
        """Hand what was confirmed to the service."""
        typed = self.cleaned_data
        kept = {"keep": self.twin_rows, "ticked": typed.get("kept_twins", [])}
        return Choice(
            seen=typed["seen"],
            leave_out_faulty=typed.get("leave_out_faulty", False),
            kept_twins=tuple(kept.get(typed.get("twins", ""), [])),
        )
