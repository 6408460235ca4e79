"""Working out what the planned jobs of a firm need: a few at once, many in the background."""

from collections.abc import Sequence
from datetime import date, datetime

from django.db import transaction
from django.urls import reverse
from django.utils import timezone
from django_tasks import task

from planner.models import Job, PlannedUse
from planner.selectors.needs import planned_needs, prints_of, work_out
from properties.models import Errand, Person
from properties.services.errands import Outcome, Progress, Write, begin, carry_out

#: So many jobs are worked out while somebody waits.
AT_ONCE = 12


def refresh_needs(person: Person, *, at: datetime) -> Errand | None:
    """Work out what is new or has changed; an errand does it where it would take long."""
    stale = planned_needs(person, on=at.date()).stale
    if len(stale) > AT_ONCE:
        return begin(
            person=person,
            task=work_out_needs,
            title=f"Work out what {len(stale):,} jobs need",
            about={"on": at.date().isoformat()},
            at=at,
        )
    _keep([_worked_out(person, job, at) for job in stale])
    return None


def keep_planned_use(person: Person, job: Job, *, at: datetime) -> None:
    """Work out what a planned job needs where nobody did yet."""
    if job.state == "planned" and not PlannedUse.objects.filter(job=job).exists():
        _keep([_worked_out(person, job, at)])


@task()
def work_out_needs(errand_id: int) -> None:
    """Work out what the planned jobs of a firm need."""
    carry_out(errand_id, _prepare)


def _prepare(errand: Errand, progress: Progress) -> Write:
    person = errand.asked_by
    on = date.fromisoformat(errand.about["on"])
    stale = [] if person is None else planned_needs(person, on=on).stale
    uses = []
    for number, job in enumerate(stale, start=1):
        progress.tell(number - 1, total=len(stale), message=str(job))
        if person is not None:
            uses.append(_worked_out(person, job, timezone.now()))
    progress.tell(len(stale), total=len(stale))

    def write() -> Outcome:
        _keep(uses)
        unknown = sum(bool(use.why_not) for use in uses)
        told = (
            f" Of {unknown} nobody can tell what they need; the list says why." if unknown else ""
        )
        return Outcome(f"{len(uses):,} jobs are worked out.{told}", reverse("buying"))

    return write


def _worked_out(person: Person, job: Job, at: datetime) -> PlannedUse:
    facts, why_not = work_out(person, job, on=at.date())
    return PlannedUse(
        job=job,
        made_of=prints_of([job])[job.pk],
        worked_out_at=at,
        facts=facts,
        why_not=why_not,
    )


@transaction.atomic
def _keep(uses: Sequence[PlannedUse]) -> None:
    PlannedUse.objects.filter(job__in=[use.job for use in uses]).delete()
    PlannedUse.objects.bulk_create(uses)
