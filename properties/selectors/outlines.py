"""The drawing of a property, now or as of an earlier revision."""

from django.db.models import Q, QuerySet

from properties.core.features import KINDS
from properties.core.outlines import Drawing, Shape
from properties.models import Outline, Property


def outlines_of(place: Property, *, number: int | None = None) -> QuerySet[Outline]:
    """List the shapes of a property, as of a revision where one is named."""
    if number is None:
        return Outline.objects.filter(property=place, until__isnull=True)
    return Outline.objects.filter(
        Q(until__isnull=True) | Q(until__gt=number), property=place, since__lte=number
    )


def drawing_of(place: Property, *, number: int | None = None) -> Drawing:
    """Read the drawing of a property into what the core calculates with."""
    return Drawing(
        shapes=tuple(shape_of(row) for row in outlines_of(place, number=number)), notes=()
    )


def shape_of(row: Outline) -> Shape:
    """Read one row as a shape."""
    return Shape(
        ref=row.ref,
        kind=KINDS[row.kind],
        name=row.name,
        geometry=row.geometry,
        setback=row.setback,
        slope=row.slope,
        downwind_setback=row.downwind_setback,
        by_hand_only=row.by_hand_only,
        gate=row.gate,
        position_error=row.position_error,
        measured_by=row.measured_by or None,
        turfgrasses=tuple(row.turfgrasses),
    )
