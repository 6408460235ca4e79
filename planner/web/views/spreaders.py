"""Pages about spreaders and their catch tests."""

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.views.decorators.http import require_http_methods

from planner.models import Machine
from planner.selectors.equipment import spreaders_of
from planner.selectors.spreaders import spreadable_products_of
from planner.services.spreaders import Runs, keep_spreader, record_catch_tests
from planner.web.forms.spreaders import CatchTestForm, SpreaderForm
from properties.core.powers import Power
from properties.web.access import PersonRequest, with_power
from properties.web.keeping import keep


@require_http_methods(["GET", "POST"])
@with_power(Power.KEEP_MACHINES)
def edit_spreader(request: PersonRequest, pk: int | None = None) -> HttpResponse:
    """Add a spreader, or change one."""
    row = (
        Machine(firm=request.user.firm, kind="rotary_spreader")
        if pk is None
        else get_object_or_404(spreaders_of(request.user), pk=pk)
    )
    form = SpreaderForm(request.POST or None, instance=row)
    if form.is_valid():
        kept = keep(form, lambda: keep_spreader(form.save(commit=False)))
        if kept is not None:
            return redirect(kept)
    status = 422 if form.errors else 200
    context = {"form": form, "machine": row}
    return render(request, "planner/spreader_form.html", context, status=status)


@require_http_methods(["GET", "POST"])
@with_power(Power.CALIBRATE)
def catch_test(request: PersonRequest, pk: int) -> HttpResponse:
    """Enter runs of a spreader that were weighed back."""
    row = get_object_or_404(spreaders_of(request.user), pk=pk)
    form = CatchTestForm(request.POST or None, products=spreadable_products_of(request.user))
    if form.is_valid() and _recorded(request, row, form):
        messages.success(request, "The catch test is kept.")
        return redirect(row)
    status = 422 if form.errors else 200
    return render(request, "planner/catch_test.html", {"form": form, "machine": row}, status=status)


def _recorded(request: PersonRequest, machine: Machine, form: CatchTestForm) -> bool:
    runs = Runs(
        form.chosen(), form.cleaned_data["setting"], form.ground(machine.swath), form.used()
    )
    kept = keep(
        form,
        lambda: record_catch_tests(
            machine,
            runs,
            person=request.user,
            at=timezone.now(),
            note=form.cleaned_data["note"],
        ),
    )
    return kept is not None
