"""Jobs are made once, and stay as they were made."""

from datetime import UTC, date, datetime

import pytest

from planner.models import Job, Programme
from planner.selectors.jobs import jobs_due
from planner.services.jobs import cancel, make_jobs, plan_again, say_done, skip
from planner.services.programmes import keep_programme
from properties.core.errors import Refused
from properties.models import Person, Property

AT = datetime(2026, 6, 12, 15, 0, tzinfo=UTC)


@pytest.fixture
def jobs(owner: Person, place: Property, programme: Programme) -> list[Job]:
    return make_jobs(owner, place, programme, 2026)


def test_every_round_becomes_a_job_with_its_days(jobs: list[Job]) -> None:
    assert [(job.name, job.from_on, job.to_on) for job in jobs] == [
        ("Spring", date(2026, 4, 10), date(2026, 4, 30)),
        ("Summer", date(2026, 6, 10), date(2026, 6, 30)),
        ("Autumn", date(2026, 9, 15), date(2026, 10, 5)),
    ]


def test_a_second_call_makes_nothing_twice(
    owner: Person, place: Property, programme: Programme, jobs: list[Job]
) -> None:
    cancel(jobs[1], why="Sold the house", person=owner, at=AT)

    again = make_jobs(owner, place, programme, 2026)

    assert [job.pk for job in again] == [job.pk for job in jobs]
    assert again[1].state == "cancelled"
    assert Job.objects.count() == 3


def test_another_year_has_jobs_of_its_own(
    owner: Person, place: Property, programme: Programme, jobs: list[Job]
) -> None:
    make_jobs(owner, place, programme, 2027)

    assert Job.objects.count() == 2 * len(jobs)


def test_a_round_added_later_becomes_the_only_new_job(
    owner: Person, place: Property, programme: Programme, jobs: list[Job]
) -> None:
    rounds = list(programme.rounds.all())
    late = programme.rounds.all()[0]
    late.pk, late.name, late.from_day, late.to_day = None, "Late", "11-01", "11-15"
    keep_programme(programme, rounds=[*rounds, late])

    again = make_jobs(owner, place, Programme.objects.get(pk=programme.pk), 2026)

    assert [job.name for job in again] == ["Spring", "Summer", "Autumn", "Late"]
    assert {job.pk for job in jobs} < {job.pk for job in again}


def test_a_job_stays_when_its_round_is_taken_out(programme: Programme, jobs: list[Job]) -> None:
    keep_programme(programme, rounds=list(programme.rounds.all())[:2])

    autumn = Job.objects.get(pk=jobs[2].pk)
    assert (autumn.name, autumn.round) == ("Autumn", None)


def test_the_programme_of_another_firm_makes_no_job(
    stranger: Person, place: Property, programme: Programme
) -> None:
    with pytest.raises(Refused, match="not of your firm"):
        make_jobs(stranger, place, programme, 2026)


def test_only_what_is_planned_and_open_is_due(owner: Person, jobs: list[Job]) -> None:
    assert [job.name for job in jobs_due(owner, on=AT.date())] == ["Spring", "Summer"]

    say_done(jobs[0], on=date(2026, 4, 12), person=owner, at=AT)
    skip(jobs[1], why="Too dry", person=owner, at=AT)

    assert list(jobs_due(owner, on=AT.date())) == []


def test_a_job_cannot_be_done_tomorrow(owner: Person, jobs: list[Job]) -> None:
    with pytest.raises(Refused, match="has not come yet"):
        say_done(jobs[0], on=date(2026, 6, 13), person=owner, at=AT)


def test_what_is_left_out_says_why(owner: Person, jobs: list[Job]) -> None:
    with pytest.raises(Refused, match="Nobody says why"):
        skip(jobs[0], why="  ", person=owner, at=AT)


def test_what_was_said_of_a_job_can_be_taken_back(owner: Person, jobs: list[Job]) -> None:
    done = say_done(jobs[0], on=date(2026, 4, 12), person=owner, at=AT)

    again = plan_again(done, person=owner, at=AT)

    assert (again.state, again.done_on) == ("planned", None)


def test_a_year_that_is_a_slip_is_refused(
    owner: Person, place: Property, programme: Programme
) -> None:
    with pytest.raises(Refused, match="20260 cannot be right"):
        make_jobs(owner, place, programme, 20260)
