"""The earlier drawings of a property, two of them compared on one map."""

from typing import Any
from zoneinfo import ZoneInfo

from django.core.paginator import Paginator
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, render
from django.utils import timezone
from django.views.decorators.http import require_safe

from properties.models import Property
from properties.selectors.history import revisions_of, steps_of, two_drawings_of
from properties.selectors.places import properties_of
from properties.web.access import PersonRequest, signed_in
from properties.web.change_words import nothing_told, told, totals_told
from properties.web.compared_map import compared_map
from properties.web.drawing_board import tile_hosts
from properties.web.forms.history import HistoryForm

PAGE_SIZE = 25

#: How the map draws what became of a shape, and what that means.
CHANGE_KEY = [
    ("same", "unchanged"),
    ("added", "added"),
    ("removed", "removed"),
    ("old", "changed, as it was"),
    ("new", "changed, as it is now"),
]


@require_safe
@signed_in
def history(request: PersonRequest, pk: int) -> HttpResponse:
    """Tell what each saving of a drawing changed, and compare two drawings."""
    place = get_object_or_404(properties_of(request.user), pk=pk)
    form = HistoryForm(request.GET, place=place)
    units = request.user.units
    before, after = form.numbers()
    saved = list(revisions_of(place))
    page = Paginator(saved, PAGE_SIZE).get_page(request.GET.get("page"))
    context: dict[str, Any] = {
        "property": place,
        "form": form,
        "page": page,
        "choices": saved,
        "saved_before": next((one for one in saved if one.number == before), None),
        "saved_after": next((one for one in saved if one.number == after), None),
        "before": before,
        "after": after,
        "days": form.days(),
        "steps": [
            {
                "revision": step.revision,
                "changes": told(step.comparison, units),
                "nothing": nothing_told(step.comparison),
            }
            for step in steps_of(place, list(page.object_list))
        ],
    }
    if form.is_valid() and place.drawing_number:
        context |= _compared(request, place, (before, after))
    response = render(
        request, "properties/history.html", context, status=422 if form.errors else 200
    )
    response._csp_update = {"img-src": tile_hosts(request.user)}  # type: ignore[attr-defined]  # noqa: SLF001
    return response


def _compared(request: PersonRequest, place: Property, numbers: tuple[int, int]) -> dict[str, Any]:
    before, after = numbers
    # The firm's rules of today at the property.
    today = timezone.localdate(timezone=ZoneInfo(place.time_zone))
    compared = two_drawings_of(place, before=before, after=after, day=today)
    units = request.user.units
    return {
        "changes": told(compared.comparison, units),
        "nothing": nothing_told(compared.comparison),
        "unchanged": len(compared.comparison.unchanged),
        "totals": totals_told(compared.treated_before, compared.treated_after, units),
        "change_key": CHANGE_KEY,
        "map_json": compared_map(request.user, place, compared),
        "units": units,
    }
