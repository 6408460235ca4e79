"""Machines of a person's firm, and the measures on its trucks."""

from typing import Any

from django.db.models import QuerySet

from planner.models import Machine, Measure
from properties.core.units import Dimension
from properties.models import Firm, Person


def machines_of(person: Person) -> QuerySet[Machine]:
    """List the machines of a person's firm."""
    return Machine.objects.filter(firm=person.firm_id).prefetch_related("tanks")


def sprayers_of(person: Person) -> QuerySet[Machine]:
    """List the machines that spray."""
    return machines_of(person).exclude(kind__in=Machine.SPREADERS)


def spreaders_of(person: Person) -> QuerySet[Machine]:
    """List the machines that put granules down."""
    return machines_of(person).filter(kind__in=Machine.SPREADERS)


def measures_of(firm: Firm) -> QuerySet[Measure]:
    """List the measures that a firm's trucks carry."""
    return Measure.objects.filter(firm=firm)


def measure_members(firm: Firm) -> dict[str, Any]:
    """Write the measures as the member of a plan request; nothing where none is told."""
    kinds = {Dimension.VOLUME: "liquid", Dimension.MASS: "dry"}
    told: dict[str, list[str]] = {}
    for measure in measures_of(firm):
        told.setdefault(kinds[measure.mark.dimension], []).append(measure.mark.to_the_last_digit)
    return {"measures": told} if told else {}
