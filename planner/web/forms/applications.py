"""What is typed about the past of a property, and what is asked of its ground."""

from collections.abc import Iterable, Sequence
from typing import Any

from django import forms
from django.db.models import QuerySet

from planner.models import Machine, Product
from planner.selectors.applications import SprayedPart
from planner.web.forms.days import day_field
from planner.web.forms.label_units import PER_AREA
from properties.core.units import Quantity
from properties.web.forms.quantities import PositiveQuantityField

Lawns = Sequence[tuple[str, str]]
LONGEST_NOTE = 300


def _note(label: str, *, required: bool = False) -> forms.CharField:
    return forms.CharField(label=label, max_length=LONGEST_NOTE, required=required)


class LawnsForm(forms.Form):
    """A form about some lawns of a property."""

    refs = forms.MultipleChoiceField(
        label="Which turf",
        widget=forms.CheckboxSelectMultiple,
        error_messages={"required": "Choose the turf that is meant."},
    )

    def __init__(self, *args: Any, lawns: Lawns, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["refs"].choices = lawns  # type: ignore[attr-defined]


class ApplicationForm(LawnsForm):
    """A product that was put down by somebody."""

    applied_on = day_field("Day it was put down")
    product = forms.ModelChoiceField(Product.objects.none(), empty_label="choose")
    rate = PositiveQuantityField(
        units=PER_AREA,
        label="What the ground got",
        help_text="Per area, as it came out, not as it was planned.",
    )
    machine = forms.ModelChoiceField(
        Machine.objects.none(),
        label="With which machine",
        required=False,
        empty_label="not known",
        help_text="Its ground counts against how long a calibration holds.",
    )
    note = _note("Note")

    field_order = ("applied_on", "product", "rate", "refs", "machine", "note")

    def __init__(
        self,
        *args: Any,
        products: QuerySet[Product],
        machines: QuerySet[Machine],
        **kwargs: Any,
    ) -> None:
        super().__init__(*args, **kwargs)
        self.fields["product"].queryset = products  # type: ignore[attr-defined]
        self.fields["machine"].queryset = machines  # type: ignore[attr-defined]


class SeedingForm(LawnsForm):
    """Ground that was sown, or will be."""

    sown_on = day_field("Day it was or will be sown")
    note = _note("Note")

    field_order = ("sown_on", "refs", "note")


class SprayedForm(forms.Form):
    """A kept plan that was sprayed, with what the ground really got."""

    applied_on = day_field("Day it was sprayed")
    note = _note("Note")

    def __init__(self, *args: Any, parts: Iterable[SprayedPart], **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.keys = []
        for part in parts:
            units = tuple(dict.fromkeys((part.rate.unit, *PER_AREA)))
            self.keys.append(part.key)
            self.fields[part.key] = PositiveQuantityField(
                units=units,
                label=f"{part.product}: what the ground got",
                help_text=part.where,
                initial=Quantity(round(part.rate.value, 4), part.rate.unit),
            )
        self.order_fields(["applied_on", *self.keys, "note"])

    def rates(self) -> dict[str, Quantity]:
        """Give the rates by the key of each part."""
        return {key: self.cleaned_data[key] for key in self.keys}


class KnownSinceForm(forms.Form):
    """From which day on all that was put down is known."""

    since = day_field(
        "Everything put down here is known from",
        help_text="Yours and anybody else’s. A yearly limit can only be trusted if its whole year "
        "is known.",
    )


class StrikeForm(forms.Form):
    """Why an entry is struck out."""

    why = _note("What is wrong with it", required=True)


class GroundForm(forms.Form):
    """Which part of a property is asked about, and on which day."""

    lawn = forms.ChoiceField(label="Which turf", required=False)
    on = day_field("On which day", required=False)
    lat = forms.FloatField(required=False, min_value=-85, max_value=85, widget=forms.HiddenInput)
    lon = forms.FloatField(required=False, min_value=-180, max_value=180, widget=forms.HiddenInput)

    def __init__(self, *args: Any, lawns: Lawns, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["lawn"].choices = [("", "choose, or tap the map"), *lawns]  # type: ignore[attr-defined]

    def spot(self) -> tuple[float, float] | None:
        """Give the spot that was tapped, as longitude and latitude."""
        lon, lat = (self.cleaned_data.get(name) for name in ("lon", "lat"))
        return None if lon is None or lat is None else (lon, lat)
