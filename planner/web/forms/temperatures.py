"""What is typed, pasted or sent about temperatures."""

from typing import Any

from django import forms

from planner.models import Station
from properties.core.showing import shown_unit
from properties.web.forms.quantities import TEMPERATURES

LARGEST_FILE = 1_000_000
DATE_ORDERS = [
    ("ymd", "year, month, day: 2026-04-09"),
    ("mdy", "month, day, year: 4/9/2026"),
    ("dmy", "day, month, year: 9.4.2026"),
]


class StationForm(forms.ModelForm):  # type: ignore[type-arg]
    """Where temperatures are read."""

    class Meta:
        model = Station
        fields = ["name", "source"]
        labels = {
            "name": "What it is called",
            "source": "Where the figures come from",
        }
        help_texts = {"source": "Who reads it, or which public station it is."}


class TableForm(forms.Form):
    """A table of daily temperatures, pasted or as a file."""

    unit = forms.ChoiceField(
        label="Temperatures are in", choices=[(unit, shown_unit(unit)) for unit in TEMPERATURES]
    )
    date_order = forms.ChoiceField(label="Days are written", choices=DATE_ORDERS)
    table = forms.CharField(
        label="Paste the table",
        required=False,
        widget=forms.Textarea({"rows": 8, "spellcheck": "false", "autocomplete": "off"}),
        help_text="With its heading: date,max,min and, where it is read, soil. Leave a box "
        "empty where nobody read it.",
    )
    file = forms.FileField(label="Or choose a file", required=False)

    def clean(self) -> dict[str, Any]:
        """Take the text of the file, or what was pasted; not both, not neither."""
        typed: dict[str, Any] = super().clean() or {}
        pasted, sent = typed.get("table"), typed.get("file")
        if bool(pasted) == bool(sent):
            words = (
                "Paste a table or choose a file, not both." if pasted else "Paste the table here."
            )
            self.add_error("table", words)
        elif sent is not None:
            typed["table"] = self._text_of(sent)
        return typed

    def _text_of(self, sent: Any) -> str:
        if sent.size > LARGEST_FILE:
            self.add_error("file", "This file is larger than 1 MB. Send some years at a time.")
            return ""
        try:
            return str(sent.read().decode("utf-8-sig"))
        except UnicodeDecodeError:
            self.add_error("file", "This is no plain text. Save it as CSV (UTF-8) and send that.")
            return ""
