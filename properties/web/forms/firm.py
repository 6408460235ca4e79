"""What is typed about a firm: its name, its people, its distances, its map layers."""

import re
from typing import Any

from django import forms

from properties.core.units import Quantity
from properties.models import (
    Firm,
    Person,
    PositionError,
    SetbackRule,
    StatedAreaRule,
    TileLayer,
    WindRule,
)
from properties.models.firm import UnitSystem
from properties.web.forms.quantities import (
    LENGTHS,
    SPEEDS,
    PositiveQuantityField,
    QuantityField,
)


class FirmForm(forms.ModelForm):  # type: ignore[type-arg]
    """The firm itself."""

    class Meta:
        model = Firm
        fields = [
            "name",
            "address",
            "phone",
            "email",
            "licence",
            "units",
            "currency",
            "labels_need_check",
        ]
        labels = {
            "name": "Name of the firm",
            "email": "Email that customers may write to",
            "licence": "Number of the business licence",
            "units": "Units of new people and rules",
            "currency": "Currency of every price and cost",
            "labels_need_check": "A second person compares every label before it is used",
        }
        help_texts = {
            "phone": "Address, telephone and licence stand at the head of every quote.",
            "currency": "Nothing is converted: change it before the first price is kept.",
            "labels_need_check": "Nobody can confirm what they entered themselves. Leave this off "
            "if you work alone.",
        }


class NewPersonForm(forms.Form):
    """Somebody who is added to the firm."""

    name = forms.CharField(label="Name", max_length=120)
    email = forms.EmailField(label="Email, used to sign in")
    role = forms.ChoiceField(label="Role", choices=Person.ROLES)
    units = forms.ChoiceField(label="Units", choices=UnitSystem.choices)

    def clean_email(self) -> str:
        """Refuse an address that signs somebody in already."""
        email: str = self.cleaned_data["email"].lower()
        if Person.objects.filter(email__iexact=email).exists():
            raise forms.ValidationError("Somebody signs in with this address already.")
        return email


class PersonForm(forms.ModelForm):  # type: ignore[type-arg]
    """The role of somebody in the firm."""

    class Meta:
        model = Person
        fields = ["name", "role", "is_active"]
        labels = {"is_active": "May sign in"}


class OwnFactsForm(forms.ModelForm):  # type: ignore[type-arg]
    """What a person may change about themselves."""

    class Meta:
        model = Person
        fields = ["name", "units"]
        labels = {"name": "Your name", "units": "Units on your pages"}


class SetbackRuleForm(forms.ModelForm):  # type: ignore[type-arg]
    """A distance the firm keeps from a kind of feature."""

    distance = QuantityField(units=LENGTHS, label="Distance to keep all round")
    downwind = QuantityField(
        units=LENGTHS,
        label="Distance when the feature lies downwind",
        required=False,
        help_text="Kept on the side the wind comes from. Empty: no more than all round.",
    )

    class Meta:
        model = SetbackRule
        fields = ["kind", "method", "distance", "downwind", "source", "from_on", "to_on"]
        labels = {
            "kind": "Kind of feature",
            "method": "Way of applying",
            "source": "Where the distance comes from",
            "from_on": "First day",
            "to_on": "Last day (empty: until further notice)",
        }
        widgets = {
            "from_on": forms.DateInput({"type": "date"}, format="%Y-%m-%d"),
            "to_on": forms.DateInput({"type": "date"}, format="%Y-%m-%d"),
        }
        help_texts = {
            "source": "The label, the code or the practice, so that somebody else can check it."
        }

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["kind"].choices = [("", "choose"), *self.fields["kind"].choices[1:]]  # type: ignore[attr-defined]
        self.order_fields(self.Meta.fields)


class WindRuleForm(forms.ModelForm):  # type: ignore[type-arg]
    """How the firm lets the wind move the edge."""

    half_angle = PositiveQuantityField(
        units=("deg",),
        label="Angle either side of the wind",
        help_text="A feature within it still counts as downwind.",
    )
    hold_above = PositiveQuantityField(units=SPEEDS, label="Stop above a wind of")
    calm_below = PositiveQuantityField(
        units=SPEEDS,
        label="Take care below a wind of",
        help_text="Still, cool air can hang and carry spray far.",
    )

    class Meta:
        model = WindRule
        fields = ["half_angle", "judged", "hold_above", "calm_below", "source"]
        labels = {"judged": "What counts as downwind", "source": "Where the rule comes from"}

    def clean_half_angle(self) -> Quantity:
        """Refuse a sector wider than half the horizon."""
        half_angle: Quantity = self.cleaned_data["half_angle"]
        if half_angle.value > 90:
            raise forms.ValidationError("The angle is 90° at most: half the horizon.")
        return half_angle

    def clean(self) -> dict[str, Any]:
        """Refuse limits that leave no wind to work in."""
        typed: dict[str, Any] = super().clean() or {}
        low, high = typed.get("calm_below"), typed.get("hold_above")
        if low is not None and high is not None and low.si >= high.si:
            self.add_error("calm_below", f"This leaves no wind to work in below {high}.")
        return typed


class PositionErrorForm(forms.ModelForm):  # type: ignore[type-arg]
    """How far a corner may be out when it was measured in one way."""

    error = PositiveQuantityField(
        units=LENGTHS,
        label="How far a corner may be out",
        help_text="North to south or east to west, as the typical error: two of three corners lie "
        "within it (one standard deviation).",
    )

    class Meta:
        model = PositionError
        fields = ["error", "source"]
        labels = {"source": "Where this comes from"}


class StatedAreaRuleForm(forms.ModelForm):  # type: ignore[type-arg]
    """How far an area may be out that somebody stated and nobody drew."""

    error = PositiveQuantityField(
        units=["%"],
        label="How far a stated area may be out",
        help_text="As the typical error: two of three stated areas lie within it (one standard "
        "deviation). Quotes from stated areas show about twice as much either way.",
    )

    class Meta:
        model = StatedAreaRule
        fields = ["error", "source"]
        labels = {"source": "Where this comes from"}


class TileLayerForm(forms.ModelForm):  # type: ignore[type-arg]
    """A map layer from a tile server that the firm may use."""

    class Meta:
        model = TileLayer
        fields = ["name", "url", "credit", "max_native_zoom"]
        labels = {
            "url": "Address of the tiles",
            "credit": "Credit line that its owner asks for",
            "max_native_zoom": "Largest zoom it has pictures for",
        }
        help_texts = {"url": "https, with {z}, {x} and {y} where the numbers go."}

    def clean_url(self) -> str:
        """Accept only an https address with the three numbers in it."""
        url: str = self.cleaned_data["url"].strip()
        if not re.match(r"https://[A-Za-z0-9.-]+(:[0-9]+)?[/?]", url) or not url.isprintable():
            raise forms.ValidationError("The address must begin with https:// and a host name.")
        if not all(number in url for number in ("{z}", "{x}", "{y}")):
            raise forms.ValidationError("The address needs {z}, {x} and {y} in it.")
        return url
