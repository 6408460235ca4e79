"""What is typed about a spreader and its catch tests."""

from collections.abc import Iterable
from typing import Any

from django import forms

from planner.models import Machine, Product
from properties.core.units import Quantity
from properties.web.forms.quantities import LENGTHS, PositiveQuantityField

WEIGHTS = ("lb", "kg", "g", "oz wt")
AREAS = ("sq ft", "m2")
MOST_RUNS = 3
SPREADERS = [choice for choice in Machine.KINDS if choice[0] in Machine.SPREADERS]


class SpreaderForm(forms.ModelForm):  # type: ignore[type-arg]
    """A spreader: its swath, its hopper, its deflector, its passes."""

    swath = PositiveQuantityField(
        units=LENGTHS,
        label="Swath",
        help_text="From pass to pass, as you walk or drive it: the edge of one throw meets the "
        "wheel track of the next.",
    )
    hopper = PositiveQuantityField(
        units=("lb", "kg"), label="The hopper holds", required=False, help_text="By weight."
    )
    width = PositiveQuantityField(
        units=LENGTHS,
        label="Width it needs to pass",
        required=False,
        help_text="A narrower gate keeps it out.",
    )

    class Meta:
        model = Machine
        fields = ["name", "kind", "swath", "hopper", "times_over", "deflector", "width"]
        fields += ["set_up_note"]
        labels = {
            "times_over": "Over the ground",
            "deflector": "A deflector is fitted on the side of water",
            "set_up_note": "Set-up",
        }
        help_texts = {
            "times_over": "Twice means half the rate each time.",
            "deflector": "Then the firm’s distances for a deflector are kept.",
            "set_up_note": "Pace, gear, agitator: what a catch test belongs to.",
        }

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["kind"] = forms.ChoiceField(choices=SPREADERS, label="Kind")
        self.order_fields(self.Meta.fields)

    def clean(self) -> dict[str, Any]:
        """Refuse a deflector where nothing is thrown aside."""
        typed: dict[str, Any] = super().clean() or {}
        if typed.get("kind") == "drop_spreader" and typed.get("deflector"):
            self.add_error(
                "deflector", "A drop spreader throws nothing aside. Leave this unticked."
            )
        return typed


class CatchTestForm(forms.Form):
    """Runs at one setting with one product, weighed back."""

    product = forms.ChoiceField(label="Product")
    setting = forms.FloatField(
        label="Setting on the dial",
        min_value=0,
        help_text="A number. Count letters, so that A is 1.",
        widget=forms.TextInput({"inputmode": "decimal", "autocomplete": "off", "size": 8}),
    )
    area = PositiveQuantityField(
        units=AREAS,
        label="Ground of each run",
        required=False,
        help_text="For example 1,000 sq ft or 100 m².",
    )
    course_length = PositiveQuantityField(
        units=LENGTHS,
        label="Or the length of one pass",
        required=False,
        help_text="Times the swath that is the ground.",
    )
    note = forms.CharField(label="Note", required=False, max_length=300)

    def __init__(self, *args: Any, products: Iterable[Product], **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.known = {str(product.pk): product for product in products}
        choices = [(pk, product.name) for pk, product in self.known.items()]
        self.fields["product"] = forms.ChoiceField(label="Product", choices=choices)
        for run in range(1, MOST_RUNS + 1):
            self.fields[f"used_{run}"] = PositiveQuantityField(
                units=WEIGHTS, label=f"Run {run} used", required=run == 1
            )

    def ground_fields(self) -> list[forms.BoundField]:
        """List what is asked before the runs."""
        return [self[name] for name in ("product", "setting", "area", "course_length")]

    def run_fields(self) -> list[forms.BoundField]:
        """List what each run used."""
        return [self[f"used_{run}"] for run in range(1, MOST_RUNS + 1)]

    def clean(self) -> dict[str, Any]:
        """Ask for the ground once."""
        typed: dict[str, Any] = super().clean() or {}
        told = [name for name in ("area", "course_length") if typed.get(name) is not None]
        if len(told) == 2:
            self.add_error("course_length", "Write the area or the length, not both.")
        if not told and not {"area", "course_length"} & set(self.errors):
            self.add_error("area", "Write the ground of a run, or the length of one pass.")
        return typed

    def chosen(self) -> Product:
        """Give the product that was tested."""
        return self.known[self.cleaned_data["product"]]

    def ground(self, swath: Quantity) -> Quantity:
        """Give the ground of each run."""
        area: Quantity | None = self.cleaned_data["area"]
        if area is not None:
            return area
        length: Quantity = self.cleaned_data["course_length"]
        return Quantity(length.si * swath.si, "m2")

    def used(self) -> tuple[Quantity, ...]:
        """List what the runs used."""
        typed = (self.cleaned_data[f"used_{run}"] for run in range(1, MOST_RUNS + 1))
        return tuple(weight for weight in typed if weight is not None)
