"""Pages about programmes: the rounds of a season, and which properties they fit."""

from typing import Any

from django.contrib import messages
from django.core.exceptions import ValidationError
from django.core.paginator import Paginator
from django.http import HttpResponse, QueryDict
from django.http.response import HttpResponseBase
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_safe

from planner.models import Programme
from planner.selectors.equipment import machines_of
from planner.selectors.jobs import jobs_of
from planner.selectors.products import mixes_of
from planner.selectors.programmes import programmes_of
from planner.selectors.season_findings import findings_of, places_to_check
from planner.services.programmes import keep_programme
from planner.services.season_checks import check_everywhere
from planner.web.forms.programmes import ProgrammeForms
from planner.web.season_sheet import OUTCOMES, programme_calendar
from planner.web.years import year_asked
from properties.core.errors import Refused
from properties.core.powers import Power
from properties.selectors.places import properties_of
from properties.web.access import PersonRequest, signed_in, today_of, with_power

PLACES_SHOWN, FINDINGS_SHOWN = 24, 50


@require_safe
@signed_in
def programme(request: PersonRequest, pk: int) -> HttpResponse:
    """Show the rounds of a programme, and the properties that have it."""
    found = get_object_or_404(programmes_of(request.user), pk=pk)
    today = today_of(request)
    year = year_asked(request, today)
    find = str(request.GET.get("find", ""))[:100]
    context = {
        "programme": found,
        "year": year,
        "calendar": programme_calendar(found, year, today=today),
        "find": find,
        "places": properties_of(request.user, search=find)[:PLACES_SHOWN],
        "job_count": jobs_of(request.user).filter(programme=found, year=year).count(),
    }
    return render(request, "planner/programme.html", context)


@require_http_methods(["GET", "POST"])
@with_power(Power.KEEP_PROGRAMMES)
def edit_programme(request: PersonRequest, pk: int | None = None) -> HttpResponse:
    """Put a programme together, or change one; rows come, go and change places."""
    person = request.user
    row = (
        Programme(firm=person.firm)
        if pk is None
        else get_object_or_404(programmes_of(person), pk=pk)
    )
    data: QueryDict | None = request.POST if request.method == "POST" else None
    forms = ProgrammeForms(
        data, programme=row, mixes=mixes_of(person), machines=machines_of(person)
    )
    if data is not None and not forms.is_changing_places and forms.is_valid():
        try:
            kept = keep_programme(row, rounds=forms.written(), opened=forms.version)
        except (Refused, ValidationError) as fault:
            forms.say(fault)
        else:
            messages.success(
                request, "The programme is kept. Jobs that were made stay as they are."
            )
            return redirect(kept)
    context = {"forms": forms, "programme": row}
    status = 422 if forms.errors else 200
    return render(request, "planner/programme_form.html", context, status=status)


@require_http_methods(["GET", "POST"])
@signed_in
def check_programme(request: PersonRequest, pk: int) -> HttpResponseBase:
    """Show what came of checking a programme at every property, and check it again."""
    if request.method == "POST":
        return _check_again(request, pk)
    found = get_object_or_404(programmes_of(request.user), pk=pk)
    year = year_asked(request, today_of(request))
    findings = findings_of(found, year)
    page = Paginator(findings, FINDINGS_SHOWN).get_page(request.GET.get("page"))
    context: dict[str, Any] = {
        "programme": found,
        "year": year,
        "page": page,
        "places": places_to_check(request.user).count(),
        "oldest": findings.order_by("checked_at").first(),
        "checked": [
            (each, [(name, OUTCOMES[outcome]) for name, outcome in each.rounds]) for each in page
        ],
    }
    return render(request, "planner/programme_check.html", context)


@with_power(Power.KEEP_PROGRAMMES)
def _check_again(request: PersonRequest, pk: int) -> HttpResponse:
    found = get_object_or_404(programmes_of(request.user), pk=pk)
    year = year_asked(request, today_of(request))
    errand = check_everywhere(request.user, found, year, at=timezone.now())
    if errand is not None:
        return redirect(errand)
    return redirect(f"{reverse('check_programme', args=[found.pk])}?year={year}")
