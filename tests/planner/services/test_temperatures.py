"""Temperatures are kept day by day; what a later table does not tell stays."""

from datetime import date

import pytest

from planner.models import DailyTemperature, Station
from planner.selectors.temperatures import missing_days, station_for
from planner.services.temperatures import go_by, keep_station, read_table
from properties.core.errors import FaultsFound, Refused
from properties.core.units import Quantity
from properties.models import Firm, Person, Property


@pytest.fixture
def yard(firm: Firm) -> Station:
    return keep_station(Station(firm=firm, name="Yard"))


def _read(text: str, station: Station, person: Person) -> tuple[int, int]:
    return read_table(text, unit="deg F", date_order="ymd", station=station, person=person)


def test_soil_sent_later_joins_the_air_of_the_same_day(yard: Station, owner: Person) -> None:
    first = _read("date,max,min\n2026-03-01,50,30\n2026-03-02,52,31", yard, owner)
    second = _read("date,soil\n2026-03-02,41\n2026-03-03,42", yard, owner)

    assert (first, second) == ((2, 0), (1, 1))
    day = yard.days.get(on=date(2026, 3, 2))
    assert (day.high, day.soil) == (Quantity(52, "deg F"), Quantity(41, "deg F"))


def test_one_bad_row_keeps_all_of_them_out(yard: Station, owner: Person) -> None:
    with pytest.raises(FaultsFound):
        _read("date,max,min\n2026-03-01,50,30\n2026-03-02,cold,31", yard, owner)

    assert not DailyTemperature.objects.exists()


def test_a_lowest_above_the_highest_of_another_table_is_refused(
    yard: Station, owner: Person
) -> None:
    _read("date,max,min\n2026-03-01,50,30", yard, owner)

    with pytest.raises(Refused, match="below the lowest") as refused:
        _read("date,max,min,soil\n2026-03-01,,55,40", yard, owner)

    assert refused.value.field == "line 2"
    assert yard.days.get().low == Quantity(30, "deg F")


def test_days_that_nobody_read_are_found(yard: Station, owner: Person) -> None:
    _read("date,max,min\n2026-03-01,50,30\n2026-03-02,50,\n2026-03-04,50,30", yard, owner)

    assert missing_days(yard, year=2025) == []
    assert missing_days(yard, year=2026) == [date(2026, 3, 2), date(2026, 3, 3)]


def test_a_property_goes_by_its_own_station_else_by_the_first(
    firm: Firm, yard: Station, place: Property
) -> None:
    before = station_for(place)
    hill = keep_station(Station(firm=firm, name="Hill"))
    go_by(place, hill)
    after = station_for(place)
    go_by(place, yard)

    assert (before, after, station_for(place)) == (yard, hill, yard)
    assert not hill.places.exists()
