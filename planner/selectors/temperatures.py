"""Temperatures of a person's firm, and what they say of the window of a round."""

from collections.abc import Sequence
from datetime import date, timedelta

from django.db.models import Count, Max, QuerySet

from planner.core.season.degree_days import Formula, Scale
from planner.core.season.openings import (
    DegreeDayTrigger,
    Opening,
    SoilTrigger,
    State,
    Trigger,
    opening_of,
)
from planner.core.season.readings import Reading, SoilRule
from planner.core.season.windows import Window, day_of_every_year
from planner.models import DailyTemperature, Job, Round, Station
from planner.selectors.programmes import window_of
from properties.core.errors import Refused
from properties.core.units import Quantity
from properties.models import Person, Property


def stations_of(person: Person) -> QuerySet[Station]:
    """List the stations of a person's firm, each with its number of days and the last of them."""
    return Station.objects.filter(firm=person.firm_id).annotate(
        day_count=Count("days"), last_on=Max("days__on")
    )


def station_for(place: Property) -> Station | None:
    """Find the station that a property goes by: its own, else the first of the firm."""
    own = Station.objects.filter(places=place).first()
    return own or Station.objects.filter(firm=place.firm_id).first()


def readings_of(station: Station | None, year: int) -> list[Reading]:
    """List what was read at a station in a year and the year after it."""
    if station is None:
        return []
    rows = station.days.filter(on__year__in=(year, year + 1))
    return [Reading(row.on, _c(row.high), _c(row.low), _c(row.soil)) for row in rows]


def newest_days(station: Station, count: int) -> list[DailyTemperature]:
    """List the days that were read last at a station, the newest first."""
    return list(station.days.order_by("-on")[:count])


def missing_days(station: Station, *, year: int) -> list[date]:
    """List the days of a year between the first and the last of which nobody read both ends."""
    read = set(
        station.days.filter(on__year=year, high__isnull=False, low__isnull=False).values_list(
            "on", flat=True
        )
    )
    if not read:
        return []
    first, last = min(read), max(read)
    days = (first + timedelta(days=n) for n in range((last - first).days))
    return [day for day in days if day not in read]


def trigger_of(round_: Round, year: int) -> Trigger | None:
    """Write what opens a round in a year, None where its dates do. Refused if it is half told."""
    if round_.opened_by == "dates":
        return None
    since = day_of_every_year(round_.counted_from, field="counted_from").in_year(year)
    if round_.opened_by == "soil":
        at, days = _told(round_.soil_at, "soil_at"), round_.soil_days
        if not days:
            raise Refused("soil_days", "Nobody says for how many days.", "Enter a number of days.")
        is_falling = round_.soil_way == "falling"
        return SoilTrigger(SoilRule(at.si, days, is_falling=is_falling), since)
    return DegreeDayTrigger(
        scale_of(round_),
        since,
        first=_told(round_.degree_days_from, "degree_days_from").si,
        last=_told(round_.degree_days_to, "degree_days_to").si,
    )


def scale_of(round_: Round) -> Scale:
    """Write how degree days are counted for a round. Refused where that is half told."""
    base_c, formula = _told(round_.base, "base").si, Formula(round_.formula)
    if formula is Formula.AVERAGING or round_.cut_off is None:
        return Scale(base_c, formula).check()
    return Scale(base_c, formula, round_.cut_off.si).check()


def job_window(
    usual: Window, round_: Round, readings: Sequence[Reading], year: int, *, on: date
) -> Opening:
    """Find how the window of a round stands on a day. Refused where its trigger is half told."""
    return opening_of(usual, trigger_of(round_, year), readings, on=on)


def windows_by_warmth(station: Station, *, on: date) -> list[tuple[Job, Window]]:
    """List planned jobs that wait for warmth at a station, with the days to expect them on now.

    Where the readings cannot tell, a job keeps the days it has.
    """
    found = []
    jobs = Job.objects.filter(
        firm=station.firm_id, state="planned", round__isnull=False, year__gte=on.year - 1
    ).exclude(round__opened_by="dates")
    readings: dict[int, list[Reading]] = {}
    for job in jobs.select_related("round", "place"):
        if job.round is None or station_for(job.place) != station:
            continue
        if job.year not in readings:
            readings[job.year] = readings_of(station, job.year)
        try:
            usual = window_of(job.round, job.year)
            opening = job_window(usual, job.round, readings[job.year], job.year, on=on)
        except Refused:
            continue
        window = opening.expected
        if opening.state is not State.UNKNOWN and (job.from_on, job.to_on) != (
            window.first,
            window.last,
        ):
            found.append((job, window))
    return found


def _told(quantity: Quantity | None, field: str) -> Quantity:
    if quantity is None:
        raise Refused(field, "This is missing.", "Enter a number.")
    return quantity


def _c(temperature: Quantity | None) -> float | None:
    return None if temperature is None else temperature.si
