"""Pages about work under way: the list, one errand, and its buttons."""

from collections.abc import Callable
from typing import Any

from django.contrib import messages
from django.core.exceptions import PermissionDenied
from django.core.paginator import Paginator
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.views.decorators.http import require_POST, require_safe

from properties.core.errors import Refused
from properties.models import Errand
from properties.selectors.errands import errands_of, may_direct
from properties.services.errands import begin_again, do_here, stop
from properties.web.access import PersonRequest, answers_data, signed_in
from properties.web.errand_words import errand_sheet

PAGE_SIZE = 30


@require_safe
@signed_in
def errands(request: PersonRequest) -> HttpResponse:
    """List the work that the service does or did by itself."""
    page = Paginator(errands_of(request.user), PAGE_SIZE).get_page(request.GET.get("page"))
    now = timezone.now()
    sheets = [errand_sheet(errand, person=request.user, now=now) for errand in page]
    return render(request, "properties/errands.html", {"page": page, "sheets": sheets})


@require_safe
@signed_in
def errand(request: PersonRequest, pk: int) -> HttpResponse:
    """Show how far one errand is."""
    return render(request, "properties/errand.html", _context(request, pk))


@require_safe
@answers_data
def errand_part(request: PersonRequest, pk: int) -> HttpResponse:
    """Send the part of the page that changes while somebody looks at it."""
    response = render(request, "properties/parts/errand.html", _context(request, pk))
    response["Cache-Control"] = "no-store"
    return response


def _context(request: PersonRequest, pk: int) -> dict[str, Any]:
    found = get_object_or_404(errands_of(request.user), pk=pk)
    return {"sheet": errand_sheet(found, person=request.user, now=timezone.now())}


@require_POST
@signed_in
def stop_errand(request: PersonRequest, pk: int) -> HttpResponse:
    """Stop an errand."""
    return _direct(request, pk, lambda found: stop(found, at=timezone.now()))


@require_POST
@signed_in
def begin_errand_again(request: PersonRequest, pk: int) -> HttpResponse:
    """Begin an errand again from the start."""
    return _direct(request, pk, lambda found: begin_again(found, at=timezone.now()))


@require_POST
@signed_in
def do_errand_here(request: PersonRequest, pk: int) -> HttpResponse:
    """Carry an errand out within this request, since no worker takes it up."""
    return _direct(request, pk, lambda found: do_here(found, at=timezone.now()))


def _direct(request: PersonRequest, pk: int, act: Callable[[Errand], object]) -> HttpResponse:
    found = get_object_or_404(errands_of(request.user), pk=pk)
    if not may_direct(request.user, found):
        raise PermissionDenied
    try:
        act(found)
    except Refused as refused:
        messages.warning(request, str(refused))
    return redirect(found)
