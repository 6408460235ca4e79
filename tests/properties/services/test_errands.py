"""Long work: begun, told of, stopped, broken off, begun again; never half written."""

from collections.abc import Callable
from datetime import timedelta

import pytest
from django.utils import timezone
from django_tasks import task
from django_tasks_db.models import DBTaskResult

from properties.core.errors import Refused
from properties.models import Customer, Errand, Person
from properties.selectors.errands import SILENT_AFTER, TAKEN_UP_WITHIN, Standing, standing_of
from properties.services.errands import (
    Outcome,
    Progress,
    Write,
    begin,
    begin_again,
    carry_out,
    do_here,
    stop,
)

STEPS = 4


@task()
def add_customers(errand_id: int) -> None:
    carry_out(errand_id, _add_customers)


def _add_customers(errand: Errand, progress: Progress) -> Write:
    for step in range(STEPS + 1):
        progress.tell(step, total=STEPS)
    return lambda: _write(errand)


def _write(errand: Errand) -> Outcome:
    for name in errand.about["names"]:
        Customer.objects.create(firm=errand.firm, name=name)
        if name == "a hole":
            raise RuntimeError("The ground gave way.")
    return Outcome("All are there.", "/properties/")


@task()
def refuse(errand_id: int) -> None:
    carry_out(errand_id, _refuse)


def _refuse(_errand: Errand, _progress: Progress) -> Write:
    raise Refused("sheet", "The sheet has changed.", "Look at it again.")


@pytest.fixture
def kept(settings: object) -> None:
    """Leave errands in the table, as the service does."""
    settings.TASKS = {  # type: ignore[attr-defined]
        "default": {"BACKEND": "django_tasks_db.DatabaseBackend"}
    }


Ask = Callable[..., Errand]


@pytest.fixture
def ask(owner: Person) -> Ask:
    def asked(*names: str, which: object = add_customers) -> Errand:
        errand = begin(
            person=owner,
            task=which,  # type: ignore[arg-type]
            title="Add customers",
            about={"names": names},
            at=timezone.now(),
        )
        errand.refresh_from_db()
        return errand

    return asked


def _names() -> list[str]:
    return list(Customer.objects.values_list("name", flat=True))


def test_an_errand_writes_what_it_was_asked_for_and_says_so(ask: Ask) -> None:
    errand = ask("Ash", "Birch")

    assert (errand.state, errand.done, errand.total) == ("done", STEPS, STEPS)
    assert (errand.message, errand.outcome_url) == ("All are there.", "/properties/")
    assert _names() == ["Ash", "Birch"]


def test_an_errand_that_breaks_in_the_middle_of_writing_has_written_nothing(ask: Ask) -> None:
    errand = ask("Ash", "a hole", "Birch")

    assert errand.state == "failed"
    assert "Nothing was written" in errand.message
    assert _names() == []


def test_a_refusal_is_told_in_its_own_words(ask: Ask) -> None:
    errand = ask(which=refuse)

    assert errand.state == "failed"
    assert errand.message == "The sheet has changed. Look at it again. Nothing was written."


@pytest.mark.usefixtures("kept")
def test_an_errand_waits_in_the_table_for_a_worker(ask: Ask) -> None:
    errand = ask("Ash")

    assert standing_of(errand, now=timezone.now()) == Standing.WAITING
    assert DBTaskResult.objects.get().task_path.endswith("add_customers")


@pytest.mark.usefixtures("kept")
def test_an_errand_that_nobody_takes_up_says_so_and_can_be_done_here(ask: Ask) -> None:
    errand = ask("Ash")
    later = errand.asked_at + TAKEN_UP_WITHIN + timedelta(seconds=1)

    assert standing_of(errand, now=later) == Standing.NO_WORKER
    do_here(errand, at=later)

    assert _names() == ["Ash"]


@pytest.mark.usefixtures("kept")
def test_an_errand_behind_another_one_has_a_worker_and_waits(ask: Ask) -> None:
    errand, other = ask("Ash"), ask("Birch")
    later = errand.asked_at + TAKEN_UP_WITHIN + timedelta(seconds=1)
    Errand.objects.filter(pk=other.pk).update(state="running", heard_at=later)

    assert standing_of(errand, now=later) == Standing.WAITING
    with pytest.raises(Refused):
        do_here(errand, at=later)


@pytest.mark.usefixtures("kept")
def test_a_waiting_errand_that_is_stopped_is_not_done_by_a_worker_that_comes(ask: Ask) -> None:
    errand = stop(ask("Ash"), at=timezone.now())

    add_customers.call(errand.pk)

    errand.refresh_from_db()
    assert (errand.state, _names()) == ("stopped", [])


@pytest.mark.usefixtures("kept")
@pytest.mark.parametrize("when", ["while it prepares", "before it writes"])
def test_a_running_errand_that_is_stopped_writes_nothing(ask: Ask, when: str) -> None:
    errand = ask("Ash")

    def prepare(run: Errand, progress: Progress) -> Write:
        stop(run, at=timezone.now())
        if when == "while it prepares":
            progress.tell(1, total=STEPS)
            pytest.fail("It went on after it was stopped.")
        return lambda: _write(run)

    carry_out(errand.pk, prepare)

    errand.refresh_from_db()
    assert errand.state == "stopped"
    assert _names() == []


@pytest.mark.usefixtures("kept")
def test_an_errand_is_carried_out_once_however_often_it_is_taken_up(ask: Ask) -> None:
    errand = ask("Ash")

    add_customers.call(errand.pk)
    add_customers.call(errand.pk)

    assert _names() == ["Ash"]


def _broken_off(errand: Errand) -> Errand:
    """As a worker leaves it that was killed two minutes ago."""
    heard_at = timezone.now() - 2 * SILENT_AFTER
    Errand.objects.filter(pk=errand.pk).update(
        state="running", attempt=1, begun_at=heard_at, heard_at=heard_at
    )
    errand.refresh_from_db()
    return errand


@pytest.mark.usefixtures("kept")
def test_an_errand_that_broke_off_is_begun_again_from_the_start(ask: Ask) -> None:
    errand = _broken_off(ask("Ash"))
    now = timezone.now()

    assert standing_of(errand, now=now) == Standing.BROKEN_OFF
    begin_again(errand, at=now)
    assert DBTaskResult.objects.count() == 2
    add_customers.call(errand.pk)

    assert _names() == ["Ash"]


@pytest.mark.usefixtures("kept")
def test_a_run_that_was_taken_for_dead_and_wakes_writes_nothing(ask: Ask) -> None:
    errand = ask("Ash")

    def prepare(run: Errand, _progress: Progress) -> Write:
        begin_again(_broken_off(run), at=timezone.now())
        add_customers.call(run.pk)
        return lambda: _write(run)

    carry_out(errand.pk, prepare)

    errand.refresh_from_db()
    assert (errand.state, _names()) == ("done", ["Ash"])


def test_what_is_done_cannot_be_begun_again(ask: Ask) -> None:
    errand = ask("Ash")

    with pytest.raises(Refused):
        begin_again(errand, at=timezone.now())


@pytest.mark.usefixtures("kept")
def test_an_errand_that_broke_off_is_stopped_at_once(ask: Ask) -> None:
    errand = stop(_broken_off(ask("Ash")), at=timezone.now())

    assert errand.state == "stopped"


@pytest.mark.django_db(transaction=True)
@pytest.mark.usefixtures("kept")
def test_a_worker_takes_up_what_waits(ask: Ask) -> None:
    from django.core.management import call_command  # noqa: PLC0415

    ask("Ash")

    call_command("db_worker", "--batch", "--no-startup-delay", verbosity=0)

    assert _names() == ["Ash"]
