"""Errands of a person's firm, and where one stands in the eyes of somebody who waits."""

from datetime import datetime, timedelta
from enum import StrEnum

from django.db.models import QuerySet

from properties.core.powers import Power
from properties.models import Errand, Person

#: A run that has said nothing for so long is taken for dead; each tells far more often.
SILENT_AFTER = timedelta(seconds=60)
#: A worker looks every second, so an errand nobody took up for so long has no worker.
TAKEN_UP_WITHIN = timedelta(seconds=10)


class Standing(StrEnum):
    """Where an errand stands, also where its row alone cannot know."""

    WAITING = "waiting"
    NO_WORKER = "no_worker"
    RUNNING = "running"
    STOPPING = "stopping"
    BROKEN_OFF = "broken_off"
    DONE = "done"
    STOPPED = "stopped"
    FAILED = "failed"


ENDED = frozenset({Standing.DONE, Standing.STOPPED, Standing.FAILED})
MAY_BEGIN_AGAIN = frozenset({Standing.BROKEN_OFF, Standing.STOPPED, Standing.FAILED})


def errands_of(person: Person) -> QuerySet[Errand]:
    """List the errands of a person's firm, newest first."""
    return Errand.objects.filter(firm=person.firm_id).select_related("asked_by")


def may_direct(person: Person, errand: Errand) -> bool:
    """Say whether a person may stop an errand: their own, or any where they run the firm."""
    return errand.asked_by_id == person.pk or person.may(Power.RUN_FIRM)


def standing_of(errand: Errand, *, now: datetime) -> Standing:
    """Say where an errand stands at a moment."""
    if errand.state == Errand.State.WAITING:
        return Standing.NO_WORKER if _nobody_works(errand, now) else Standing.WAITING
    if errand.state != Errand.State.RUNNING:
        return Standing(errand.state)
    if is_silent(errand, now=now):
        return Standing.BROKEN_OFF
    return Standing.STOPPING if errand.stop_asked_at else Standing.RUNNING


def is_silent(errand: Errand, *, now: datetime) -> bool:
    """Say whether a run has not been heard of for so long that it must be dead."""
    return errand.heard_at is None or now - errand.heard_at > SILENT_AFTER


def _nobody_works(errand: Errand, now: datetime) -> bool:
    """Nobody took it up, and no other errand of any firm keeps the worker busy."""
    if now - errand.asked_at <= TAKEN_UP_WITHIN:
        return False
    return not Errand.objects.filter(
        state=Errand.State.RUNNING, heard_at__gte=now - SILENT_AFTER
    ).exists()
