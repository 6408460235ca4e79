"""What was in each tank of a machine, and that it was rinsed."""

from typing import Any

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.views.decorators.http import require_http_methods

from planner.models import Machine
from planner.selectors.equipment import machines_of
from planner.selectors.products import mixes_of
from planner.selectors.tanks import last_in_tanks, tank_uses_of
from planner.services.tanks import confirm_rinse, record_tank_use
from planner.web.forms.tanks import RinseForm, TankUseForm
from properties.core.powers import Power
from properties.web.access import PersonRequest, with_power
from properties.web.keeping import keep


@require_http_methods(["GET", "POST"])
@with_power(Power.CALIBRATE)
def tank_history(request: PersonRequest, pk: int) -> HttpResponse:
    """Show what each tank held last, and record what is mixed now."""
    machine = get_object_or_404(machines_of(request.user), pk=pk)
    form = TankUseForm(request.POST or None, machine=machine, mixes=mixes_of(request.user))
    if form.is_valid():
        kept = keep(
            form,
            lambda: record_tank_use(
                machine,
                tank=int(form.cleaned_data["tank"]),
                mix=form.cleaned_data["mix"],
                person=request.user,
                at=timezone.now(),
            ),
        )
        if kept is not None:
            messages.success(request, "It stands in the tank’s history.")
            return redirect("tank_history", pk)
    return _page(request, machine, {"form": form}, 422 if form.errors else 200)


@require_http_methods(["GET", "POST"])
@with_power(Power.CALIBRATE)
def rinse_tank(request: PersonRequest, pk: int, tank: int) -> HttpResponse:
    """Confirm that a tank was rinsed as the label of what it held says."""
    machine = get_object_or_404(machines_of(request.user), pk=pk)
    use = get_object_or_404(tank_uses_of(machine), pk=_last(machine, tank))
    form = RinseForm(request.POST or None)
    if form.is_valid():
        how = form.cleaned_data["how"]
        kept = keep(
            form, lambda: confirm_rinse(use, person=request.user, at=timezone.now(), how=how)
        )
        if kept is not None:
            messages.success(request, f"Tank {tank} is confirmed as rinsed.")
            return redirect("tank_history", pk)
    status = 422 if form.errors else 200
    context = {"machine": machine, "use": use, "form": form}
    return render(request, "planner/rinse_tank.html", context, status=status)


def _last(machine: Machine, tank: int) -> int | None:
    use = last_in_tanks(machine).get(tank)
    return None if use is None else use.pk


def _page(
    request: PersonRequest, machine: Machine, context: dict[str, Any], status: int
) -> HttpResponse:
    last = last_in_tanks(machine)
    tanks = [(tank, last.get(tank.position)) for tank in machine.tanks.all()]
    context |= {"machine": machine, "tanks": tanks, "uses": tank_uses_of(machine)[:25]}
    return render(request, "planner/tank_history.html", context, status=status)
