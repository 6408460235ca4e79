"""The buying list: what to buy by when, and working out what the jobs need."""

from collections.abc import Iterator

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.http import require_POST, require_safe

from planner.selectors.buying import PERIODS, Buying, buying_of
from planner.services.needs import AT_ONCE, refresh_needs
from planner.web.tables import csv_file
from properties.core.powers import Power
from properties.web.access import PersonRequest, today_of, with_power


@require_safe
@with_power(Power.KEEP_STOCK)
def buying(request: PersonRequest) -> HttpResponse:
    """Show what to buy by when."""
    told = _told(request)
    context = {
        "buying": told,
        "period": told.period,
        "periods": PERIODS,
        "takes_long": len(told.needs.stale) > AT_ONCE,
        "today": today_of(request),
    }
    return render(request, "planner/buying.html", context)


@require_safe
@with_power(Power.KEEP_STOCK)
def buying_csv(request: PersonRequest) -> HttpResponse:
    """Send the buying list as a file for a spreadsheet."""
    return csv_file("buying-list.csv", _rows(_told(request)))


@require_POST
@with_power(Power.KEEP_STOCK)
def refresh_buying(request: PersonRequest) -> HttpResponse:
    """Work out what the jobs need that are new or have changed."""
    errand = refresh_needs(request.user, at=timezone.now())
    if errand is not None:
        return redirect(errand)
    messages.success(request, "What the jobs need is worked out.")
    return redirect("buying")


def _told(request: PersonRequest) -> Buying:
    return buying_of(request.user, on=today_of(request), by=request.GET.get("by", ""))


def _rows(told: Buying) -> Iterator[list[object]]:
    yield [
        *("Product", "From", "Jobs", "Planned", "Lowest", "Highest", "Unit"),
        *("Short of", "Unit", "Buy", "Order by", "Needed on", "Cost", "Left over", "Unit"),
    ]
    for each in told.products:
        for row in each.lines:
            planned, line = row.planned, row.line
            unit = planned.amount.unit
            ends = (planned.lowest.to(unit), planned.highest.to(unit))
            yield [
                each.product.name,
                line.first_day,
                line.planned.jobs,
                round(planned.amount.value, 3),
                *(round(end.value, 3) for end in ends),
                unit,
                round(row.short.value, 3),
                row.short.unit,
                "; ".join(f"{order.count} × {order.size}" for order in row.orders),
                line.order_by,
                line.first_short_on,
                line.cost if row.orders else None,
                round(row.left_over.value, 3),
                row.left_over.unit,
            ]
