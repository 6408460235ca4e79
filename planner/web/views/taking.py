"""The loads of a day, told to be mixed: they are taken from the stock."""

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_POST

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
from properties.web.access import PersonRequest, signed_in


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
    plan = plan_for(day_request_for(person, asked, day=timezone.now().date()))
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
    before = ", ".join(product.name for product in taken.told_before)
    if not taken.entries:
        what = f"{before} was taken already, by what was entered today at these properties."
        return what if before else "The firm keeps no books of what is in this mix."
    also = f" {before} was taken already by other entries of today." if before else ""
    return f"The loads are taken from the stock.{also}"
