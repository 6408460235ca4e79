"""The price of a property: what to ask, what it costs, what is left, how sure that is."""

from typing import Any

from django.http import HttpResponse
from django.shortcuts import get_object_or_404, render
from django.views.decorators.http import require_safe

from planner.selectors.prices import price_for
from planner.web.forms.price_asked import PriceForm
from planner.web.price_sheet import price_sheet
from properties.core.errors import FaultsFound, Refused
from properties.core.powers import Power
from properties.selectors.places import properties_of
from properties.web.access import PersonRequest, today_of, with_power


@require_safe
@with_power(Power.KEEP_PRICES)
def price(request: PersonRequest, pk: int) -> HttpResponse:
    """Price a programme or a visit at a property, and show the working of every figure."""
    place = get_object_or_404(properties_of(request.user), pk=pk)
    form = PriceForm(request.GET if "book" in request.GET else None, person=request.user)
    context: dict[str, Any] = {"property": place, "form": form, "faults": ()}
    status = 200
    if form.is_bound and not form.is_valid():
        status = 422
    elif form.is_bound:
        asked = form.asked(place, day=today_of(request))
        try:
            context |= price_sheet(price_for(request.user, asked))
        except FaultsFound as found:
            context["faults"], status = found.faults, 422
        except Refused as refused:
            context["faults"], status = (refused,), 422
    return render(request, "planner/price.html", context, status=status)
