"""Pages about spread patterns, and what another pressure, speed or tip would do."""

from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_safe

from planner.models import PatternTest
from planner.selectors.equipment import machines_of, sprayers_of
from planner.selectors.patterns import pattern_sheet, patterns_of
from planner.selectors.products import mixes_of
from planner.selectors.what_if import Change, WhatIf, what_if
from planner.services.patterns import record_pattern
from planner.web.forms.patterns import PatternForm, WhatIfForm
from planner.web.pattern_picture import pattern_bars, variation_lines
from properties.core.powers import Power
from properties.web.access import PersonRequest, signed_in, with_power
from properties.web.keeping import keep


@require_http_methods(["GET", "POST"])
@with_power(Power.CALIBRATE)
def new_pattern(request: PersonRequest, pk: int) -> HttpResponse:
    """Enter what a row of pans caught."""
    machine = get_object_or_404(machines_of(request.user), pk=pk)
    form = PatternForm(request.POST or None)
    if form.is_valid():
        test = PatternTest(
            machine=machine, done_by=request.user, done_at=timezone.now(), **form.cleaned_data
        )
        kept = keep(form, lambda: record_pattern(test))
        if kept is not None:
            return redirect(kept)
    status = 422 if form.errors else 200
    context = {"form": form, "machine": machine}
    return render(request, "planner/pattern_form.html", context, status=status)


@require_safe
@signed_in
def pattern(request: PersonRequest, pk: int) -> HttpResponse:
    """Show what a spread pattern came to."""
    test = get_object_or_404(patterns_of(request.user), pk=pk)
    sheet = pattern_sheet(test)
    lines = variation_lines(
        [row.back_percent for row in sheet.rows],
        [row.round_percent for row in sheet.rows],
        ceiling=test.ceiling_percent,
    )
    context = {
        "test": test,
        "machine": test.machine,
        "sheet": sheet,
        "bars": pattern_bars(test.catches),
        "lines": lines,
    }
    return render(request, "planner/pattern.html", context)


@require_safe
@signed_in
def think(request: PersonRequest, pk: int) -> HttpResponse:
    """Show what another pressure, speed or tip would do."""
    machine = get_object_or_404(sprayers_of(request.user), pk=pk)
    form, sheet = WhatIfForm(request.GET or None, mixes=mixes_of(request.user)), None
    if form.is_valid():
        thought = form.thought()
        changes = WhatIf(
            **{name: Change(*pair) for name, pair in thought["pairs"].items()},
            specific_gravity=thought["gravity"],
        )
        mix = form.cleaned_data["mix"]
        sheet = keep(form, lambda: what_if(machine, changes, mix=mix, units=request.user.units))
    status = 422 if form.errors else 200
    context = {"form": form, "machine": machine, "sheet": sheet}
    return render(request, "planner/what_if.html", context, status=status)
