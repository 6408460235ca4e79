"""Keeping stations and what was read at them."""

from collections.abc import Iterable

from django.db import transaction

from planner.core.season.temperature_table import TEMPERATURES, TemperatureRow, read_temperatures
from planner.models import DailyTemperature, Station
from properties.core.errors import Refused
from properties.models import Person, Property


def keep_station(station: Station) -> Station:
    """Keep a station."""
    station.full_clean()
    station.save()
    return station


@transaction.atomic
def go_by(place: Property, station: Station) -> None:
    """Let a property go by a station, and by no other."""
    if station.firm_id != place.firm_id:
        raise Refused("station", "This is not of your firm.", "Choose one of the list.")
    for other in Station.objects.filter(places=place):
        other.places.remove(place)
    station.places.add(place)


def read_table(
    text: str, *, unit: str, date_order: str, station: Station, person: Person
) -> tuple[int, int]:
    """Keep every day of a table: how many were new, and how many were there and are mended.

    FaultsFound with every fault and its line, and then nothing is kept.
    """
    rows = read_temperatures(text, unit=unit, date_order=date_order)
    return keep_days(rows, station=station, person=person)


@transaction.atomic
def keep_days(
    rows: Iterable[TemperatureRow], *, station: Station, person: Person
) -> tuple[int, int]:
    """Keep days that were read. What a row does not tell stays as it was on that day."""
    told = list(rows)
    there = {day.on: day for day in station.days.filter(on__in=[row.on for row in told])}
    new, changed = [], []
    for row in told:
        day = there.get(row.on)
        if day is None:
            new.append(DailyTemperature(station=station, on=row.on))
        else:
            changed.append(day)
        kept = new[-1] if day is None else day
        for name in ("high", "low", "soil"):
            if getattr(row, name) is not None:
                setattr(kept, name, getattr(row, name))
        _check(kept, line=row.line)
        kept.entered_by = person
    DailyTemperature.objects.bulk_create(new)
    DailyTemperature.objects.bulk_update(changed, ["high", "low", "soil", "entered_by"])
    return len(new), len(changed)


def keep_day(day: DailyTemperature) -> DailyTemperature:
    """Keep one day. Refused where a temperature cannot be right."""
    for name in ("high", "low", "soil"):
        if (read := getattr(day, name)) is not None:
            TEMPERATURES.check(read, field=name)
    _check(day, line=0)
    day.full_clean()
    day.save()
    return day


def _check(day: DailyTemperature, *, line: int) -> None:
    """Refuse a highest below the lowest, also where one of them was read before."""
    if day.high is not None and day.low is not None and day.high.si < day.low.si:
        raise Refused(
            f"line {line}" if line else "high",
            f"The highest of {day.on}, {day.high}, is below the lowest, {day.low}.",
            "Exchange the two, or correct one.",
        )
