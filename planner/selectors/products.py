"""Labels and mixes of a person's firm."""

from django.db.models import QuerySet

from planner.models import Mix, Product
from properties.models import Person


def products_of(person: Person) -> QuerySet[Product]:
    """List the products of a person's firm."""
    return Product.objects.filter(firm=person.firm_id).prefetch_related("setbacks", "lines")


def mixes_of(person: Person) -> QuerySet[Mix]:
    """List the mixes of a person's firm."""
    return Mix.objects.filter(firm=person.firm_id).prefetch_related(
        "parts__product__setbacks", "parts__line"
    )
