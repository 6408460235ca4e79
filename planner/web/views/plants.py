"""Plants that are treated one by one: what is mixed for them."""

import json
from typing import Any

from django.http import HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from planner.selectors.equipment import machines_of
from planner.selectors.plans import plan_for
from planner.selectors.plants import PlantsAsked, plants_request_for
from planner.selectors.products import mixes_of
from planner.web.forms.plants import PlantsForm
from planner.web.forms.routes import SPRAYERS
from planner.web.plants_sheet import plants_sheet
from properties.core.errors import FaultsFound, Refused
from properties.selectors.places import properties_of
from properties.web.access import PersonRequest, signed_in, today_of


@require_safe
@signed_in
def plants(request: PersonRequest) -> HttpResponse:
    """Plan single plants with a machine and a mix, and show the working of every figure."""
    form = _form(request)
    context: dict[str, Any] = {"form": form, "faults": ()}
    status = 422 if form.is_bound and not form.is_valid() else 200
    if form.is_bound and form.is_valid():
        try:
            context |= plants_sheet(plan_for(_request(request, form)))
            context |= {"asked": form.cleaned_data}
        except FaultsFound as found:
            context["faults"], status = found.faults, 422
        except Refused as refused:
            context["faults"], status = (refused,), 422
    return render(request, "planner/plants.html", context, status=status)


@require_safe
@signed_in
def export_plants(request: PersonRequest) -> HttpResponse:
    """Send the request as a file that the command line computes to the same digits."""
    form = _form(request)
    if not form.is_valid():
        words = "Fill in the form of the page first."
        return HttpResponse(words, status=422, content_type="text/plain; charset=utf-8")
    try:
        written = _request(request, form)
    except Refused as refused:
        return HttpResponse(str(refused), status=422, content_type="text/plain; charset=utf-8")
    return HttpResponse(
        json.dumps(written, indent=1, ensure_ascii=False),
        content_type="application/json",
        headers={"Content-Disposition": 'attachment; filename="plants-request.json"'},
    )


def _form(request: PersonRequest) -> PlantsForm:
    person = request.user
    return PlantsForm(
        request.GET if "machine" in request.GET else None,
        machines=machines_of(person).filter(kind__in=SPRAYERS),
        mixes=mixes_of(person),
        places=properties_of(person),
        initial={"mix": request.GET.get("mix")},
    )


def _request(request: PersonRequest, form: PlantsForm) -> dict[str, Any]:
    asked = PlantsAsked(**form.cleaned_data)
    return plants_request_for(request.user, asked, day=today_of(request))
