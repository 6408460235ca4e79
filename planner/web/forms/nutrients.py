"""What is typed about limits on nutrients and about soil tests."""

from django import forms

from planner.models import NutrientLimit, SoilTest
from properties.web.forms.quantities import QuantityField

NUTRIENT_RATES = ("lb/1000 sq ft", "g/m2", "lb/acre", "kg/ha")


class NutrientLimitForm(forms.ModelForm):  # type: ignore[type-arg]
    """How much of a nutrient may go down."""

    at_most = QuantityField(
        units=NUTRIENT_RATES, label="At most", help_text="0 where none may go down."
    )

    least_slow_release = QuantityField(
        units=("%",),
        label="Lifted where so much of the nitrogen is slow release",
        required=False,
        help_text="For nitrogen of each application: above the limit only with at least this "
        "share. Empty where nothing lifts it so.",
    )

    class Meta:
        model = NutrientLimit
        fields = [
            *("nutrient", "per", "at_most", "unless_soil_test", "least_slow_release"),
            *("source", "from_on", "to_on"),
        ]
        labels = {
            "per": "Counted for",
            "unless_soil_test": "A valid soil test lifts it",
            "source": "Where the limit comes from",
            "from_on": "First day",
            "to_on": "Last day (empty: until further notice)",
        }
        widgets = {
            "from_on": forms.DateInput({"type": "date"}, format="%Y-%m-%d"),
            "to_on": forms.DateInput({"type": "date"}, format="%Y-%m-%d"),
        }
        help_texts = {
            "source": "The law, the ordinance or the practice, so that somebody can check."
        }

    def __init__(self, *args: object, **kwargs: object) -> None:
        super().__init__(*args, **kwargs)  # type: ignore[arg-type]
        self.order_fields(self.Meta.fields)
        for name in ("nutrient", "per"):
            field = self.fields[name]
            field.choices = [("", "choose"), *field.choices[1:]]  # type: ignore[attr-defined]


class SoilTestForm(forms.ModelForm):  # type: ignore[type-arg]
    """A soil test of a property."""

    class Meta:
        model = SoilTest
        fields = ["taken_on", "valid_until", "source"]
        labels = {
            "taken_on": "Soil taken on",
            "valid_until": "Valid until",
            "source": "Laboratory and number",
        }
        widgets = {
            "taken_on": forms.DateInput({"type": "date"}, format="%Y-%m-%d"),
            "valid_until": forms.DateInput({"type": "date"}, format="%Y-%m-%d"),
        }
        help_texts = {"valid_until": "Many ordinances say three years."}
