"""Saving a drawing: a new revision in which only what changed is written anew."""

from dataclasses import dataclass
from datetime import datetime

import shapely
from django.db import transaction

from properties.core.outlines import Drawing, Shape, read_drawing
from properties.models import Outline, Person, Property, Revision
from properties.selectors.areas import treatment_of
from properties.selectors.outlines import outlines_of


class DrawnMeanwhile(Exception):
    """Somebody else saved this drawing after it was opened here."""

    def __init__(self, place: Property) -> None:
        self.number = place.drawing_number
        newest = place.revisions.filter(number=self.number).select_related("saved_by").first()
        person = newest.saved_by if newest else None
        super().__init__(
            f"{person or 'Somebody'} saved this drawing meanwhile. Yours is kept "
            "in this browser: open the page again to see both."
        )


@dataclass(frozen=True)
class Saved:
    """A drawing as it was saved, with a note for each repair."""

    number: int
    drawing: Drawing


def save_drawing(
    place: Property, *, person: Person, at: datetime, base: int, why: str, collection: object
) -> Saved:
    """Keep a drawing as the next revision of a property.

    ``base`` is the revision that the person started from. Raises FaultsFound
    with every fault of the drawing, or DrawnMeanwhile; nothing is saved then.
    """
    # Read and measured before the lock is taken: meanwhile everybody else may write.
    drawing = read_drawing(collection)
    turf_area_m2 = treatment_of(drawing, place=place, day=at.date()).turf_area_m2
    with transaction.atomic():
        place = Property.objects.select_for_update().get(pk=place.pk)
        if base != place.drawing_number:
            raise DrawnMeanwhile(place)
        number = place.drawing_number + 1
        if not _write_changes(place, drawing, number):
            return Saved(place.drawing_number, drawing)
        revision = Revision(property=place, number=number, saved_at=at, saved_by=person, why=why)
        revision.full_clean()
        revision.save()
        place.drawing_number = number
        place.turf_area_m2 = turf_area_m2
        _keep_bounds(place, drawing)
        place.save()
    return Saved(number, drawing)


def _write_changes(place: Property, drawing: Drawing, number: int) -> bool:
    """Close the states that ended and open the new ones; say whether there were any."""
    present = {row.ref: row for row in outlines_of(place)}
    fresh, ended = [], [row for ref, row in present.items() if ref not in _refs(drawing)]
    for position, shape in enumerate(drawing.shapes):
        row = _row(place, shape, position, number)
        before = present.get(shape.ref)
        if before is not None and _same(before, row):
            continue
        fresh.append(row)
        ended += [before] if before is not None else []
    Outline.objects.filter(pk__in=[row.pk for row in ended]).update(until=number)
    for row in fresh:
        # The rest is held by the database: asking it for each shape would take seconds.
        row.full_clean(exclude={"property"}, validate_unique=False, validate_constraints=False)
    Outline.objects.bulk_create(fresh)
    return bool(fresh or ended)


def _refs(drawing: Drawing) -> set[str]:
    return {shape.ref for shape in drawing.shapes}


def _row(place: Property, shape: Shape, position: int, number: int) -> Outline:
    west, south, east, north = shapely.bounds(shape.geometry)
    return Outline(
        property=place,
        ref=shape.ref,
        kind=shape.kind.token,
        name=shape.name,
        setback=shape.setback,
        slope=shape.slope,
        downwind_setback=shape.downwind_setback,
        by_hand_only=shape.by_hand_only,
        gate=shape.gate,
        position_error=shape.position_error,
        measured_by=shape.measured_by or "",
        turfgrasses=list(shape.turfgrasses),
        geometry=shape.geometry,
        west=west,
        south=south,
        east=east,
        north=north,
        position=position,
        since=number,
    )


FACTS = (
    "kind",
    "name",
    "setback",
    "slope",
    "downwind_setback",
    "by_hand_only",
    "gate",
    "position_error",
    "measured_by",
    "turfgrasses",
    "position",
)


def _same(one: Outline, other: Outline) -> bool:
    return all(getattr(one, fact) == getattr(other, fact) for fact in FACTS) and bool(
        shapely.equals_identical(one.geometry, other.geometry)
    )


def _keep_bounds(place: Property, drawing: Drawing) -> None:
    if not drawing.shapes:
        place.west = place.south = place.east = place.north = None
        return
    edges = shapely.total_bounds([shape.geometry for shape in drawing.shapes])
    place.west, place.south, place.east, place.north = (float(edge) for edge in edges)
