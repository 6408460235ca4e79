"""Properties, customers and map layers of a person's firm."""

from datetime import date, datetime
from zoneinfo import ZoneInfo

from django.db.models import Q, QuerySet

from properties.models import Customer, Person, Property, TileLayer


def properties_of(person: Person, *, search: str = "") -> QuerySet[Property]:
    """List the properties of a person's firm, those that match a text if one is given."""
    found = Property.objects.filter(firm=person.firm_id).select_related("customer", "stated_area")
    for word in search.split()[:8]:
        found = found.filter(
            Q(name__icontains=word) | Q(address__icontains=word) | Q(customer__name__icontains=word)
        )
    return found


def customers_of(person: Person) -> QuerySet[Customer]:
    """List the customers of a person's firm."""
    return Customer.objects.filter(firm=person.firm_id)


def tile_layers_of(person: Person) -> QuerySet[TileLayer]:
    """List the map layers of a person's firm."""
    return TileLayer.objects.filter(firm=person.firm_id)


def newest_time_zone(person: Person) -> str:
    """Name the time zone of the property that was added last, none before there is one."""
    return _newest_zone_of(person.firm_id)


def day_of_firm(at: datetime, firm_id: int) -> date:
    """Say what day it is for a firm at a moment: in the zone of the newest of its properties."""
    return at.astimezone(ZoneInfo(_newest_zone_of(firm_id) or "UTC")).date()


def _newest_zone_of(firm_id: int) -> str:
    zones = Property.objects.filter(firm=firm_id).order_by("-pk")
    return zones.values_list("time_zone", flat=True).first() or ""
