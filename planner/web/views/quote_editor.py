"""The editor of a quote, and what it says to the second of two people who edit one."""

from datetime import timedelta
from typing import Any

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.views.decorators.http import require_http_methods

from planner.models import QuoteRevision
from planner.selectors.quotes import (
    as_typed,
    changed_between,
    edit_of,
    facts_of,
    newest_revision,
    quotes_of,
    state_of,
    today_at,
)
from planner.services.quotes import EditedMeanwhile, begin_quote, edit_quote
from planner.web.forms.quotes import NewQuoteForm, QuoteForm
from properties.core.powers import Power
from properties.models import Property
from properties.selectors.places import properties_of
from properties.web.access import PersonRequest, with_power
from properties.web.keeping import keep

#: How long a quote is good unless somebody says otherwise.
USUALLY_GOOD_FOR = timedelta(days=30)
#: How many earlier quotes of a property are named.
MOST_OTHERS = 5
#: From this month on people plan the next season.
NEXT_SEASON_FROM = 9


@require_http_methods(["GET", "POST"])
@with_power(Power.SELL)
def new_quote(request: PersonRequest, at: int) -> HttpResponse:
    """Write the first draft of a quote for a property."""
    place = get_object_or_404(properties_of(request.user), pk=at)
    form = NewQuoteForm(request.POST or None, person=request.user, initial=_first(place))
    if form.is_valid():
        begun = keep(
            form,
            lambda: begin_quote(
                place,
                person=request.user,
                at=timezone.now(),
                year=form.cleaned_data["year"],
                facts=form.facts(),
            ),
        )
        if begun is not None:
            return redirect(begun.quote)
    context = {
        "form": form,
        "property": place,
        "back": place.get_absolute_url(),
        "others": quotes_of(request.user).filter(place=place)[:MOST_OTHERS],
    }
    return _editor(request, context, status=422 if form.errors else 200)


def _first(place: Property) -> dict[str, Any]:
    today = today_at(place, timezone.now())
    year = today.year + (today.month >= NEXT_SEASON_FROM)
    return {"year": year, "valid_until": today + USUALLY_GOOD_FOR}


@require_http_methods(["GET", "POST"])
@with_power(Power.SELL)
def edit(request: PersonRequest, pk: int) -> HttpResponse:
    """Edit the draft of a quote."""
    quote = get_object_or_404(quotes_of(request.user), pk=pk)
    revision = newest_revision(quote)
    if request.method != "POST" and revision.sent_at is not None:
        state = state_of(revision, at=timezone.now())
        messages.warning(
            request,
            f"{revision} is {state}, and stays as it was sent. Press “Revise” to change it.",
        )
        return redirect(quote)
    form = QuoteForm(request.POST or None, person=request.user, initial=_as_kept(revision))
    try:
        if form.is_valid() and _kept(request, revision, form):
            return redirect(quote)
    except EditedMeanwhile as meanwhile:
        return _both(request, meanwhile)
    return _editor(request, _about(form, revision), status=422 if form.errors else 200)


def _kept(request: PersonRequest, revision: QuoteRevision, form: QuoteForm) -> bool:
    kept = keep(
        form,
        lambda: edit_quote(
            revision,
            person=request.user,
            at=timezone.now(),
            edition=form.cleaned_data["edition"] or 0,
            facts=form.facts(),
        ),
    )
    return kept is not None


def _as_kept(revision: QuoteRevision) -> dict[str, Any]:
    return {**as_typed(facts_of(revision)), "edition": revision.edition}


def _about(form: QuoteForm, revision: QuoteRevision) -> dict[str, Any]:
    quote = revision.quote
    return {
        "form": form,
        "property": quote.place,
        "revision": revision,
        "quote": quote,
        "back": quote.get_absolute_url(),
    }


def _both(request: PersonRequest, meanwhile: EditedMeanwhile) -> HttpResponse:
    """Show the second of two people both versions: theirs where only they changed something.

    Where both changed one box, what was typed here stays in it and the other stands beside.
    Nothing is kept until the second person has looked and presses the button again.
    """
    revision = meanwhile.revision
    typed = _boxes(request)
    base = edit_of(revision, _edition(request))
    before = {} if base is None else base.told
    theirs = as_typed(facts_of(revision))
    merged = {
        name: typed.get(name, "") if typed.get(name, "") != before.get(name, "") else text
        for name, text in _every(before, theirs, typed)
    }
    form = QuoteForm(merged | {"edition": str(revision.edition)}, person=request.user)
    form.is_valid()
    context = _about(form, revision) | {
        "meanwhile": meanwhile,
        "edit": meanwhile.edit,
        "changes": [
            _change(form, name, before, theirs, merged)
            for name in form.fields
            if name in changed_between(before, theirs)
        ],
    }
    return _editor(request, context, status=409)


def _boxes(request: PersonRequest) -> dict[str, str]:
    return {
        name: text.replace("\r\n", "\n")
        for name, text in request.POST.items()
        if isinstance(text, str)
    }


def _edition(request: PersonRequest) -> int:
    typed = request.POST.get("edition", "")
    return int(typed) if typed.isdecimal() else 0


def _every(
    before: dict[str, str], theirs: dict[str, str], typed: dict[str, str]
) -> list[tuple[str, str]]:
    """Every box by its name, with what the other person left in it."""
    return [(name, theirs.get(name, "")) for name in {**typed, **before, **theirs}]


def _change(
    form: QuoteForm,
    name: str,
    before: dict[str, str],
    theirs: dict[str, str],
    merged: dict[str, str],
) -> dict[str, Any]:
    """Say what the other person changed, and whether it stands in the box now."""
    return {
        "what": form.called(name),
        "before": form.said(name, before.get(name, "")),
        "after": form.said(name, theirs.get(name, "")),
        "yours": None
        if merged.get(name, "") == theirs.get(name, "")
        else form.said(name, merged.get(name, "")),
    }


def _editor(request: PersonRequest, context: dict[str, Any], *, status: int) -> HttpResponse:
    return render(request, "planner/quote_form.html", context, status=status)
