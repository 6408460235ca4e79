"""The loads of a day, told to be mixed: they are taken from the stock."""

from collections.abc import Iterable

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_POST

from planner.models import Product
from planner.selectors.equipment import machines_of
from planner.selectors.plans import plan_for
from planner.selectors.products import mixes_of, products_of
from planner.selectors.routes import DayAsked, Lawn, day_request_for
from planner.services.day_loads import DayLoads, loaded_in, take_day_loads
from planner.services.stock import Act
from planner.services.taking import TakenSoFar
from planner.web.forms.routes import SPRAYERS, DayForm
from planner.web.forms.stock import FurtherForm
from properties.core.errors import FaultsFound, Refused
from properties.selectors.places import properties_of
from properties.web.access import PersonRequest, signed_in, today_of


@require_POST
@signed_in
def take_loads(request: PersonRequest) -> HttpResponse:
    """Work the loads of the question in the address out again, and take them from the stock."""
    back = f"{reverse('loads')}?{request.GET.urlencode()}"
    form = FurtherForm(request.POST)
    form.full_clean()
    try:
        loads = _loads(request)
    except (FaultsFound, Refused) as refused:
        form.add_error(None, str(refused))
        context = {"form": form, "title": "Take the loads from the stock", "back": back}
        return render(request, "properties/form.html", context, status=422)
    now = timezone.now()
    act = Act(request.user, now.date(), now, f"Loads of {loads.machine}, {loads.mix}")
    taken = take_day_loads(loads, act=act, further=form.cleaned_data["further"])
    messages.success(request, _said(taken))
    return redirect(back)


def _loads(request: PersonRequest) -> DayLoads:
    person = request.user
    form = DayForm(
        request.GET,
        machines=machines_of(person).filter(kind__in=SPRAYERS),
        mixes=mixes_of(person),
        places=properties_of(person),
    )
    if not form.is_valid():
        raise Refused("", "This day cannot be worked out any more.", "Plan the loads again.")
    asked = DayAsked(**form.question())
    plan = plan_for(day_request_for(person, asked, day=today_of(request)))
    if plan["refusals"]:
        raise Refused("", "These loads must not be mixed.", "See what speaks against them.")
    products = {product.name: product for product in products_of(person)}
    return DayLoads(
        asked.machine,
        asked.mix,
        asked.tank,
        tuple({leg.place.pk: leg.place for leg in asked.legs if isinstance(leg, Lawn)}.values()),
        tuple((products[name], amount) for name, amount in loaded_in(plan) if name in products),
    )


def _said(taken: TakenSoFar) -> str:
    """Say what was taken, and of what is left out, why."""
    words = []
    if taken.entries:
        words.append("The loads are taken from the stock.")
    if taken.told_before:
        words.append(f"{_names(taken.told_before)}: taken already, by other entries of today.")
    if taken.other_measure:
        words.append(
            f"{_names(taken.other_measure)}: not taken, since it was weighed where its "
            "containers hold a volume, or the other way round."
        )
    return " ".join(words) or "The firm keeps no books of what is in this mix."


def _names(products: Iterable[Product]) -> str:
    return ", ".join(product.name for product in products)
