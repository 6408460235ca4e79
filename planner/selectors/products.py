"""Labels and mixes of a person's firm."""

from django.db.models import OuterRef, QuerySet, Subquery

from planner.models import LabelVersion, Mix, Product
from properties.models import Person


def products_of(person: Person) -> QuerySet[Product]:
    """List the products of a person's firm, each with when its label was compared, if it was."""
    newest = LabelVersion.objects.filter(product=OuterRef("pk")).order_by("-number")
    return (
        Product.objects.filter(firm=person.firm_id)
        .prefetch_related("setbacks", "lines")
        .annotate(compared_at=Subquery(newest.values("checked_at")[:1]))
    )


def mixes_of(person: Person) -> QuerySet[Mix]:
    """List the mixes of a person's firm."""
    return Mix.objects.filter(firm=person.firm_id).prefetch_related(
        "parts__product__setbacks", "parts__line"
    )
