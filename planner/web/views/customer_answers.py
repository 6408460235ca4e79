"""Writing down what a customer answered on paper or by telephone."""

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.views.decorators.http import require_http_methods

from planner.models import QuoteAnswer, QuoteRevision
from planner.selectors.quotes import newest_revision, quotes_of, today_at
from planner.services.quote_answers import Signed, accept_quote, decline_quote
from planner.web.forms.quotes import TakenForm
from planner.web.sent_quote import content_of
from properties.core.errors import Refused
from properties.core.powers import Power
from properties.web.access import PersonRequest, with_power
from properties.web.keeping import keep


@require_http_methods(["GET", "POST"])
@with_power(Power.SELL)
def take(request: PersonRequest, pk: int) -> HttpResponse:
    """Write down an answer that did not come through the customer’s own page."""
    quote = get_object_or_404(quotes_of(request.user), pk=pk)
    revision = newest_revision(quote)
    if revision.sent_at is None:
        messages.warning(request, f"{revision} was not sent yet, so nobody can have answered it.")
        return redirect(quote)
    content = content_of(revision.document)
    today = today_at(quote.place, timezone.now())
    form = TakenForm(request.POST or None, options=content["options"], today=today)
    if form.is_valid():
        taken = keep(form, lambda: _taken(request, revision, form))
        if taken is not None:
            messages.success(request, f"It is written down that {taken.name} {taken.kind} it.")
            return redirect(quote)
    context = {
        "form": form,
        "title": f"What {quote.place.customer} answered to quote {quote}",
        "back": quote.get_absolute_url(),
    }
    return render(request, "properties/form.html", context, status=422 if form.errors else 200)


def _taken(request: PersonRequest, revision: QuoteRevision, form: TakenForm) -> QuoteAnswer:
    typed = form.cleaned_data
    signed = Signed(typed["name"], typed["on"], timezone.now(), taken_by=request.user)
    if typed["letter"]:
        return accept_quote(revision, letter=typed["letter"], signed=signed)
    if not typed["reason"].strip():
        raise Refused("reason", "Nobody says how they answered.", "Write a few words.")
    return decline_quote(revision, reason=typed["reason"], signed=signed)
