"""The stock: what is there, what one product and one lot went through."""

from typing import Any

from django.core.paginator import Paginator
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, render
from django.views.decorators.http import require_safe

from planner.selectors.products import products_of
from planner.selectors.stock import containers_of, lines_of, lots_of, stock_of, stores_of, value_of
from properties.web.access import PersonRequest, signed_in, today_of

PAGE_SIZE = 40


@require_safe
@signed_in
def stock(request: PersonRequest) -> HttpResponse:
    """Show what is there of each product."""
    stocks = stock_of(request.user, on=today_of(request))
    context = {
        "stocks": stocks,
        "value": value_of(stocks),
        "stores": stores_of(request.user),
        "to_do": [(each, finding) for each in stocks for finding in each.findings],
    }
    return render(request, "planner/stock.html", context)


@require_safe
@signed_in
def product_stock(request: PersonRequest, pk: int) -> HttpResponse:
    """Show what is there of one product, lot by lot, and everything that moved it."""
    product = get_object_or_404(products_of(request.user), pk=pk)
    stocks = stock_of(request.user, on=today_of(request), products=[product])
    context = _lines(request, product=product)
    context |= {
        "product": product,
        "stock": stocks[0] if stocks else None,
        "containers": containers_of(request.user).filter(product=product),
    }
    return render(request, "planner/product_stock.html", context)


@require_safe
@signed_in
def lot(request: PersonRequest, pk: int) -> HttpResponse:
    """Show what is left of one lot, and everything that moved it."""
    row = get_object_or_404(lots_of(request.user), pk=pk)
    (whole,) = stock_of(request.user, on=today_of(request), products=[row.product])
    context = _lines(request, lot=row)
    context |= {"lot": row, "shelves": [each for each in whole.shelves if each.lot == row]}
    return render(request, "planner/lot.html", context)


def _lines(request: PersonRequest, **of: Any) -> dict[str, Any]:
    rows = lines_of(request.user).filter(**of)
    return {"page": Paginator(rows, PAGE_SIZE).get_page(request.GET.get("page"))}
