"""The revisions of a quote side by side, and what the owner alone sees of it."""

from typing import Any

from django.http import HttpResponse
from django.shortcuts import get_object_or_404, render
from django.utils import timezone
from django.views.decorators.http import require_safe

from planner.models import QuoteRevision
from planner.selectors.quote_contents import drafted
from planner.selectors.quote_history import EditTold, revisions_told
from planner.selectors.quotes import newest_revision, quotes_of
from planner.web.forms.quotes import QuoteForm
from planner.web.margin_sheet import margin_sheet
from properties.core.errors import FaultsFound, Refused
from properties.core.powers import Power
from properties.web.access import PersonRequest, with_power


@require_safe
@with_power(Power.SELL)
def history(request: PersonRequest, pk: int) -> HttpResponse:
    """List the revisions of a quote, each with what differs from the one before it."""
    quote = get_object_or_404(quotes_of(request.user), pk=pk)
    form = QuoteForm(person=request.user)
    context = {
        "quote": quote,
        "property": quote.place,
        "revisions": [
            {**vars(told), "edits": [_edit(form, one) for one in told.edits]}
            for told in revisions_told(quote, at=timezone.now())
        ],
    }
    return render(request, "planner/quote_history.html", context)


def _edit(form: QuoteForm, told: EditTold) -> dict[str, Any]:
    """Say an edit in the words of the form."""
    edit = told.edit
    return {
        "at": edit.made_at,
        "by": edit.made_by or "somebody who has left",
        "changed": [
            f"{form.called(name)} “{form.said(name, edit.told.get(name, ''))}”"
            for name in told.changed
        ],
    }


@require_safe
@with_power(Power.SEE_MARGINS)
def margin(request: PersonRequest, pk: int) -> HttpResponse:
    """Show what each option costs and leaves. No customer page has any of it."""
    quote = get_object_or_404(quotes_of(request.user), pk=pk)
    revision = newest_revision(quote)
    context: dict[str, Any] = {"quote": quote, "property": quote.place, "revision": revision}
    try:
        inside = _inside(request, revision)
    except Refused as refused:
        context["faults"] = [str(refused)]
    except FaultsFound as found:
        context["faults"] = [str(fault) for fault in found.faults]
    else:
        letter = request.GET.get("option", "")
        letter = letter if letter in inside else next(iter(inside))
        context |= {"letter": letter, "prices": inside} | margin_sheet(inside[letter])
    return render(request, "planner/quote_margin.html", context)


def _inside(request: PersonRequest, revision: QuoteRevision) -> dict[str, Any]:
    if revision.sent_at is not None:
        told: dict[str, Any] = revision.document.inside
        return told
    return drafted(request.user, revision, at=timezone.now()).inside
