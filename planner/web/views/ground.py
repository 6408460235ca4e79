"""What a place has had, and what a spot of it may still get."""

from datetime import date
from typing import Any

from django.http import HttpResponse
from django.shortcuts import get_object_or_404, render
from django.views.decorators.http import require_safe

from planner.selectors.applications import (
    applications_at,
    known_since,
    lawns_of,
    seedings_at,
)
from planner.selectors.ground import Asked, ground_of
from planner.web.forms.applications import GroundForm
from planner.web.ground_sheet import ground_sheet
from properties.core.errors import FaultsFound, Refused
from properties.selectors.places import properties_of
from properties.web.access import PersonRequest, signed_in, today_of
from properties.web.drawing_board import tile_hosts


@require_safe
@signed_in
def ground(request: PersonRequest, pk: int) -> HttpResponse:
    """Show what a property has had, and answer what a part of it may still get."""
    place = get_object_or_404(properties_of(request.user), pk=pk)
    form = GroundForm(request.GET or None, lawns=lawns_of(place))
    context: dict[str, Any] = {
        "property": place,
        "form": form,
        "applications": applications_at(place),
        "seedings": seedings_at(place),
        "known_since": known_since(place),
        "faults": (),
    }
    status = 422 if form.errors else 200
    day, asked = _asked(form, today_of(request))
    try:
        told = ground_of(request.user, place, asked, day=day)
        context |= ground_sheet(told, asked=asked, person=request.user, place=place)
    except FaultsFound as found:
        context["faults"], status = found.faults, 422
    except Refused as refused:
        context["faults"], status = (refused,), 422
    response = render(request, "planner/ground.html", context | {"day": day}, status=status)
    response._csp_update = {"img-src": tile_hosts(request.user)}  # type: ignore[attr-defined]  # noqa: SLF001
    return response


def _asked(form: GroundForm, today: date) -> tuple[date, Asked]:
    if not form.is_valid():
        return today, Asked()
    typed = form.cleaned_data
    # A turf that is chosen is meant, and not the spot that was tapped before.
    asked = Asked(lawn=typed["lawn"]) if typed["lawn"] else Asked(spot=form.spot())
    return typed["on"] or today, asked
