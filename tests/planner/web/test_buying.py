"""The buying list on its page and as a file: what the jobs of a season need."""

import csv
import io
from datetime import UTC, datetime, timedelta
from decimal import Decimal

import pytest
from django.test import Client
from django.urls import reverse

from planner.models import Container, Job, Lot, PlannedUse, Programme
from planner.selectors.buying import Buying, buying_of
from planner.services.jobs import cancel, make_jobs
from planner.services.needs import AT_ONCE, refresh_needs, work_out_needs
from planner.web.tables import csv_file
from properties.models import Errand, Person, Property

NOON = datetime(2026, 4, 8, 12, 0, tzinfo=UTC)
YEAR = 2026


@pytest.fixture
def season(owner: Person, place: Property, programme: Programme) -> list[Job]:
    return make_jobs(owner, place, programme, YEAR, at=NOON)


def _buying(person: Person) -> Buying:
    return buying_of(person, on=NOON.date())


def test_what_nobody_worked_out_is_not_nothing(owner: Person, season: list[Job]) -> None:
    told = _buying(owner)

    assert told.needs.stale == season
    assert told.products == ()


def test_a_season_needs_what_its_plans_measure_out(
    owner: Person, season: list[Job], lot: Lot
) -> None:
    refresh_needs(owner, at=NOON)

    (herbicide,) = _buying(owner).products
    uses = PlannedUse.objects.filter(job__in=season)
    measured = sum(use.facts["products"][lot.product.name]["amount"] for use in uses)
    assert herbicide.list.total.jobs == 3
    assert herbicide.list.total.amount == pytest.approx(measured)
    # Nobody says how the lawn was measured, so the band holds the calibration alone.
    assert herbicide.list.total.without_range == 3
    assert herbicide.total.highest.si > herbicide.total.amount.si
    # 128 fl oz are there, and three rounds on a small lot need some 10.
    assert all(line.orders == () for line in herbicide.lines)


def test_a_surfactant_without_label_or_container_is_told_to_be_missing(
    owner: Person, season: list[Job]
) -> None:
    refresh_needs(owner, at=NOON)

    assert _buying(owner).unmeasured == ("Invented surfactant",)


def test_jugs_are_bought_in_time_where_none_are_there(
    owner: Person, season: list[Job], jug: Container
) -> None:
    refresh_needs(owner, at=NOON)

    (herbicide,) = _buying(owner).products
    april, june, september = herbicide.lines
    assert [(order.count, order.size) for order in april.orders] == [(1, jug.size)]
    # Ten days on the way, and the first job may begin on April 10, two days from now.
    assert april.is_late
    assert june.orders == september.orders == ()
    assert herbicide.list.cost == Decimal("48.00")


def test_a_job_is_worked_out_again_where_something_changed(
    owner: Person, season: list[Job], place: Property
) -> None:
    refresh_needs(owner, at=NOON)
    assert _buying(owner).needs.stale == []

    place.drawing_number += 1
    place.save()

    assert len(_buying(owner).needs.stale) == 3


def test_a_cancelled_job_needs_nothing(owner: Person, season: list[Job]) -> None:
    refresh_needs(owner, at=NOON)

    cancel(season[0], why="Sold the house", person=owner, at=NOON)

    (herbicide,) = _buying(owner).products
    assert herbicide.list.total.jobs == 2


def test_a_job_whose_days_are_long_over_is_left_out_and_told(
    owner: Person, season: list[Job]
) -> None:
    over = NOON.date() - timedelta(days=31)
    Job.objects.filter(pk=season[0].pk).update(from_on=over, to_on=over)

    told = _buying(owner)

    assert told.needs.missed == [season[0]]
    assert told.needs.stale == season[1:]


def test_a_job_that_cannot_be_planned_says_why(owner: Person, season: list[Job]) -> None:
    Job.objects.filter(pk=season[1].pk).update(machine=None)
    refresh_needs(owner, at=NOON)

    told = _buying(owner)

    assert [(each.job, each.why) for each in told.needs.unplanned] == [
        (season[1], "Nobody says with which machine. Choose one in the season.")
    ]


def test_many_jobs_are_worked_out_in_the_background(owner: Person, season: list[Job]) -> None:
    for number in range(AT_ONCE):
        Job.objects.create(
            firm=owner.firm,
            place=season[0].place,
            name=f"Extra {number}",
            mix=season[0].mix,
            machine=None,
            year=YEAR,
            from_on=season[0].from_on,
            to_on=season[0].to_on,
            made_at=NOON,
        )

    errand = refresh_needs(owner, at=NOON)

    assert errand is not None
    work_out_needs.call(errand.pk)
    done = Errand.objects.get(pk=errand.pk)
    assert done.state == Errand.State.DONE
    assert done.message.startswith("15 jobs are worked out. Of 12 nobody can tell")
    assert PlannedUse.objects.count() == 15


def _cells(content: bytes) -> list[list[str]]:
    return list(csv.reader(io.StringIO(content.decode("utf-8-sig"))))


@pytest.mark.usefixtures("jug")
def test_the_list_is_a_page_and_a_file(
    client: Client, owner: Person, place: Property, programme: Programme
) -> None:
    now = datetime.now(tz=UTC)
    for year in (now.year, now.year + 1):
        make_jobs(owner, place, programme, year, at=now)
    client.force_login(owner)
    client.post(reverse("refresh_buying"))

    page = client.get(reverse("buying"), {"by": "week"}).content.decode()
    rows = _cells(client.get(reverse("buying_csv")).content)

    assert "Invented broadleaf herbicide" in page
    assert "Week of" in page
    assert {len(row) for row in rows} == {15}


@pytest.mark.parametrize("name", ["=1+1", "+1", "-1", "@SUM(A1)", "\t=1", "  =1", "＝1"])  # noqa: RUF001
def test_no_cell_comes_to_life_in_a_spreadsheet(name: str) -> None:
    ((cell, number),) = _cells(csv_file("list.csv", [[name, -1.5]]).content)

    assert cell == f"'{name}"
    assert number == "-1.5"


@pytest.mark.parametrize("name", ["buying_csv", "refresh_buying"])
def test_the_crew_does_not_order(client: Client, crew: Person, name: str) -> None:
    client.force_login(crew)

    answer = client.get(reverse(name)) if name == "buying_csv" else client.post(reverse(name))

    assert answer.status_code == 403
