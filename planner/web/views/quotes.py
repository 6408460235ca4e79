"""Pages about quotes for the office: the list, one quote, sending and revising it."""

from datetime import timedelta
from typing import Any

from django.contrib import messages
from django.core.paginator import Paginator
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_POST, require_safe

from planner.models import QuoteRevision
from planner.papers.quotes import SIZES, quote_pdf
from planner.selectors.quote_contents import drafted
from planner.selectors.quotes import (
    answer_to,
    in_state,
    newest_revision,
    newest_revisions,
    open_questions,
    questions_of,
    quotes_of,
    revisions_of,
    state_of,
)
from planner.services.quote_answers import reply_to
from planner.services.quotes import EditedMeanwhile, revise_quote
from planner.services.sent_quotes import send_quote
from planner.web.forms.quotes import ReplyForm
from planner.web.quote_links import link_base, link_of, mail_link
from planner.web.quote_sheet import quote_sheet
from planner.web.sent_quote import content_of, paper_of
from properties.core.errors import FaultsFound, Refused
from properties.core.powers import Power
from properties.web.access import PersonRequest, with_power
from properties.web.keeping import keep

PAGE_SIZE = 25

#: The states a list can be narrowed to, as a person says them.
STATES = {
    "draft": "Drafts",
    "sent": "Sent, not opened",
    "seen": "Opened",
    "accepted": "Accepted",
    "declined": "Declined",
    "expired": "Expired",
}


@require_safe
@with_power(Power.SELL)
def quotes(request: PersonRequest) -> HttpResponse:
    """List the quotes of the firm by the newest revision of each."""
    now = timezone.now()
    wanted = request.GET.get("state", "")
    revisions = newest_revisions(request.user)
    if wanted in STATES:
        revisions = in_state(revisions, wanted, day=now.date())
    sought = request.GET.get("q", "").strip()
    if sought:
        revisions = revisions.filter(quote__place__customer__name__icontains=sought) | (
            revisions.filter(quote__place__name__icontains=sought)
        )
    page = Paginator(revisions, PAGE_SIZE).get_page(request.GET.get("page"))
    rows = [
        {
            "revision": revision,
            "state": state_of(revision, at=now),
            "age": _age(revision),
            "totals": list((getattr(revision, "totals", None) or {}).items()),
        }
        for revision in page
    ]
    context = {
        "page": page,
        "rows": rows,
        "states": STATES,
        "wanted": wanted,
        "sought": sought,
        "asked": {question.revision.quote_id for question in open_questions(request.user)},
    }
    return render(request, "planner/quotes.html", context)


def _age(revision: QuoteRevision) -> str:
    """Say how long ago the last thing happened to a revision."""
    happened = revision.sent_at or getattr(revision, "last_edit", None)
    if happened is None:
        return ""
    days = (timezone.now() - happened) // timedelta(days=1)
    what = "sent" if revision.sent_at else "written"
    return f"{what} today" if days == 0 else f"{what} {days} day{'s' if days > 1 else ''} ago"


@require_safe
@with_power(Power.SELL)
def quote(request: PersonRequest, pk: int) -> HttpResponse:
    """Show a quote as the customer would read it, and what can be done with it."""
    found = get_object_or_404(quotes_of(request.user), pk=pk)
    return quote_page(request, newest_revision(found))


def quote_page(
    request: PersonRequest, revision: QuoteRevision, *, status: int = 200, **more: Any
) -> HttpResponse:
    """Show one revision."""
    now = timezone.now()
    state = state_of(revision, at=now)
    context: dict[str, Any] = {
        "quote": revision.quote,
        "property": revision.quote.place,
        "revision": revision,
        "state": state,
        "answer": answer_to(revision),
        "questions": questions_of(revision.quote),
        "reply_form": ReplyForm(),
        "revisions": revision.quote.revisions.count(),
        "link": "" if revision.sent_at is None else link_of(request, revision),
    }
    context |= _content(request, revision) | more
    return render(request, "planner/quote.html", context, status=status)


def _content(request: PersonRequest, revision: QuoteRevision) -> dict[str, Any]:
    """What the customer reads: as it was sent, or as it would be sent now."""
    if revision.sent_at is not None:
        return quote_sheet(content_of(revision.document))
    try:
        now = drafted(request.user, revision, at=timezone.now())
    except Refused as refused:
        return {"faults": [str(refused)]}
    except FaultsFound as found:
        return {"faults": [str(fault) for fault in found.faults]}
    return {
        **quote_sheet(now.content),
        "objections": now.objections,
        "cautions": [
            *now.cautions,
            *now.of_prices(margins=request.user.may(Power.SEE_MARGINS)),
        ],
    }


@require_POST
@with_power(Power.SELL)
def send(request: PersonRequest, pk: int) -> HttpResponse:
    """Freeze the draft, and open it to the customer."""
    revision = newest_revision(get_object_or_404(quotes_of(request.user), pk=pk))
    try:
        sent = send_quote(
            revision,
            person=request.user,
            at=timezone.now(),
            edition=_edition(request),
            address=link_base(request),
        )
    except EditedMeanwhile as meanwhile:
        words = f"{meanwhile} Look at it again before you send it."
        return quote_page(request, meanwhile.revision, status=409, refused=words)
    except Refused as refused:
        return quote_page(request, newest_revision(revision.quote), status=422, refused=refused)
    except FaultsFound as found:
        words = " ".join(str(fault) for fault in found.faults)
        return quote_page(request, revision, status=422, refused=words)
    mailed = mail_link(request, sent)
    messages.success(request, _sent_words(sent, mailed=mailed))
    return redirect(sent.quote)


def _edition(request: PersonRequest) -> int:
    typed = request.POST.get("edition", "")
    return int(typed) if typed.isdecimal() else 0


def _sent_words(sent: QuoteRevision, *, mailed: bool) -> str:
    customer = sent.quote.place.customer
    if mailed:
        return f"{sent} is frozen, and its link went to {customer.email}."
    return (
        f"{sent} is frozen. No e-mail went out: copy the link below for {customer.name}, or "
        "print the quote."
    )


@require_POST
@with_power(Power.SELL)
def revise(request: PersonRequest, pk: int) -> HttpResponse:
    """Begin the next revision."""
    found = get_object_or_404(quotes_of(request.user), pk=pk)
    try:
        revision = revise_quote(found, person=request.user, at=timezone.now())
    except Refused as refused:
        return quote_page(request, newest_revision(found), status=422, refused=refused)
    messages.success(
        request, f"This is {revision}. Until you send it, the one before it can be accepted."
    )
    return redirect("edit_quote", pk=found.pk)


@require_safe
@with_power(Power.SELL)
def paper(request: PersonRequest, pk: int, size: str) -> HttpResponse:
    """Give a revision on paper: as it was sent, or as it would be sent now."""
    revision = get_object_or_404(revisions_of(request.user), pk=pk)
    if size not in SIZES:
        size = "letter"
    if revision.sent_at is not None:
        return pdf_response(paper_of(revision.document, size=size), revision)
    try:
        now = drafted(request.user, revision, at=timezone.now())
    except (Refused, FaultsFound):
        return quote_page(request, revision, status=422)
    return pdf_response(quote_pdf(now.content, size=size), revision)


def pdf_response(content: bytes, revision: QuoteRevision) -> HttpResponse:
    """Send a paper under the number of its quote."""
    name = f"quote-{revision.quote}-revision-{revision.number}.pdf"
    return HttpResponse(
        content,
        content_type="application/pdf",
        headers={"Content-Disposition": f'inline; filename="{name}"'},
    )


@require_POST
@with_power(Power.SELL)
def reply(request: PersonRequest, pk: int, question: int) -> HttpResponse:
    """Reply to a question."""
    found = get_object_or_404(quotes_of(request.user), pk=pk)
    asked = get_object_or_404(questions_of(found), pk=question)
    form = ReplyForm(request.POST)
    if form.is_valid():
        kept = keep(
            form,
            lambda: reply_to(
                asked,
                reply=form.cleaned_data["reply"],
                person=request.user,
                at=timezone.now(),
            ),
        )
        if kept is not None:
            messages.success(request, "The customer can read your reply on the page of the quote.")
            return redirect(f"{reverse('quote', args=[pk])}#questions")
    return quote_page(
        request, newest_revision(found), status=422, reply_form=form, replied=asked.pk
    )
