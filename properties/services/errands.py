"""Beginning an errand, carrying it out, stopping it.

An errand first prepares all that it will write, and tells how far it is. Then it
writes everything in one transaction, in which its row is marked as done too. So
wherever it is stopped or killed, nothing is written and it can be begun again.
"""

import time
from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from django.db import transaction
from django.db.models import QuerySet
from django.utils import timezone
from django.utils.module_loading import import_string
from django_tasks.base import Task

from properties.core.errors import Refused
from properties.models import Errand, Person
from properties.selectors.errands import MAY_BEGIN_AGAIN, Standing, is_silent, standing_of

#: Between two words about how far it is. [s]
TOLD_EVERY_S = 0.5
NOTHING_WRITTEN = "Nothing was written."


class Stopped(Exception):
    """Somebody stopped the errand, or another run took its place."""


@dataclass(frozen=True)
class Outcome:
    """What came of an errand: a sentence, and the page that shows it."""

    message: str
    url: str = ""


Write = Callable[[], Outcome]


class Progress:
    """Tells how far one run of an errand is, and hears whether it shall stop."""

    def __init__(self, errand: Errand) -> None:
        self._errand = errand
        self._told_s = float("-inf")

    def tell(self, done: int, *, total: int, message: str = "") -> None:
        """Say that so many of so many steps are done; raises Stopped where it shall stop."""
        now_s = time.monotonic()
        if now_s - self._told_s < TOLD_EVERY_S and done < total:
            return
        self._told_s = now_s
        heard = _present_run(self._errand).update(
            done=done, total=total, message=message, heard_at=timezone.now()
        )
        if not heard:
            raise Stopped


Prepare = Callable[[Errand, Progress], Write]


def _present_run(errand: Errand) -> QuerySet[Errand]:
    """The row of an errand, if this run of it is still wanted."""
    return Errand.objects.filter(
        pk=errand.pk,
        state=Errand.State.RUNNING,
        attempt=errand.attempt,
        stop_asked_at=None,
    )


@transaction.atomic
def begin(
    *, person: Person, task: Task[[int], None], title: str, about: dict[str, Any], at: datetime
) -> Errand:
    """Ask for an errand: the next worker that is free carries it out."""
    errand = Errand(
        firm=person.firm,
        asked_by=person,
        task=task.module_path,
        title=title,
        about=about,
        asked_at=at,
    )
    errand.full_clean()
    errand.save()
    task.enqueue(errand.pk)
    return errand


def carry_out(errand_id: int, prepare: Prepare) -> None:
    """Do an errand that waits; one that does not is left alone."""
    errand = _take_up(errand_id)
    if errand is None:
        return
    try:
        write = prepare(errand, Progress(errand))
        with transaction.atomic():
            _hold(errand)
            outcome = write()
            _end(errand, Errand.State.DONE, outcome.message, outcome.url)
    except Stopped:
        _end(errand, Errand.State.STOPPED, f"Stopped. {NOTHING_WRITTEN}")
    except Refused as refused:
        _end(errand, Errand.State.FAILED, f"{refused} {NOTHING_WRITTEN}")
    except Exception:
        _end(
            errand,
            Errand.State.FAILED,
            f"Something broke on our side. {NOTHING_WRITTEN} It can be begun again.",
        )
        raise


def _take_up(errand_id: int) -> Errand | None:
    """Make an errand that waits the one that is carried out here."""
    now = timezone.now()
    with transaction.atomic():
        errand = Errand.objects.select_for_update().filter(pk=errand_id).first()
        if errand is None or errand.state != Errand.State.WAITING:
            return None
        errand.state, errand.attempt = Errand.State.RUNNING, errand.attempt + 1
        errand.begun_at = errand.heard_at = now
        errand.save()
    return errand


def _hold(errand: Errand) -> None:
    """Lock the row of a run that is still wanted, so that whoever stops it waits for its end."""
    if not _present_run(errand).update(heard_at=timezone.now()):
        raise Stopped


def _end(errand: Errand, state: str, message: str, url: str = "") -> None:
    """Close this run; a run that was taken for dead leaves the row to its successor."""
    now = timezone.now()
    row = Errand.objects.filter(pk=errand.pk, state=Errand.State.RUNNING, attempt=errand.attempt)
    row.update(state=state, message=message, outcome_url=url, heard_at=now, ended_at=now)


@transaction.atomic
def stop(errand: Errand, *, at: datetime) -> Errand:
    """Stop an errand: at once where nobody carries it out, else at its next step."""
    errand = Errand.objects.select_for_update().get(pk=errand.pk)
    if errand.state == Errand.State.WAITING or (
        errand.state == Errand.State.RUNNING and is_silent(errand, now=at)
    ):
        errand.state, errand.ended_at = Errand.State.STOPPED, at
        errand.message = f"Stopped. {NOTHING_WRITTEN}"
    elif errand.state == Errand.State.RUNNING:
        errand.stop_asked_at = errand.stop_asked_at or at
    errand.save()
    return errand


@transaction.atomic
def begin_again(errand: Errand, *, at: datetime) -> Errand:
    """Begin an errand from the start that was stopped, failed or broke off."""
    errand = Errand.objects.select_for_update().get(pk=errand.pk)
    if standing_of(errand, now=at) not in MAY_BEGIN_AGAIN:
        raise Refused("errand", "This is not at a standstill.", "Look at its page again.")
    errand.state, errand.message = Errand.State.WAITING, ""
    errand.done = errand.total = 0
    errand.stop_asked_at = errand.ended_at = errand.heard_at = errand.begun_at = None
    errand.asked_at = at
    errand.save()
    import_string(errand.task).enqueue(errand.pk)
    return errand


def do_here(errand: Errand, *, at: datetime) -> None:
    """Carry an errand out at once, where no worker takes it up."""
    if standing_of(errand, now=at) != Standing.NO_WORKER:
        raise Refused("errand", "A worker has it in hand.", "Look at its page again.")
    import_string(errand.task).call(errand.pk)
