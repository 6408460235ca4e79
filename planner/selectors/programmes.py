"""Programmes of a person's firm."""

from django.db.models import QuerySet

from planner.core.season.windows import Window, day_of_every_year, window_in
from planner.models import Programme, Round
from properties.models import Person


def programmes_of(person: Person) -> QuerySet[Programme]:
    """List the programmes of a person's firm with their rounds, those still offered first."""
    return Programme.objects.filter(firm=person.firm_id).prefetch_related(
        "rounds__mix__parts__product__setbacks",
        "rounds__mix__parts__line",
        "rounds__machine__tanks",
        "rounds__hand_tool__tanks",
    )


def offered_to(person: Person) -> QuerySet[Programme]:
    """List the programmes that a person's firm still offers."""
    return programmes_of(person).filter(is_retired=False)


def window_of(round_: Round, year: int) -> Window:
    """Find the days of a round in a year, by its dates. Refused where they make no window."""
    return window_in(
        year,
        first=day_of_every_year(round_.from_day, field="from_day"),
        last=day_of_every_year(round_.to_day, field="to_day"),
        over_new_year=round_.over_new_year,
    )
