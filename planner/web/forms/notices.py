"""What is typed about a notice that a place requires."""

from typing import Any

from django import forms

from planner.models import Notice
from planner.web.forms.quotes import DayInput
from properties.models import Person
from properties.selectors.places import properties_of


class NoticeForm(forms.ModelForm):  # type: ignore[type-arg]
    """A notice: when it is due, what the customer reads, whose rule it is."""

    from_on = forms.DateField(label="Holds from", widget=DayInput())
    to_on = forms.DateField(label="Holds to", widget=DayInput(), required=False)

    class Meta:
        model = Notice
        fields = ["time", "words", "only_at", "source", "from_on", "to_on"]
        labels = {
            "time": "When it is due",
            "words": "What the customer reads",
            "only_at": "Only at one property",
            "source": "Where the rule comes from",
        }
        help_texts = {
            "words": "Plain words, such as “We put up a sign; you take it down after 24 hours.”",
            "source": "The code or the law, so that somebody else can check it.",
        }

    def __init__(self, *args: Any, person: Person, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        place: Any = self.fields["only_at"]
        place.queryset = properties_of(person)
        place.empty_label = "everywhere"
