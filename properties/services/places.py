"""Adding and changing properties and their pictures."""

from dataclasses import dataclass, field

from django.core.files.base import ContentFile
from django.db import transaction

from properties.models import Customer, Firm, Picture, Property


@dataclass(frozen=True)
class PlaceFacts:
    """What is known about a property apart from its drawing."""

    name: str
    address: str
    customer_name: str
    customer_phone: str
    customer_email: str
    access_note: str
    latitude: float
    longitude: float
    time_zone: str
    turfgrasses: list[str] = field(default_factory=list)


@transaction.atomic
def add_property(*, firm: Firm, facts: PlaceFacts) -> Property:
    """Add a property, and its customer where the firm did not know them."""
    return _write(Property(firm=firm), facts)


@transaction.atomic
def change_property(place: Property, facts: PlaceFacts) -> Property:
    """Change what is known about a property. Its drawing stays as it is."""
    # Read again under a lock: a drawing may have been saved since the caller read it.
    return _write(Property.objects.select_for_update().get(pk=place.pk), facts)


def _write(place: Property, facts: PlaceFacts) -> Property:
    place.customer = _customer(place, facts)
    place.is_located = place.is_located or _has_moved(place, facts)
    for name in (
        *("name", "address", "access_note", "latitude", "longitude", "time_zone"),
        "turfgrasses",
    ):
        setattr(place, name, getattr(facts, name))
    place.full_clean()
    place.save()
    return place


def _has_moved(place: Property, facts: PlaceFacts) -> bool:
    """Say whether somebody gave a place a position of its own."""
    return (place.latitude, place.longitude) != (facts.latitude, facts.longitude)


def _customer(place: Property, facts: PlaceFacts) -> Customer:
    """Find the customer by name. What was left empty clears only the place's own customer."""
    known = Customer.objects.filter(firm=place.firm, name=facts.customer_name).first()
    customer = known or Customer(firm=place.firm, name=facts.customer_name)
    may_clear = customer.pk == place.customer_id
    customer.phone = facts.customer_phone or ("" if may_clear else customer.phone)
    customer.email = facts.customer_email or ("" if may_clear else customer.email)
    customer.full_clean()
    customer.save()
    return customer


@dataclass(frozen=True)
class Bounds:
    """The edges of something on the map, in degrees."""

    west: float
    south: float
    east: float
    north: float


@transaction.atomic
def set_picture(
    place: Property, *, name: str, credit: str, content: bytes, bounds: Bounds
) -> Picture:
    """Lay a picture under the drawing of a property."""
    picture = Picture.objects.filter(property=place).first() or Picture(property=place)
    picture.name, picture.credit = name, credit
    picture.west, picture.south = bounds.west, bounds.south
    picture.east, picture.north = bounds.east, bounds.north
    if picture.file:
        picture.file.delete(save=False)
    picture.file.save(f"property-{place.pk}.webp", ContentFile(content), save=False)
    picture.full_clean()
    picture.save()
    return picture
