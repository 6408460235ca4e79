"""The earlier drawings of a property, and what each of them changed."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, datetime

from django.db.models import Q, QuerySet

from properties.core.changes import Comparison, compare
from properties.core.outlines import Drawing
from properties.core.treatable import Treatment
from properties.models import Outline, Property, Revision
from properties.selectors.areas import treatment_of
from properties.selectors.outlines import drawing_of, shape_of


def revisions_of(place: Property) -> QuerySet[Revision]:
    """List the savings of a property's drawing, the newest first."""
    return Revision.objects.filter(property=place).select_related("saved_by")


def number_held_at(place: Property, moment: datetime) -> int:
    """Find the drawing that held at a moment; 0 if nothing had been drawn by then."""
    saved = revisions_of(place).filter(saved_at__lte=moment).first()
    return 0 if saved is None else saved.number


@dataclass(frozen=True)
class Step:
    """One saving, and what it changed."""

    revision: Revision
    comparison: Comparison


def steps_of(place: Property, revisions: Sequence[Revision]) -> list[Step]:
    """Tell what each of these savings changed. They follow one another, the newest first."""
    if not revisions:
        return []
    newest, oldest = revisions[0].number, revisions[-1].number
    rows = Outline.objects.filter(
        Q(until__isnull=True) | Q(until__gte=oldest), property=place, since__lte=newest
    )
    states = [(row.since, row.until, shape_of(row)) for row in rows]

    def held(number: int) -> Drawing:
        return Drawing(
            tuple(
                shape
                for since, until, shape in states
                if since <= number and (until is None or until > number)
            )
        )

    return [
        Step(revision, compare(held(revision.number - 1), held(revision.number)))
        for revision in revisions
    ]


@dataclass(frozen=True)
class TwoDrawings:
    """Two drawings of a property, what differs, and what may be treated on each."""

    before: Drawing
    after: Drawing
    comparison: Comparison
    treated_before: Treatment
    treated_after: Treatment


def two_drawings_of(place: Property, *, before: int, after: int, day: date) -> TwoDrawings:
    """Compare two drawings of a property, at the distances its firm keeps on a day."""
    old, new = drawing_of(place, number=before), drawing_of(place, number=after)
    return TwoDrawings(
        old,
        new,
        compare(old, new),
        treated_before=treatment_of(old, place=place, day=day),
        treated_after=treatment_of(new, place=place, day=day),
    )
