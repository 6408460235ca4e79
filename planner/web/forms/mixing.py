"""What is typed about mixing: pairs, jar tests, the water."""

from typing import Any

from django import forms
from django.db.models import QuerySet

from planner.models import Mix, Product, ProductPair, WaterTest
from properties.web.forms.quantities import QuantityField

IONS = ("mg/L",)
RESULTS = [
    ("yes", "it stayed as it should"),
    ("no", "flakes, gel, heat or layers: it does not go together"),
]


class PairForm(forms.ModelForm):  # type: ignore[type-arg]
    """Two products that must not share a tank, or only with care."""

    class Meta:
        model = ProductPair
        fields = ["first", "second", "blocks", "source"]
        labels = {
            "first": "Product",
            "second": "And",
            "blocks": "They must not share a tank at all",
            "source": "Where this comes from",
        }
        help_texts = {
            "blocks": "Off: a plan warns, and goes on.",
            "source": "A label, a test of yours, a warning you were given.",
        }

    def __init__(self, *args: Any, products: QuerySet[Product], **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        for name in ("first", "second"):
            self.fields[name].queryset = products  # type: ignore[attr-defined]


class JarTestForm(forms.Form):
    """What came of a mix in a jar."""

    mix = forms.ModelChoiceField(Mix.objects.none(), label="Which mix was in the jar")
    fits = forms.ChoiceField(label="What came of it", choices=RESULTS)
    note = forms.CharField(
        label="What you saw",
        max_length=300,
        required=False,
        help_text="How long you waited, water, anything odd.",
    )

    def __init__(self, *args: Any, mixes: QuerySet[Mix], **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["mix"].queryset = mixes  # type: ignore[attr-defined]

    def came_out(self) -> bool:
        """Say whether the products go together."""
        return bool(self.cleaned_data["fits"] == "yes")


class WaterTestForm(forms.ModelForm):  # type: ignore[type-arg]
    """What a laboratory found in the water, in ppm: milligrams in a litre."""

    potassium = QuantityField(units=IONS, label="Potassium, K (ppm)", required=False)
    sodium = QuantityField(units=IONS, label="Sodium, Na (ppm)", required=False)
    calcium = QuantityField(units=IONS, label="Calcium, Ca (ppm)", required=False)
    magnesium = QuantityField(units=IONS, label="Magnesium, Mg (ppm)", required=False)
    iron = QuantityField(units=IONS, label="Iron, Fe (ppm)", required=False)

    class Meta:
        model = WaterTest
        fields = ["potassium", "sodium", "calcium", "magnesium", "iron", "tested_on", "source"]
        labels = {"tested_on": "Tested on", "source": "By whom, and which tap or well"}
        widgets = {"tested_on": forms.DateInput({"type": "date"}, format="%Y-%m-%d")}
