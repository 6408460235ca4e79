"""What a job really took."""

from typing import Any

from django import forms
from django.db.models import QuerySet

from planner.models import Job, Product
from planner.selectors.stock import form_of_product
from planner.web.forms.days import day_field
from planner.web.forms.stock import WEIGHTS
from properties.models import Person
from properties.web.forms.quantities import VOLUMES, QuantityField

#: Measured out on a truck: the small units first.
POURED = ("fl oz", *(unit for unit in VOLUMES if unit != "fl oz"))
WEIGHED = tuple(reversed(WEIGHTS[:2])) + WEIGHTS[2:]
LONGEST_DAY_MIN = 24 * 60


class JobWorkForm(forms.Form):
    """Who did a job, on which day, how long it took, and what was used of each product."""

    on = day_field("Day it was done")
    done_by = forms.ModelChoiceField(Person.objects.none(), label="Who did it", empty_label=None)
    minutes = forms.IntegerField(
        label="Minutes, the way there with them",
        required=False,
        min_value=1,
        max_value=LONGEST_DAY_MIN,
        widget=forms.NumberInput({"inputmode": "numeric"}),
        help_text="Leave it empty where nobody knows. It is not taken for nothing.",
    )

    def __init__(self, *args: Any, job: Job, people: QuerySet[Person], **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["done_by"].queryset = people  # type: ignore[attr-defined]
        self.products = [part.product for part in job.mix.parts.all()]
        for product in self.products:
            self.fields[f"used_{product.pk}"] = QuantityField(
                units=_units_of(product), label=f"{product}: used", required=False
            )

    def took(self) -> dict[str, Any]:
        """Give what is known of it."""
        typed = self.cleaned_data
        used = {product: typed[f"used_{product.pk}"] for product in self.products}
        return {
            "done_by": typed["done_by"],
            "on": typed["on"],
            "minutes": typed["minutes"],
            "used": {product: amount for product, amount in used.items() if amount is not None},
        }


def _units_of(product: Product) -> tuple[str, ...]:
    form = form_of_product(product)
    if form is None:
        return (*POURED, *WEIGHED)
    return POURED if form == "liquid" else WEIGHED
