"""What is typed about blackout dates."""

from datetime import date
from typing import Any

from django import forms

from planner.models import BlackoutRule, Product

MONTHS = [
    *(("01", "January"), ("02", "February"), ("03", "March"), ("04", "April")),
    *(("05", "May"), ("06", "June"), ("07", "July"), ("08", "August")),
    *(("09", "September"), ("10", "October"), ("11", "November"), ("12", "December")),
]
DAYS = [(f"{day:02}", str(day)) for day in range(1, 32)]


class MonthDayInput(forms.MultiWidget):
    """A list of months and a list of days."""

    template_name = "properties/parts/quantity_input.html"

    def __init__(self, *, of: str) -> None:
        month = forms.Select(choices=MONTHS)
        day = forms.Select({"aria-label": f"Day of the month, {of}"}, DAYS)
        super().__init__([month, day])

    def decompress(self, value: str | None) -> list[str | None]:
        """Take 12-01 apart."""
        return list(value.split("-")) if value else [None, None]

    def id_for_label(self, id_: str) -> str:
        """Let the label point at the month."""
        return f"{id_}_0"


class MonthDayField(forms.MultiValueField):
    """A day that every year has, as 12-01."""

    def __init__(self, *, label: str) -> None:
        fields = (forms.ChoiceField(choices=MONTHS), forms.ChoiceField(choices=DAYS))
        super().__init__(fields, widget=MonthDayInput(of=label), label=label)

    def compress(self, typed: list[str]) -> str:
        """Refuse a day that most years do not have."""
        if not typed:
            raise forms.ValidationError("Choose a month and a day.")
        month, day = typed
        try:
            date(2001, int(month), int(day))
        except ValueError:
            name = dict(MONTHS)[month]
            leap = " Choose February 28 or March 1." if (month, day) == ("02", "29") else ""
            words = f"Most years have no {name} {int(day)}.{leap}"
            raise forms.ValidationError(words) from None
        return f"{month}-{day}"


class BlackoutForm(forms.ModelForm):  # type: ignore[type-arg]
    """Days of every year on which something is not put down."""

    from_day = MonthDayField(label="First day")
    to_day = MonthDayField(label="Last day")

    class Meta:
        model = BlackoutRule
        fields = ["substance", "product", "from_day", "to_day", "source"]
        labels = {
            "substance": "Active ingredient or nutrient",
            "product": "Or one product",
            "source": "Where the rule comes from",
        }
        help_texts = {
            "substance": "As the label spells it; for fertilizer N or P.",
            "source": "The code or the law, so that somebody else can check it.",
        }

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        product: Any = self.fields["product"]
        product.queryset = Product.objects.filter(firm=self.instance.firm_id)
        product.empty_label = "none: whatever contains it"
        self.order_fields(self.Meta.fields)
