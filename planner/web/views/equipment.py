"""Pages about machines and their calibrations."""

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_safe

from planner.models import Machine
from planner.selectors.equipment import (
    calibration_sheet,
    machines_of,
    newest_calibration,
    sprayers_of,
)
from planner.selectors.spreaders import settings_sheets, tested_products
from planner.services.equipment import keep_machine, record_course_calibration
from planner.web.forms.equipment import CourseForm, MachineForm
from properties.core.powers import Power
from properties.web.access import PersonRequest, signed_in, with_power
from properties.web.keeping import keep


@require_safe
@signed_in
def machines(request: PersonRequest) -> HttpResponse:
    """List the machines with their tanks and calibrated output."""
    rows = []
    for machine in machines_of(request.user):
        calibration = newest_calibration(machine)
        found = calibration and calibration_sheet(calibration, units=request.user.units)
        tested = len(tested_products(machine)) if machine.is_spreader else 0
        rows.append(
            {"machine": machine, "calibration": calibration, "sheet": found, "tested": tested}
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
    present = newest_calibration(found)
    calibrations = [
        {"row": row, "sheet": calibration_sheet(row, units=request.user.units)}
        for row in found.calibrations.prefetch_related("runs").select_related("done_by")[:20]
    ]
    context = {"machine": found, "present": present, "calibrations": calibrations}
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


@require_http_methods(["GET", "POST"])
@with_power(Power.CALIBRATE)
def calibrate(request: PersonRequest, pk: int) -> HttpResponse:
    """Enter the water used in runs over a measured course."""
    row = get_object_or_404(sprayers_of(request.user), pk=pk)
    form = CourseForm(request.POST or None)
    if (
        form.is_valid()
        and keep(
            form,
            lambda: record_course_calibration(
                row,
                person=request.user,
                at=timezone.now(),
                course_length=form.cleaned_data["course_length"],
                volumes_used=form.volumes,
                note=form.cleaned_data["note"],
            ),
        )
        is not None
    ):
        messages.success(request, "The calibration is kept.")
        return redirect(row)
    status = 422 if form.errors else 200
    return render(request, "planner/calibrate.html", {"form": form, "machine": row}, status=status)
