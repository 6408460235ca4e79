"""Notices that a place requires, as a person’s firm keeps them."""

from datetime import date

from django.db.models import Q, QuerySet

from planner.models import Notice
from properties.models import Person, Property


def notices_of(person: Person) -> QuerySet[Notice]:
    """List the notices that a person's firm keeps."""
    return Notice.objects.filter(firm=person.firm_id).select_related("only_at", "checked_by")


def notices_at(place: Property, day: date) -> QuerySet[Notice]:
    """List the notices that hold at a property on a day."""
    return Notice.objects.filter(
        Q(only_at__isnull=True) | Q(only_at=place),
        Q(to_on__isnull=True) | Q(to_on__gte=day),
        firm=place.firm_id,
        from_on__lte=day,
    )
