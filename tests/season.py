"""An invented programme of three rounds for page tests."""

from datetime import UTC, datetime

import pytest

from planner.models import Job, Machine, Mix, Programme, Round, Station
from planner.services.jobs import make_jobs
from planner.services.programmes import keep_programme
from planner.services.temperatures import keep_station, read_table
from properties.models import Firm, Person, Property

MADE_AT = datetime(2026, 4, 8, 12, 30, tzinfo=UTC)


@pytest.fixture
def programme(firm: Firm, machine: Machine, mix: Mix) -> Programme:
    """The herbicide three times: in spring, in summer and in autumn."""
    days = {
        "Spring": ("04-10", "04-30"),
        "Summer": ("06-10", "06-30"),
        "Autumn": ("09-15", "10-05"),
    }
    return keep_programme(
        Programme(firm=firm, name="Weeds all year"),
        rounds=[
            Round(name=name, from_day=first, to_day=last, mix=mix, machine=machine)
            for name, (first, last) in days.items()
        ],
    )


@pytest.fixture
def job(owner: Person, place: Property, programme: Programme) -> Job:
    """The spring round of 2026 on the small lot."""
    return make_jobs(owner, place, programme, 2026, at=MADE_AT)[0]


@pytest.fixture
def station(firm: Firm, owner: Person) -> Station:
    """A yard thermometer, read for two days."""
    kept = keep_station(Station(firm=firm, name="Yard thermometer", source="Read by the crew"))
    table = "date,max,min,soil\n2026-03-01,51,33,41\n2026-03-02,48,30,40\n"
    read_table(table, unit="deg F", date_order="ymd", station=kept, person=owner)
    return kept
