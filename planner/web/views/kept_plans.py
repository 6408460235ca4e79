"""Plans that were kept: keeping one, the list of a property, one as it was."""

from typing import Any
from urllib.parse import urlencode

from django.contrib import messages
from django.core.paginator import Paginator
from django.http import HttpResponse, QueryDict
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_POST, require_safe

from planner.models import KeptPlan
from planner.selectors.kept_plans import changed_since, kept_plans_at, kept_plans_of
from planner.selectors.plans import plan_for, request_for
from planner.services.plans import keep_plan
from planner.web.forms.kept_plans import KeepPlanForm
from planner.web.plan_sheet import sheet
from planner.web.questions import asked_in, plan_form
from properties.core.errors import FaultsFound, Refused
from properties.models import Property
from properties.selectors.places import properties_of
from properties.web.access import PersonRequest, signed_in, today_of
from properties.web.drawing_board import tile_hosts
from properties.web.forms.quantities import QuantityField
from properties.web.keeping import keep

PAGE_SIZE = 25

#: What is said of each part that differs today.
SINCE = {
    "label": "The label says something else today",
    "mix": "The mix is another one today",
    "calibration": "There is another calibration today",
    "machine": "The machine is set up in another way today",
    "rules": "The firm’s rules are others today",
    "rest": "Something else that goes into a plan differs today",
}


@require_POST
@signed_in
def keep_one(request: PersonRequest, pk: int) -> HttpResponse:
    """Work the plan out again, and keep it."""
    place = get_object_or_404(properties_of(request.user), pk=pk)
    form = KeepPlanForm(request.POST)
    kept = _kept(request, place, form) if form.is_valid() else None
    if kept is not None:
        messages.success(request, "The plan is kept. Whatever changes later, it stays as it is.")
        return redirect(kept)
    question = f"{reverse('plan', args=[pk])}?{request.GET.urlencode()}"
    context = {"form": form, "title": f"Keep a plan for {place}", "back": question}
    return render(request, "properties/form.html", context, status=422)


def _kept(request: PersonRequest, place: Property, form: KeepPlanForm) -> KeptPlan | None:
    question = _question(request)
    try:
        asked = asked_in(plan_form(request.user, QueryDict(question)), place)
        return keep(
            form,
            lambda: keep_plan(
                asked,
                person=request.user,
                at=timezone.now(),
                question=question,
                note=form.cleaned_data["note"],
            ),
        )
    except FaultsFound as found:
        for fault in found.faults:
            form.add_error(None, str(fault))
    return None


def _question(request: PersonRequest) -> str:
    """Give what the address asks, and nothing else that stands in it."""
    boxes: list[str] = []
    for name, field in plan_form(request.user, request.GET).fields.items():
        quantity = isinstance(field, QuantityField)
        boxes += [f"{name}_0", f"{name}_1"] if quantity else [name]
    return urlencode([(box, request.GET[box]) for box in boxes if box in request.GET])


@require_safe
@signed_in
def kept_plans(request: PersonRequest, pk: int) -> HttpResponse:
    """List the plans that were kept for a property."""
    place = get_object_or_404(properties_of(request.user), pk=pk)
    page = Paginator(kept_plans_at(place), PAGE_SIZE).get_page(request.GET.get("page"))
    return render(request, "planner/kept_plans.html", {"property": place, "page": page})


@require_safe
@signed_in
def kept_plan(request: PersonRequest, pk: int) -> HttpResponse:
    """Show a plan as it was kept, and what differs today."""
    kept = get_object_or_404(kept_plans_of(request.user), pk=pk)
    place = kept.property
    context: dict[str, Any] = sheet(
        kept.plan, place=place, request=kept.request, person=request.user
    )
    context |= {"kept": kept, "property": place} | _since(request, kept)
    response = render(request, "planner/kept_plan.html", context)
    response._csp_update = {"img-src": tile_hosts(request.user)}  # type: ignore[attr-defined]  # noqa: SLF001
    return response


def _since(request: PersonRequest, kept: KeptPlan) -> dict[str, Any]:
    """Ask the same question today, and tell what differs and what would refuse it now."""
    try:
        asked = asked_in(plan_form(request.user, QueryDict(kept.question)), kept.property)
        today = request_for(request.user, asked, day=today_of(request))
    except Refused as refused:
        return {"since": [], "cannot_ask_again": True, "why_not": str(refused)}
    except FaultsFound:
        return {"since": [], "cannot_ask_again": True}
    differing = changed_since(kept, today)
    return {
        "since": [(SINCE[part], differing[part]) for part in differing],
        "refused_today": _refused_today(kept, today),
    }


def _refused_today(kept: KeptPlan, today: dict[str, Any]) -> list[str]:
    """What refuses the same question now and did not then: age, a closed lawn, a tank."""
    then = {refusal["code"] for refusal in kept.plan["refusals"]}
    without_passes = {name: told for name, told in today.items() if name != "passes"}
    try:
        refusals = plan_for(without_passes)["refusals"]
    except FaultsFound as found:
        return [str(fault) for fault in found.faults]
    return [refusal["message"] for refusal in refusals if refusal["code"] not in then]
