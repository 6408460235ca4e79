"""The plan of a property: what goes into the tank, and why."""

import json
from typing import Any

from django.http import HttpResponse
from django.shortcuts import get_object_or_404, render
from django.utils import timezone
from django.utils.text import slugify
from django.views.decorators.http import require_safe

from planner.selectors.plans import plan_for, request_for
from planner.web.forms.plans import PlanForm
from planner.web.plan_sheet import sheet
from planner.web.questions import asked_in, plan_form
from properties.core.errors import FaultsFound, Refused
from properties.models import Property
from properties.selectors.places import properties_of
from properties.web.access import PersonRequest, signed_in, today_of


@require_safe
@signed_in
def plan(request: PersonRequest, pk: int) -> HttpResponse:
    """Plan a property with a machine and a mix, and show the working of every figure."""
    place = get_object_or_404(properties_of(request.user), pk=pk)
    form = _form(request)
    context: dict[str, Any] = {"property": place, "form": form, "faults": ()}
    status = 200
    if form.is_bound:
        try:
            context |= _planned(request, place, form)
        except FaultsFound as found:
            context["faults"], status = found.faults, 422
        except Refused as refused:
            context["faults"], status = (refused,), 422
    return render(request, "planner/plan.html", context, status=status)


@require_safe
@signed_in
def export_request(request: PersonRequest, pk: int) -> HttpResponse:
    """Send the plan request as a file that the command line computes to the same digits."""
    place = get_object_or_404(properties_of(request.user), pk=pk)
    form = _form(request)
    try:
        asked = asked_in(form, place)
        written = request_for(request.user, asked, day=today_of(request))
    except (FaultsFound, Refused) as refused:
        return HttpResponse(str(refused), status=422, content_type="text/plain; charset=utf-8")
    return HttpResponse(
        json.dumps(written, indent=1, ensure_ascii=False),
        content_type="application/json",
        headers={
            "Content-Disposition": f'attachment; filename="{slugify(place.name)}-request.json"'
        },
    )


def _form(request: PersonRequest) -> PlanForm:
    return plan_form(request.user, request.GET if "machine" in request.GET else None)


def _planned(request: PersonRequest, place: Property, form: PlanForm) -> dict[str, Any]:
    asked = asked_in(form, place)
    written = request_for(request.user, asked, day=today_of(request))
    arranged = sheet(plan_for(written), place=place, request=written, person=request.user)
    return {"asked": asked, "worked_out_at": timezone.now()} | arranged
