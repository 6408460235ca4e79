"""The pages that a customer opens by a secret link: read, accept, decline, ask."""

from collections.abc import Callable
from typing import Any

from django.core.exceptions import ValidationError
from django.forms import BaseForm
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.http import require_POST, require_safe

from planner.models import QuoteRevision
from planner.papers.quotes import SIZES
from planner.selectors.quotes import answer_to, state_of, today_at
from planner.services.quote_answers import Signed, accept_quote, ask_about_quote, decline_quote
from planner.services.sent_quotes import note_seen
from planner.web.customer_pages import by_link
from planner.web.forms.quotes import AnswerForm, AskForm, DeclineForm
from planner.web.quote_sheet import quote_sheet
from planner.web.sent_quote import NotWhole, content_of, paper_of
from planner.web.views.quotes import pdf_response
from properties.core.errors import Refused
from properties.models import Person

Forms = dict[str, BaseForm]


@require_safe
@by_link
def customer_quote(request: HttpRequest, revision: QuoteRevision) -> HttpResponse:
    """Show a quote to the customer."""
    if not _is_of_the_firm(request, revision):
        note_seen(revision, at=timezone.now())
        revision.refresh_from_db(fields=["state"])
    return _page(request, revision, {})


def _is_of_the_firm(request: HttpRequest, revision: QuoteRevision) -> bool:
    """Whether somebody of the firm looks at what they sent: that is not the customer."""
    person = request.user
    return isinstance(person, Person) and person.firm_id == revision.quote.firm_id


def _page(
    request: HttpRequest,
    revision: QuoteRevision,
    forms: Forms,
    *,
    status: int = 200,
    refused: str = "",
) -> HttpResponse:
    now = timezone.now()
    try:
        content = content_of(revision.document)
    except NotWhole:
        return render(
            request, "planner/customer_not_whole.html", {"revision": revision}, status=500
        )
    state = state_of(revision, at=now)
    today = today_at(revision.quote.place, now)
    context: dict[str, Any] = {
        "revision": revision,
        "quote": revision.quote,
        "firm_of_quote": revision.quote.firm,
        **quote_sheet(content),
        "state": state,
        "is_open": state in {"sent", "seen"},
        "answer": answer_to(revision),
        "questions": revision.questions.select_related("replied_by"),
        "accept_form": AnswerForm(options=content["options"], today=today),
        "decline_form": DeclineForm(prefix="no"),
        "ask_form": AskForm(prefix="ask"),
        "refused": refused,
    }
    return render(request, "planner/customer_quote.html", context | forms, status=status)


@require_POST
@by_link
def accept(request: HttpRequest, revision: QuoteRevision) -> HttpResponse:
    """Accept an option. A second press of the button leads to the same page."""
    content = content_of(revision.document)
    today = today_at(revision.quote.place, timezone.now())
    form = AnswerForm(request.POST, options=content["options"], today=today)
    if not form.is_valid():
        return _page(request, revision, {"accept_form": form}, status=422)
    typed = form.cleaned_data
    signed = Signed(typed["name"], typed["on"], timezone.now())
    return _answered(
        request,
        revision,
        {"accept_form": form},
        lambda: accept_quote(revision, letter=typed["letter"], signed=signed),
    )


@require_POST
@by_link
def decline(request: HttpRequest, revision: QuoteRevision) -> HttpResponse:
    """Say no, with a reason if there is one."""
    form = DeclineForm(request.POST, prefix="no")
    if not form.is_valid():
        return _page(request, revision, {"decline_form": form}, status=422)
    now = timezone.now()
    signed = Signed(form.cleaned_data["name"], today_at(revision.quote.place, now), now)
    return _answered(
        request,
        revision,
        {"decline_form": form},
        lambda: decline_quote(revision, reason=form.cleaned_data["reason"], signed=signed),
    )


@require_POST
@by_link
def ask(request: HttpRequest, revision: QuoteRevision) -> HttpResponse:
    """Ask the firm something."""
    form = AskForm(request.POST, prefix="ask")
    if not form.is_valid():
        return _page(request, revision, {"ask_form": form}, status=422)
    return _answered(
        request,
        revision,
        {"ask_form": form},
        lambda: ask_about_quote(revision, **form.cleaned_data, at=timezone.now()),
    )


def _answered(
    request: HttpRequest, revision: QuoteRevision, forms: Forms, act: Callable[[], object]
) -> HttpResponse:
    """Do what was asked, or say on the page why not and what to do."""
    (form,) = forms.values()
    try:
        act()
    except Refused as refused:
        if refused.field not in form.fields:
            return _page(request, revision, {}, status=409, refused=str(refused))
        form.add_error(refused.field, str(refused))
    except ValidationError as invalid:
        form.add_error(None, invalid.messages)
    else:
        return redirect("customer_quote", link=revision.link)
    return _page(request, revision, forms, status=422)


@require_safe
@by_link
def customer_paper(request: HttpRequest, revision: QuoteRevision, size: str) -> HttpResponse:
    """Give the paper as it was sent."""
    try:
        content = paper_of(revision.document, size=size if size in SIZES else "letter")
    except NotWhole:
        return _page(request, revision, {}, status=500)
    return pdf_response(content, revision)
