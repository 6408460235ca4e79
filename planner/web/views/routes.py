"""The loads of a day: which lawns, where the tank is filled, what goes into it."""

import json
from typing import Any

from django.http import HttpResponse
from django.shortcuts import render
from django.utils import timezone
from django.views.decorators.http import require_safe

from planner.selectors.equipment import machines_of
from planner.selectors.jobs import coming_together, due_together
from planner.selectors.plans import plan_for
from planner.selectors.products import mixes_of
from planner.selectors.routes import DayAsked, Lawn, day_request_for
from planner.web.day_sheet import day_sheet
from planner.web.forms.routes import SPRAYERS, DayForm
from properties.core.errors import FaultsFound, Refused
from properties.models import Property
from properties.selectors.places import properties_of
from properties.web.access import PersonRequest, signed_in, today_of


@require_safe
@signed_in
def loads(request: PersonRequest) -> HttpResponse:
    """Plan the loads of a day, and what to add at a refill."""
    form = _form(request)
    today = today_of(request)
    due = due_together(request.user, on=today)
    coming = coming_together(request.user, on=today)
    context: dict[str, Any] = {
        "due": due,
        "coming": coming,
        "form": form,
        "faults": (),
        "more_rows": form.row_count + 6,
    }
    status = 200
    if form.is_bound and "rows" not in request.GET:
        try:
            written = _request(request, form)
            context |= day_sheet(plan_for(written)) | {"asked": form.cleaned_data}
            context |= {"worked_out_at": timezone.now(), "first": _first_lawn(form)}
        except FaultsFound as found:
            context["faults"], status = found.faults, 422
        except Refused as refused:
            context["faults"], status = (refused,), 422
    return render(request, "planner/loads.html", context, status=status)


@require_safe
@signed_in
def export_loads(request: PersonRequest) -> HttpResponse:
    """Send the request as a file that the command line computes to the same digits."""
    try:
        written = _request(request, _form(request))
    except (FaultsFound, Refused) as refused:
        return HttpResponse(str(refused), status=422, content_type="text/plain; charset=utf-8")
    return HttpResponse(
        json.dumps(written, indent=1, ensure_ascii=False),
        content_type="application/json",
        headers={"Content-Disposition": 'attachment; filename="loads-request.json"'},
    )


def _form(request: PersonRequest) -> DayForm:
    person = request.user
    return DayForm(
        request.GET if "machine" in request.GET else None,
        machines=machines_of(person).filter(kind__in=SPRAYERS),
        mixes=mixes_of(person),
        places=properties_of(person),
    )


def _request(request: PersonRequest, form: DayForm) -> dict[str, Any]:
    if not form.is_valid():
        raise FaultsFound(
            Refused(name, " ".join(str(words) for words in problems))
            for name, problems in form.errors.items()
        )
    asked = DayAsked(**form.question())
    return day_request_for(request.user, asked, day=today_of(request))


def _first_lawn(form: DayForm) -> Property:
    return next(leg.place for leg in form.cleaned_data["legs"] if isinstance(leg, Lawn))
