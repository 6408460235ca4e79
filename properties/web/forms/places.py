"""What is typed about a property."""

import zoneinfo
from typing import Any

from django import forms

from properties.core.turfgrasses import TURFGRASSES
from properties.models import Property
from properties.services.places import PlaceFacts

ZONES = sorted(
    zone
    for zone in zoneinfo.available_timezones()
    if zone.split("/")[0]
    in {"America", "Europe", "Australia", "Pacific", "Africa", "Asia", "Atlantic", "UTC"}
)
MORE = [("", "nothing else"), *TURFGRASSES.items()]


class PlaceForm(forms.Form):
    """A property, its customer and what to know at the gate."""

    name = forms.CharField(
        label="Name of the property", max_length=120, help_text="As your crew calls it."
    )
    address = forms.CharField(label="Address, with the house number", max_length=200)
    customer_name = forms.CharField(
        label="Customer",
        max_length=120,
        widget=forms.TextInput({"list": "known-customers", "autocomplete": "off"}),
        help_text="A name you have used before belongs to the same customer.",
    )
    customer_phone = forms.CharField(label="Telephone", max_length=40, required=False)
    customer_email = forms.EmailField(label="Email", required=False)
    access_note = forms.CharField(
        label="What to know on arrival",
        widget=forms.Textarea({"rows": 3}),
        max_length=2000,
        required=False,
        help_text="Gate and its width, dog, tap, who to call first.",
    )
    latitude = forms.FloatField(
        min_value=-85,
        max_value=85,
        help_text="Where the map opens before anything is drawn. Both numbers may be pasted here.",
        widget=forms.TextInput({"inputmode": "decimal"}),
    )
    longitude = forms.FloatField(
        min_value=-180,
        max_value=180,
        help_text="Degrees; west is negative.",
        widget=forms.TextInput({"inputmode": "decimal"}),
    )
    time_zone = forms.ChoiceField(
        label="Time zone",
        choices=[("", "choose"), *((zone, zone.replace("_", " ")) for zone in ZONES)],
        help_text="Of the property: its days and times are told in it.",
    )

    turfgrass_1 = forms.ChoiceField(
        label="Turfgrass",
        choices=[("", "not known yet"), *TURFGRASSES.items()],
        required=False,
        help_text="Some labels forbid a product on some of them.",
    )
    turfgrass_2 = forms.ChoiceField(label="Mixed with", choices=MORE, required=False)
    turfgrass_3 = forms.ChoiceField(label="And with", choices=MORE, required=False)

    def facts(self) -> PlaceFacts:
        """Hand what was typed to the service."""
        typed = dict(self.cleaned_data)
        grows = [typed.pop(f"turfgrass_{n}") for n in (1, 2, 3)]
        return PlaceFacts(**typed, turfgrasses=list(dict.fromkeys(filter(None, grows))))

    @staticmethod
    def of(place: Property) -> dict[str, Any]:
        """Fill the form from a property."""
        return {
            "name": place.name,
            "address": place.address,
            "customer_name": place.customer.name,
            "customer_phone": place.customer.phone,
            "customer_email": place.customer.email,
            "access_note": place.access_note,
            "latitude": place.latitude,
            "longitude": place.longitude,
            "time_zone": place.time_zone,
            **{f"turfgrass_{n}": word for n, word in enumerate(place.turfgrasses, start=1)},
        }
