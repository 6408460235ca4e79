"""Pages about portfolios: the list, one with its members, asking for its quote."""

from typing import Any

from django.contrib import messages
from django.core.paginator import Paginator
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_POST

from planner.models import Portfolio
from planner.selectors.portfolios import members_of, not_yet_members, portfolios_of
from planner.services.portfolio_quotes import ask_portfolio_quote
from planner.services.portfolios import begin_portfolio, keep_portfolio
from planner.web.forms.portfolios import NewPortfolioForm, PortfolioForm, PortfolioQuoteForm
from properties.core.powers import Power
from properties.web.access import PersonRequest, today_of, with_power
from properties.web.keeping import keep

PAGE_SIZE = 30


@require_http_methods(["GET", "POST"])
@with_power(Power.SELL)
def portfolios(request: PersonRequest) -> HttpResponse:
    """List the portfolios of the firm, and begin one."""
    form = NewPortfolioForm(request.POST or None, person=request.user)
    if form.is_valid():
        begun = keep(
            form,
            lambda: begin_portfolio(person=request.user, at=timezone.now(), **form.cleaned_data),
        )
        if begun is not None:
            return redirect(begun)
    page = Paginator(portfolios_of(request.user), PAGE_SIZE).get_page(request.GET.get("page"))
    status = 422 if form.errors else 200
    return render(request, "planner/portfolios.html", {"page": page, "form": form}, status=status)


@require_http_methods(["GET", "POST"])
@with_power(Power.SELL)
def portfolio(request: PersonRequest, pk: int) -> HttpResponse:
    """Show a portfolio, and keep what its members are."""
    found = get_object_or_404(portfolios_of(request.user), pk=pk)
    form = PortfolioForm(found, list(members_of(found)), request.POST or None)
    if form.is_valid():
        kept = keep(
            form,
            lambda: keep_portfolio(
                found,
                form.facts(),
                person=request.user,
                edition=form.cleaned_data["edition"],
                at=timezone.now(),
            ),
        )
        if kept is not None:
            messages.success(request, "Kept.")
            return redirect(kept)
    return _page(request, found, form, None)


@require_POST
@with_power(Power.SELL)
def quote_portfolio(request: PersonRequest, pk: int) -> HttpResponse:
    """Ask for the quote of a portfolio, which is worked out in the background."""
    found = get_object_or_404(portfolios_of(request.user), pk=pk)
    now = timezone.now()
    form = PortfolioQuoteForm(request.POST, person=request.user, today=now.date())
    if form.is_valid():
        errand = keep(
            form,
            lambda: ask_portfolio_quote(found, form.asked(), person=request.user, at=now),
        )
        if errand is not None:
            return redirect(errand)
    return _page(request, found, None, form)


def _page(
    request: PersonRequest,
    found: Portfolio,
    form: PortfolioForm | None,
    asking: PortfolioQuoteForm | None,
) -> HttpResponse:
    members = list(members_of(found))
    today = today_of(request)
    context: dict[str, Any] = {
        "portfolio": found,
        "form": form or PortfolioForm(found, members),
        "asking": asking or PortfolioQuoteForm(person=request.user, today=today),
        "others": not_yet_members(found).count(),
        "quotes": found.quotes.select_related("programme", "made_by")[:PAGE_SIZE],
    }
    wrong = any(each is not None and each.errors for each in (form, asking))
    return render(request, "planner/portfolio.html", context, status=422 if wrong else 200)
