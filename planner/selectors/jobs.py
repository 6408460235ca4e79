"""Jobs of a person's firm: what is due, and how each stands."""

from collections.abc import Iterable
from dataclasses import dataclass, field
from datetime import date

from django.db.models import QuerySet

from planner.models import Job, Machine, Mix
from properties.models import Person, Property

#: As many as the lawns of the longest route.
MOST_JOBS = 60


def jobs_of(person: Person) -> QuerySet[Job]:
    """List the jobs of a person's firm, in the order they are due."""
    return Job.objects.filter(firm=person.firm_id).select_related(
        "place__customer", "programme", "round", "mix", "machine", "hand_tool", "said_by"
    )


def jobs_at(place: Property, year: int) -> QuerySet[Job]:
    """List the jobs of a property in a year, in the order they are due."""
    return Job.objects.filter(place=place, year=year).select_related(
        "programme", "round", "mix", "machine", "said_by"
    )


def jobs_due(person: Person, *, on: date) -> QuerySet[Job]:
    """List what is planned and may be done on a day, or should have been before it."""
    return jobs_of(person).filter(state="planned", from_on__lte=on).order_by("to_on", "place__name")


@dataclass(frozen=True)
class DueTogether:
    """Jobs that are due with one mix and one machine: lawns that one route could have."""

    mix: Mix
    machine: Machine
    jobs: list[Job] = field(default_factory=list)


def due_together(person: Person, *, on: date) -> list[DueTogether]:
    """Group what is due by mix and sprayer, to choose the lawns of a route from."""
    return _together(jobs_due(person, on=on)[:MOST_JOBS])


def coming_together(person: Person, *, on: date) -> list[DueTogether]:
    """Group what comes next by mix and sprayer, for a route that is planned ahead."""
    coming = jobs_of(person).filter(state="planned", from_on__gt=on)
    return _together(coming.order_by("from_on", "place__name")[:MOST_JOBS])


def _together(jobs: Iterable[Job]) -> list[DueTogether]:
    found: dict[tuple[int, int], DueTogether] = {}
    for job in jobs:
        machine = job.machine
        if machine is not None and not machine.is_spreader:
            key = (job.mix_id, machine.pk)
            found.setdefault(key, DueTogether(job.mix, machine)).jobs.append(job)
    return list(found.values())
