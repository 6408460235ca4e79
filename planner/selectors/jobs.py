"""Jobs of a person's firm: what is due, and how each stands."""

from datetime import date

from django.db.models import QuerySet

from planner.models import Job
from properties.models import Person, Property


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
