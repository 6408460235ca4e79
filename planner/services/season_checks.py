"""Checking a programme at every property: a few at once, many in the background."""

from collections.abc import Sequence
from datetime import date, datetime

from django.db import transaction
from django.urls import reverse
from django.utils import timezone
from django_tasks import task

from planner.models import Programme, SeasonFinding
from planner.selectors.programmes import programmes_of
from planner.selectors.season_findings import places_to_check
from planner.selectors.seasons import season_of
from planner.services.jobs import check_year
from properties.core.errors import Refused
from properties.models import Errand, Person, Property
from properties.services.errands import Outcome, Progress, Write, begin, carry_out

#: So many properties are checked while somebody waits.
AT_ONCE = 6


def check_everywhere(
    person: Person, programme: Programme, year: int, *, at: datetime
) -> Errand | None:
    """Check a programme at every property; an errand does it where it would take long."""
    check_year(year)
    places = places_to_check(person)
    count = places.count()
    if count > AT_ONCE:
        return begin(
            person=person,
            task=check_in_background,
            title=f"Check {programme}, {year}, at {count:,} properties",
            about={"programme": programme.pk, "year": year, "on": at.date().isoformat()},
            at=at,
        )
    found = [_finding(person, place, programme, year, on=at.date()) for place in places]
    _keep(found, programme, year)
    return None


@task()
def check_in_background(errand_id: int) -> None:
    """Check a programme at every property of a firm."""
    carry_out(errand_id, _prepare)


def _prepare(errand: Errand, progress: Progress) -> Write:
    person, year = errand.asked_by, int(errand.about["year"])
    if person is None:
        raise Refused("", "Whoever asked for this has left.", "Ask for it again.")
    programme = programmes_of(person).get(pk=errand.about["programme"])
    on = date.fromisoformat(errand.about["on"])
    places = list(places_to_check(person))
    found = []
    for number, place in enumerate(places):
        progress.tell(number, total=len(places), message=str(place))
        found.append(_finding(person, place, programme, year, on=on))
    progress.tell(len(places), total=len(places))

    def write() -> Outcome:
        _keep(found, programme, year)
        refused = sum(each.worst == "refused" for each in found)
        return Outcome(
            f"Properties checked: {len(found):,}. Where a round does not fit: {refused:,}.",
            f"{reverse('check_programme', args=[programme.pk])}?year={year}",
        )

    return write


def _finding(
    person: Person, place: Property, programme: Programme, year: int, *, on: date
) -> SeasonFinding:
    season = season_of(person, place, programme, year, on=on)
    return SeasonFinding(
        programme=programme,
        place=place,
        year=year,
        worst=season.worst,
        rounds=[
            [each.round.name, each.outcome] for each in season.rounds if each.outcome != "fits"
        ],
        unfit=list(season.unfit),
        checked_at=timezone.now(),
    )


@transaction.atomic
def _keep(found: Sequence[SeasonFinding], programme: Programme, year: int) -> None:
    SeasonFinding.objects.filter(programme=programme, year=year).delete()
    SeasonFinding.objects.bulk_create(found)
