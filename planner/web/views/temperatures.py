"""Pages about temperatures: stations, the table that comes in, and the degree days of a base."""

from typing import Any

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.views.decorators.http import require_http_methods, require_safe

from planner.models import Station
from planner.selectors.temperatures import missing_days, newest_days, stations_of
from planner.services.jobs import move_with_warmth
from planner.services.temperatures import keep_station, read_table
from planner.web.forms.temperatures import StationForm, TableForm
from properties.core.errors import FaultsFound, Refused
from properties.core.powers import Power
from properties.web.access import PersonRequest, signed_in, today_of, with_power
from properties.web.keeping import keep

DAYS_SHOWN = 31
UNIT_OF = {"us": "deg F", "metric": "deg C"}


@require_safe
@signed_in
def temperatures(request: PersonRequest) -> HttpResponse:
    """List the stations at which temperatures are read."""
    context = {"stations": stations_of(request.user)}
    return render(request, "planner/temperatures.html", context)


@require_http_methods(["GET", "POST"])
@with_power(Power.KEEP_PROGRAMMES)
def edit_station(request: PersonRequest, pk: int | None = None) -> HttpResponse:
    """Add a station, or change one."""
    row = (
        Station(firm=request.user.firm)
        if pk is None
        else get_object_or_404(stations_of(request.user), pk=pk)
    )
    form = StationForm(request.POST or None, instance=row)
    if form.is_valid():
        kept = keep(form, lambda: keep_station(form.save(commit=False)))
        if kept is not None:
            return redirect(kept)
    context = {"form": form, "station": row}
    return render(request, "planner/station_form.html", context, status=422 if form.errors else 200)


@require_http_methods(["GET", "POST"])
@signed_in
def station(request: PersonRequest, pk: int) -> HttpResponse:
    """Show what was read at a station, and take in a table of more."""
    found = get_object_or_404(stations_of(request.user), pk=pk)
    form = TableForm(
        request.POST or None,
        request.FILES or None,
        initial={"unit": UNIT_OF[request.user.units], "date_order": "ymd"},
    )
    faults: tuple[Refused, ...] = ()
    if form.is_valid():
        try:
            new, changed = _read(request, found, form.cleaned_data)
        except FaultsFound as several:
            faults = several.faults
        except Refused as refused:
            faults = (refused,)
        else:
            moved = move_with_warmth(found, on=today_of(request))
            words = f"{new} new days are kept, and {changed} that were there."
            if moved:
                words += f" {len(moved)} jobs that wait for warmth have other days now."
            messages.success(request, words)
            return redirect(found)
    context = {
        "station": found,
        "form": form,
        "faults": faults,
        "days": newest_days(found, DAYS_SHOWN),
        "missing": missing_days(found, year=today_of(request).year),
        "unit": UNIT_OF[request.user.units],
    }
    status = 422 if faults or form.errors else 200
    return render(request, "planner/station.html", context, status=status)


def _read(request: PersonRequest, found: Station, typed: dict[str, Any]) -> tuple[int, int]:
    return read_table(
        typed["table"],
        unit=typed["unit"],
        date_order=typed["date_order"],
        station=found,
        person=request.user,
    )
