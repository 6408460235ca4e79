"""Pages about the quote of a portfolio: what each lot pays, one price, the answer."""

from decimal import Decimal
from typing import Any

from django.contrib import messages
from django.core.paginator import Paginator
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_safe

from planner.models import PortfolioLine, PortfolioQuote
from planner.selectors.portfolios import is_newest, portfolio_quotes_of
from planner.services.portfolio_answers import accept_portfolio_quote
from planner.web.forms.portfolios import AcceptedForm
from planner.web.portfolio_sheet import line_sheet, lots_csv
from properties.core.powers import Power
from properties.web.access import PersonRequest, with_power
from properties.web.keeping import keep

LINES_A_PAGE = 100


@require_http_methods(["GET", "POST"])
@with_power(Power.SELL)
def portfolio_quote(request: PersonRequest, pk: int) -> HttpResponse:
    """Show what each lot pays, and take down that the quote was accepted."""
    quote = _quote(request, pk)
    form = AcceptedForm(request.POST or None)
    if form.is_valid():
        accepted = keep(
            form,
            lambda: accept_portfolio_quote(
                quote, person=request.user, at=timezone.now(), **form.cleaned_data
            ),
        )
        if accepted is not None:
            messages.success(request, "Taken down. The jobs are in Season.")
            return redirect(accepted)
    status = 422 if form.errors else 200
    return render(
        request, "planner/portfolio_quote.html", _context(request, quote, form), status=status
    )


def _context(request: PersonRequest, quote: PortfolioQuote, form: AcceptedForm) -> dict[str, Any]:
    lots = quote.lines.filter(is_common=False).select_related("place").defer("price", "shares")
    commons = quote.lines.filter(is_common=True).select_related("place").defer("price", "shares")
    open_to_answer = quote.total is not None and quote.accepted_on is None and is_newest(quote)
    return {
        "quote": quote,
        "form": form if open_to_answer else None,
        "is_newest": is_newest(quote),
        "page": Paginator(lots, LINES_A_PAGE).get_page(request.GET.get("page")),
        "commons": commons,
        "common_net": sum((line.own_net for line in commons), Decimal(0)),
        "currency": quote.terms.get("currency", quote.portfolio.firm.currency),
    }


@require_safe
@with_power(Power.SELL)
def portfolio_line(request: PersonRequest, pk: int, place: int) -> HttpResponse:
    """Show the price of one property of a portfolio quote, with every working."""
    quote = _quote(request, pk)
    lines = PortfolioLine.objects.filter(quote=quote).select_related("place")
    line = get_object_or_404(lines, place=place)
    may_see = request.user.may(Power.SEE_MARGINS)
    context = {"quote": quote, "line": line} | line_sheet(line, with_costs=may_see)
    return render(request, "planner/portfolio_line.html", context)


@require_safe
@with_power(Power.SELL)
def portfolio_csv(request: PersonRequest, pk: int) -> HttpResponse:
    """Send what each lot pays as a file."""
    quote = _quote(request, pk)
    # The mark lets spreadsheet programs see that it is UTF-8.
    response = HttpResponse("\ufeff" + lots_csv(quote), content_type="text/csv; charset=utf-8")
    response["Content-Disposition"] = f'attachment; filename="lots-{quote.pk}.csv"'
    return response


def _quote(request: PersonRequest, pk: int) -> PortfolioQuote:
    return get_object_or_404(portfolio_quotes_of(request.user), pk=pk)
