"""Pages about a season: the calendar and what is due, and the season of one property."""

from typing import Any

from django.contrib import messages
from django.core.paginator import Paginator
from django.db.models import Count, Q, QuerySet
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from planner.models import Job
from planner.selectors.jobs import jobs_due, jobs_of
from planner.selectors.programmes import offered_to, programmes_of
from planner.selectors.seasons import season_of
from planner.selectors.temperatures import station_for, stations_of
from planner.selectors.yearly_rooms import yearly_rooms
from planner.services.jobs import cancel, make_jobs, plan_again, say_done, skip
from planner.services.temperatures import go_by
from planner.web.forms.jobs import JobForm
from planner.web.season_sheet import (
    looks_of,
    programme_calendar,
    rooms_sheet,
    rounds_sheet,
    season_calendar,
)
from planner.web.years import year_asked
from properties.core.errors import FaultsFound, Refused
from properties.core.powers import Power
from properties.models import Property
from properties.selectors.places import properties_of
from properties.web.access import PersonRequest, signed_in, today_of, with_power
from properties.web.keeping import keep

MOST_DUE, MOST_COMING, PLACES_SHOWN = 100, 20, 50


@require_safe
@signed_in
def season(request: PersonRequest) -> HttpResponse:
    """Show the rounds of a year, what is due, and which properties have a season."""
    person, today = request.user, today_of(request)
    year = year_asked(request, today)
    programmes = list(offered_to(person))
    context = {
        "year": year,
        "today": today,
        "programmes": [(each, programme_calendar(each, year, today=today)) for each in programmes],
        "retired": programmes_of(person).filter(is_retired=True),
        "due": jobs_due(person, on=today)[:MOST_DUE],
        "coming": jobs_of(person).filter(state="planned", from_on__gt=today)[:MOST_COMING],
        "page": Paginator(_seasons(jobs_of(person).filter(year=year)), PLACES_SHOWN).get_page(
            request.GET.get("page")
        ),
    }
    return render(request, "planner/season.html", context)


def _seasons(jobs: QuerySet[Job]) -> Any:
    """List which property has which programme in a year, and how many of its jobs are done."""
    return (
        jobs.filter(programme__isnull=False)
        .order_by("place__name", "programme__name")
        .values("place_id", "place__name", "programme_id", "programme__name")
        .annotate(
            count=Count("pk"),
            done=Count("pk", filter=Q(state="done")),
            planned=Count("pk", filter=Q(state="planned")),
        )
    )


@require_safe
@signed_in
def place_season(request: PersonRequest, pk: int) -> HttpResponse:
    """Show a programme on a property in a year, every round asked in advance."""
    person, today = request.user, today_of(request)
    place = get_object_or_404(properties_of(person), pk=pk)
    year = year_asked(request, today)
    programmes = list(programmes_of(person))
    typed = str(request.GET.get("programme", ""))
    chosen = next((each for each in programmes if str(each.pk) == typed), None)
    if chosen is None:
        chosen = _present(place, year, programmes)
    context: dict[str, Any] = {
        "property": place,
        "year": year,
        "programmes": programmes,
        "programme": chosen,
        "stations": stations_of(person),
        "station": station_for(place),
    }
    if chosen is not None and place.drawing_number:
        context |= _checked(request, place, chosen, year)
    return render(request, "planner/place_season.html", context)


def _present(place: Property, year: int, programmes: list[Any]) -> Any:
    """The programme that a property has in a year, else the only one that is offered."""
    job = Job.objects.filter(place=place, year=year, programme__isnull=False).first()
    if job is not None:
        return next((each for each in programmes if each.pk == job.programme_id), None)
    offered = [each for each in programmes if not each.is_retired]
    return offered[0] if len(offered) == 1 else None


def _checked(request: PersonRequest, place: Property, chosen: Any, year: int) -> dict[str, Any]:
    person, today = request.user, today_of(request)
    asked = season_of(person, place, chosen, year, on=today)
    told: dict[str, Any] = {
        "season": asked,
        "rounds": rounds_sheet(asked, person),
        "calendar": (picture := season_calendar(asked, today=today)),
        "looks": looks_of(picture),
        "unmade": [each for each in asked.rounds if each.job is None],
    }
    try:
        told["rooms"] = rooms_sheet(yearly_rooms(person, asked), person)
    except FaultsFound as found:
        told["faults"] = found.faults
    return told


def _number(request: PersonRequest, name: str) -> int:
    """Read a whole number that was sent; 0, which names nothing, where there is none."""
    typed = str(request.POST.get(name, ""))
    return int(typed) if typed.isdecimal() and len(typed) < 19 else 0


@require_POST
@with_power(Power.KEEP_PROGRAMMES)
def choose_station(request: PersonRequest, pk: int) -> HttpResponse:
    """Let a property go by a station."""
    place = get_object_or_404(properties_of(request.user), pk=pk)
    chosen = get_object_or_404(stations_of(request.user), pk=_number(request, "station"))
    go_by(place, chosen)
    messages.success(request, f"{place} goes by {chosen}.")
    return redirect("place_season", pk=place.pk)


@require_POST
@with_power(Power.KEEP_PROGRAMMES)
def make_season(request: PersonRequest, pk: int) -> HttpResponse:
    """Make the jobs of a programme on a property."""
    place = get_object_or_404(properties_of(request.user), pk=pk)
    chosen = get_object_or_404(programmes_of(request.user), pk=_number(request, "programme"))
    try:
        year = _number(request, "year")
        jobs = make_jobs(request.user, place, chosen, year, at=timezone.now())
    except Refused as refused:
        messages.error(request, str(refused))
        return redirect("place_season", pk=place.pk)
    messages.success(request, f"{len(jobs)} jobs of {chosen} stand for {place}.")
    return redirect(
        f"{reverse('place_season', args=[place.pk])}?programme={chosen.pk}&year={jobs[0].year}"
    )


@require_http_methods(["GET", "POST"])
@signed_in
def job(request: PersonRequest, pk: int) -> HttpResponse:
    """Say how a job stands."""
    found = get_object_or_404(jobs_of(request.user), pk=pk)
    now = timezone.now()
    form = JobForm(request.POST or None, initial=JobForm.of(found, today_of(request)))
    if form.is_valid() and keep(form, lambda: _say(request, found, form)) is not None:
        messages.success(request, f"{found}: {found.get_state_display()}.")
        return redirect(f"{reverse('place_season', args=[found.place_id])}?year={found.year}")
    context = {"job": found, "form": form, "now": now}
    return render(request, "planner/job.html", context, status=422 if form.errors else 200)


def _say(request: PersonRequest, found: Job, form: JobForm) -> Job:
    typed, person, at = form.cleaned_data, request.user, timezone.now()
    if typed["said"] == "done":
        return say_done(found, on=typed["done_on"], person=person, at=at)
    if typed["said"] == "planned":
        return plan_again(found, person=person, at=at)
    act = skip if typed["said"] == "skipped" else cancel
    return act(found, why=typed["why"], person=person, at=at)
