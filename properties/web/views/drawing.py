"""What the drawing board asks for: save, measure, and the drawing as a file."""

import json
from typing import Any

from django.http import HttpResponse, JsonResponse
from django.shortcuts import get_object_or_404
from django.utils import timezone
from django.utils.text import slugify
from django.views.decorators.http import require_POST, require_safe

from properties.core.errors import FaultsFound
from properties.core.outlines import read_drawing, write_drawing
from properties.core.powers import Power
from properties.selectors.outlines import drawing_of
from properties.selectors.places import properties_of
from properties.services.outlines import DrawnMeanwhile, save_drawing
from properties.web.access import PersonRequest, answers_data, signed_in, with_power
from properties.web.drawing_board import faults, measured, notes

LONGEST_WHY = 300
UNREADABLE = {"message": "The drawing did not arrive whole. It is kept in this browser: try again."}


@require_POST
@answers_data
@with_power(Power.DRAW)
def save(request: PersonRequest, pk: int) -> HttpResponse:
    """Keep the drawing as the next revision."""
    place = get_object_or_404(properties_of(request.user), pk=pk)
    asked = _asked(request)
    if asked is None or not isinstance(asked.get("base"), int):
        return JsonResponse(UNREADABLE, status=400)
    now = timezone.now()
    try:
        saved = save_drawing(
            place,
            person=request.user,
            at=now,
            base=asked["base"],
            why=_why(asked.get("why")),
            collection=asked.get("collection"),
        )
    except FaultsFound as found:
        return JsonResponse({"faults": faults(found.faults)}, status=422)
    except DrawnMeanwhile as meanwhile:
        return JsonResponse({"message": str(meanwhile), "number": meanwhile.number}, status=409)
    return JsonResponse(
        {
            "number": saved.number,
            "collection": write_drawing(saved.drawing),
            "notes": notes(saved.drawing),
            "measured": measured(saved.drawing, place=place, person=request.user, day=now.date()),
        }
    )


@require_POST
@answers_data
@signed_in
def measure(request: PersonRequest, pk: int) -> HttpResponse:
    """Measure a drawing without keeping it."""
    place = get_object_or_404(properties_of(request.user), pk=pk)
    asked = _asked(request)
    if asked is None:
        return JsonResponse(UNREADABLE, status=400)
    try:
        drawing = read_drawing(asked.get("collection"))
    except FaultsFound as found:
        return JsonResponse({"faults": faults(found.faults)}, status=422)
    today = timezone.now().date()
    return JsonResponse(measured(drawing, place=place, person=request.user, day=today))


@require_safe
@signed_in
def export(request: PersonRequest, pk: int) -> HttpResponse:
    """Send the drawing as a GeoJSON file."""
    place = get_object_or_404(properties_of(request.user), pk=pk)
    text = json.dumps(write_drawing(drawing_of(place)), indent=1, ensure_ascii=False)
    name = f"{slugify(place.name) or 'property'}-drawing-{place.drawing_number}.geojson"
    return HttpResponse(
        text,
        content_type="application/geo+json",
        headers={"Content-Disposition": f'attachment; filename="{name}"'},
    )


def _why(typed: object) -> str:
    """Take the reason as one line, without what a row cannot keep."""
    line = " ".join(typed.split()) if isinstance(typed, str) else ""
    return "".join(letter for letter in line if letter.isprintable())[:LONGEST_WHY]


def _asked(request: PersonRequest) -> dict[str, Any] | None:
    try:
        asked = json.loads(request.body)
    except (ValueError, RecursionError):
        return None
    return asked if isinstance(asked, dict) else None
