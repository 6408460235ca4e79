"""What is said of a job: done, skipped, cancelled, or to be done after all."""

from datetime import date
from typing import Any

from django import forms

from planner.models import Job
from planner.web.forms.days import day_field

SAID = [
    ("done", "It is done"),
    ("skipped", "It is left out this time"),
    ("cancelled", "It is no longer wanted"),
    ("planned", "It is still to be done"),
]
DUE = [("now", "due now or late"), ("coming", "coming"), ("done", "done"), ("all", "all")]


class JobForm(forms.Form):
    """How a job stands, on which day it was done, or why not."""

    said = forms.ChoiceField(label="How it stands", choices=SAID, widget=forms.RadioSelect)
    done_on = day_field("Done on", required=False, help_text="For a job that is done.")
    why = forms.CharField(
        label="Why", required=False, max_length=300, help_text="For one that is left out."
    )

    @staticmethod
    def of(job: Job, today: date) -> dict[str, Any]:
        """Fill the form from a job; most often it was just done."""
        said = "done" if job.state == "planned" else job.state
        return {"said": said, "done_on": job.done_on or today, "why": job.why}

    def clean(self) -> dict[str, Any]:
        """Ask for the day of what is done."""
        typed: dict[str, Any] = super().clean() or {}
        is_missing = typed.get("done_on") is None and "done_on" not in self.errors
        if typed.get("said") == "done" and is_missing:
            self.add_error("done_on", "Enter the day on which it was done.")
        return typed
