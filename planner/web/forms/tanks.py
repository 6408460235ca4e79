"""What is typed about the tanks of a machine: what was mixed, how it was rinsed."""

from typing import Any

from django import forms
from django.db.models import QuerySet

from planner.models import Machine, Mix


class TankUseForm(forms.Form):
    """Which mix went into which tank."""

    tank = forms.ChoiceField(label="Tank")
    mix = forms.ModelChoiceField(Mix.objects.none(), empty_label=None)

    def __init__(self, *args: Any, machine: Machine, mixes: QuerySet[Mix], **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        tanks = [(str(tank.position), f"tank {tank.position}") for tank in machine.tanks.all()]
        self.fields["tank"].choices = tanks  # type: ignore[attr-defined]
        self.fields["mix"].queryset = mixes  # type: ignore[attr-defined]


class RinseForm(forms.Form):
    """How a tank was rinsed, by somebody who stands for it."""

    how = forms.CharField(
        label="How it was rinsed",
        max_length=300,
        help_text="How often, with how much water or cleaner, and where the rinse water went.",
        error_messages={"required": "Write how it was rinsed: as the label of what it held says."},
    )
    as_label = forms.BooleanField(
        label="I rinsed it as the label of what it held says",
        error_messages={"required": "Only somebody who stands for it can open the tank again."},
    )
