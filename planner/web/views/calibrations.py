"""Pages of the calibration workshop: how to measure, the measurement, what it came to."""

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_safe

from planner.models import Calibration
from planner.selectors.calibrations import (
    calibration_sheet,
    calibrations_of,
    changed_since,
    fittings_row,
    lasting_of,
    newest_calibration,
    quantities_told,
    said_of,
)
from planner.selectors.equipment import sprayers_of
from planner.selectors.ground_done import day_made, done_since
from planner.services.calibrations import (
    note_ground_done,
    note_slope_speeds,
    record_calibration,
)
from planner.web.forms.calibrations import FORMS, GroundDoneForm
from planner.web.forms.slope_speeds import SlopeSpeedsForm
from planner.web.nozzle_picture import nozzle_bars
from properties.core.powers import Power
from properties.web.access import PersonRequest, signed_in, today_of, with_power
from properties.web.keeping import keep

#: Kinds whose speed on a slope matters.
DRIVEN_KINDS = ("boom_sprayer", "boomless_sprayer")

#: Which ways of measuring go with a kind of machine, the usual one first.
WAYS = {
    "boom_sprayer": ("timed_catch", "measured_course"),
    "boomless_sprayer": ("measured_course",),
    "hand_gun": ("hand_gun_course", "small_plot", "measured_course"),
    "backpack_sprayer": ("small_plot", "hand_gun_course", "measured_course"),
}


@require_safe
@with_power(Power.CALIBRATE)
def workshop(request: PersonRequest, pk: int) -> HttpResponse:
    """Choose how to measure."""
    row = get_object_or_404(sprayers_of(request.user), pk=pk)
    context = {
        "machine": row,
        "fittings": fittings_row(row),
        "ways": WAYS.get(row.kind, ("measured_course",)),
    }
    return render(request, "planner/workshop.html", context)


@require_http_methods(["GET", "POST"])
@with_power(Power.CALIBRATE)
def calibrate(request: PersonRequest, pk: int, method: str = "measured_course") -> HttpResponse:
    """Enter what was measured with water."""
    row = get_object_or_404(sprayers_of(request.user), pk=pk)
    fittings = fittings_row(row)
    form = FORMS[method](request.POST or None, machine=row, fittings=fittings)
    if form.is_valid():
        kept = keep(
            form,
            lambda: record_calibration(
                row,
                person=request.user,
                at=timezone.now(),
                told=form.measured(),
                note=form.cleaned_data["note"],
            ),
        )
        if kept is not None:
            messages.success(request, "The calibration is kept.")
            return redirect(kept)
    status = 422 if form.errors else 200
    context = {"form": form, "machine": row, "fittings": fittings, "method": method}
    return render(request, "planner/calibrate.html", context, status=status)


@require_safe
@signed_in
def calibration(request: PersonRequest, pk: int) -> HttpResponse:
    """Show what a calibration came to."""
    row = get_object_or_404(calibrations_of(request.user), pk=pk)
    return _shown(request, row)


@require_http_methods(["POST"])
@with_power(Power.CALIBRATE)
def ground_done(request: PersonRequest, pk: int) -> HttpResponse:
    """Note how much ground was done since a calibration."""
    row = get_object_or_404(calibrations_of(request.user), pk=pk)
    form = GroundDoneForm(request.POST)
    if form.is_valid():
        area = form.cleaned_data["area_since"]
        if keep(form, lambda: note_ground_done(row, area=area)) is not None:
            messages.success(request, "The ground done since is kept.")
            return redirect(row)
    return _shown(request, row, done=form)


@require_http_methods(["POST"])
@with_power(Power.CALIBRATE)
def slope_speeds(request: PersonRequest, pk: int) -> HttpResponse:
    """Note how fast the machine drives on slopes."""
    row = get_object_or_404(calibrations_of(request.user), pk=pk)
    form = SlopeSpeedsForm(request.POST, calibration=row)
    if form.is_valid() and keep(form, lambda: note_slope_speeds(row, told=form.told())) is not None:
        messages.success(request, "The speeds on slopes are kept.")
        return redirect(row)
    return _shown(request, row, slopes=form)


def _shown(
    request: PersonRequest,
    row: Calibration,
    *,
    done: GroundDoneForm | None = None,
    slopes: SlopeSpeedsForm | None = None,
) -> HttpResponse:
    fittings = fittings_row(row.machine)
    sheet, lasting = (
        calibration_sheet(row, units=request.user.units),
        lasting_of(row.machine, fittings),
    )
    context = {
        "calibration": row,
        "machine": row.machine,
        "sheet": sheet,
        "bars": nozzle_bars(sheet.nozzles),
        "told": list(quantities_told(row.told)),
        "changed": [said_of(change) for change in changed_since(row, fittings)],
        "is_used": row == newest_calibration(row.machine),
        "lasting": lasting,
        "last_day": lasting.last_day(day_made(row)),
        "has_ended": lasting.has_ended(row, on=today_of(request)),
        "ground": done_since(row),
        "done": done or GroundDoneForm(initial={"area_since": row.area_since}),
        "slopes": slopes or SlopeSpeedsForm(calibration=row),
        "is_driven": row.machine.kind in DRIVEN_KINDS,
        "fittings": fittings,
    }
    has_faults = any(form is not None and form.errors for form in (done, slopes))
    status = 422 if has_faults else 200
    return render(request, "planner/calibration.html", context, status=status)
