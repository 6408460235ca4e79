"""Making jobs, and saying how they stand."""

from datetime import date, datetime
from typing import Any

from django.db import transaction
from django.utils import timezone

from planner.models import Job, Mix, Programme, Round, Station
from planner.selectors.programmes import window_of
from planner.selectors.temperatures import windows_by_warmth
from properties.core.errors import Refused
from properties.models import Person, Property

#: A season is planned for these years; anything else is a slip of the hand.
FIRST_YEAR, LAST_YEAR = 2000, 2199


@transaction.atomic
def make_jobs(
    person: Person,
    place: Property,
    programme: Programme,
    year: int,
    quote_option: Any = None,
    *,
    at: datetime | None = None,
) -> list[Job]:
    """Make a job of each round of a programme on a property in a year.

    A round that is a job there already stays as it is, so that nothing is made twice.
    Gives all jobs of the programme there in the order they are due, the new and the old.
    ``quote_option`` is what was accepted, ``at`` the moment, now unless told.
    """
    if place.firm_id != person.firm_id or programme.firm_id != person.firm_id:
        raise Refused("programme", "This is not of your firm.", "Choose one of the list.")
    check_year(year)
    Programme.objects.select_for_update().get(pk=programme.pk)
    rounds = list(programme.rounds.all())
    made = set(
        Job.objects.filter(place=place, year=year, round__in=rounds).values_list("round", flat=True)
    )
    accepted = {} if quote_option is None else {"quote_option": quote_option}
    told: dict[str, Any] = accepted | {"made_by": person, "made_at": at or timezone.now()}
    for each in rounds:
        if each.pk not in made:
            job = Job(**_facts(each, place, year), **told)
            job.full_clean()
            job.save()
    return list(Job.objects.filter(place=place, year=year, round__in=rounds))


@transaction.atomic
def move_with_warmth(station: Station, *, on: date) -> list[Job]:
    """Move jobs that wait for warmth to the days that the readings tell. Gives those moved."""
    moved = []
    for job, window in windows_by_warmth(station, on=on):
        job.from_on, job.to_on = window.first, window.last
        job.full_clean()
        job.save()
        moved.append(job)
    return moved


def check_year(year: int) -> None:
    """Refuse a year in which nobody plans."""
    if not FIRST_YEAR <= year <= LAST_YEAR:
        remedy = f"Choose a year from {FIRST_YEAR} to {LAST_YEAR}."
        raise Refused("year", f"{year} cannot be right.", remedy)


def say_done(job: Job, *, on: date, person: Person, at: datetime) -> Job:
    """Say that a job was done on a day. Refused if the day has not come."""
    if on > at.date():
        remedy = "Say so once it is done."
        raise Refused("done_on", "This day has not come yet.", remedy)
    return _said(job, "done", person=person, at=at, done_on=on)


def settle(place: Property, mix: Mix, *, on: date, person: Person, at: datetime) -> Job | None:
    """Say that the job is done that asked for a mix on a property on a day, if one did.

    Of several the one that is due first.
    """
    due = Job.objects.filter(place=place, mix=mix, state="planned", from_on__lte=on)
    job = due.order_by("to_on", "pk").first()
    return None if job is None else say_done(job, on=on, person=person, at=at)


def skip(job: Job, *, why: str, person: Person, at: datetime) -> Job:
    """Say that a job is left out this time, and why."""
    return _said(job, "skipped", person=person, at=at, why=_reason(why))


def cancel(job: Job, *, why: str, person: Person, at: datetime) -> Job:
    """Say that a job is no longer wanted, and why."""
    return _said(job, "cancelled", person=person, at=at, why=_reason(why))


def plan_again(job: Job, *, person: Person, at: datetime) -> Job:
    """Take back what was said of a job: it is to be done after all."""
    return _said(job, "planned", person=person, at=at)


def _reason(why: str) -> str:
    if not why.strip():
        remedy = "Write a few words, for whoever asks later."
        raise Refused("why", "Nobody says why.", remedy)
    return why.strip()


def _said(
    job: Job,
    state: str,
    *,
    person: Person,
    at: datetime,
    done_on: date | None = None,
    why: str = "",
) -> Job:
    job.state, job.done_on, job.why = state, done_on, why
    job.said_by, job.said_at = person, at
    job.full_clean()
    job.save()
    return job


def _facts(each: Round, place: Property, year: int) -> dict[str, Any]:
    window = window_of(each, year)
    return {
        "firm": place.firm,
        "place": place,
        "programme": each.programme,
        "round": each,
        "year": year,
        "name": each.name,
        "mix": each.mix,
        "machine": each.machine,
        "hand_tool": each.hand_tool,
        "from_on": window.first,
        "to_on": window.last,
    }
