"""Pages about machines."""

from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.views.decorators.http import require_http_methods, require_safe

from planner.models import Machine
from planner.selectors.calibrations import (
    calibration_sheet,
    changed_since,
    fittings_row,
    lasting_of,
    newest_calibration,
    said_of,
)
from planner.selectors.equipment import machines_of, sprayers_of
from planner.selectors.spreaders import settings_sheets, tested_products
from planner.services.equipment import keep_machine
from planner.web.forms.equipment import MachineForm
from properties.core.powers import Power
from properties.web.access import PersonRequest, signed_in, today_of, with_power
from properties.web.keeping import keep


@require_safe
@signed_in
def machines(request: PersonRequest) -> HttpResponse:
    """List the machines with their tanks and calibrated output."""
    rows, today = [], today_of(request)
    for machine in machines_of(request.user):
        calibration = newest_calibration(machine)
        found = calibration and calibration_sheet(calibration, units=request.user.units)
        tested = len(tested_products(machine)) if machine.is_spreader else 0
        rows.append(
            {
                "machine": machine,
                "calibration": calibration,
                "sheet": found,
                "tested": tested,
                "has_ended": calibration is not None
                and lasting_of(machine, fittings_row(machine)).has_ended(calibration, on=today),
            }
        )
    return render(request, "planner/machines.html", {"rows": rows})


@require_safe
@signed_in
def machine(request: PersonRequest, pk: int) -> HttpResponse:
    """Show a machine and every calibration it has had."""
    found = get_object_or_404(machines_of(request.user), pk=pk)
    if found.is_spreader:
        sheets = settings_sheets(found, units=request.user.units)
        return render(request, "planner/spreader.html", {"machine": found, "sheets": sheets})
    present, fittings = newest_calibration(found), fittings_row(found)
    lasting, today = lasting_of(found, fittings), today_of(request)
    calibrations = [
        {
            "row": row,
            "sheet": calibration_sheet(row, units=request.user.units),
            "changed": [said_of(change) for change in changed_since(row, fittings)],
            "has_ended": lasting.has_ended(row, on=today),
        }
        for row in found.calibrations.select_related("done_by")[:20]
    ]
    context = {
        "machine": found,
        "present": present,
        "fittings": fittings,
        "lasting": lasting,
        "calibrations": calibrations,
    }
    return render(request, "planner/machine.html", context)


@require_http_methods(["GET", "POST"])
@with_power(Power.KEEP_MACHINES)
def edit_machine(request: PersonRequest, pk: int | None = None) -> HttpResponse:
    """Add a machine, or change one."""
    row = (
        Machine(firm=request.user.firm)
        if pk is None
        else get_object_or_404(sprayers_of(request.user), pk=pk)
    )
    form = MachineForm(request.POST or None, instance=row)
    if form.is_valid():
        kept = keep(form, lambda: keep_machine(form.save(commit=False), **form.tanks()))
        if kept is not None:
            return redirect(kept)
    status = 422 if form.errors else 200
    context = {"form": form, "machine": row}
    return render(request, "planner/machine_form.html", context, status=status)
