"""Pages about the set-up of a machine, the firm's rule for calibrations, and its measures."""

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.views.decorators.http import require_http_methods

from planner.models import CalibrationRule
from planner.selectors.calibrations import fittings_row
from planner.selectors.equipment import machines_of, measures_of
from planner.services.calibrations import keep_fittings, keep_measures, keep_rule
from planner.web.forms.fittings import CalibrationRuleForm, FittingsForm, MeasuresForm
from properties.core.powers import Power
from properties.selectors.people import people_of
from properties.web.access import PersonRequest, with_power
from properties.web.keeping import keep


@require_http_methods(["GET", "POST"])
@with_power(Power.KEEP_MACHINES)
def fittings(request: PersonRequest, pk: int) -> HttpResponse:
    """Tell the set-up that a calibration belongs to, and what is fitted."""
    machine = get_object_or_404(machines_of(request.user), pk=pk)
    form = FittingsForm(
        request.POST or None, instance=fittings_row(machine), people=people_of(request.user)
    )
    if form.is_valid() and keep(form, lambda: keep_fittings(form.save(commit=False))) is not None:
        return redirect(machine)
    status = 422 if form.errors else 200
    context = {"form": form, "machine": machine}
    return render(request, "planner/fittings.html", context, status=status)


@require_http_methods(["GET", "POST"])
@with_power(Power.KEEP_MACHINES)
def calibration_rule(request: PersonRequest) -> HttpResponse:
    """Tell for how long the firm goes by a calibration."""
    rule = CalibrationRule.objects.filter(firm=request.user.firm).first()
    form = CalibrationRuleForm(
        request.POST or None, instance=rule or CalibrationRule(firm=request.user.firm)
    )
    if form.is_valid() and keep(form, lambda: keep_rule(form.save(commit=False))) is not None:
        messages.success(request, "The rule is kept.")
        return redirect("machines")
    status = 422 if form.errors else 200
    return render(request, "planner/calibration_rule.html", {"form": form}, status=status)


@require_http_methods(["GET", "POST"])
@with_power(Power.KEEP_MACHINES)
def measures(request: PersonRequest) -> HttpResponse:
    """Tell which jugs, cups, syringes and scales the trucks carry."""
    firm = request.user.firm
    present = [measure.mark for measure in measures_of(firm)]
    form = MeasuresForm(request.POST or None, present=present)
    if form.is_valid() and keep(form, lambda: keep_measures(firm, marks=form.marks())) is not None:
        messages.success(request, "The measures are kept.")
        return redirect("machines")
    status = 422 if form.errors else 200
    return render(request, "planner/measures.html", {"form": form}, status=status)
