"""Pages about mixes."""

from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.views.decorators.http import require_http_methods, require_safe

from planner.models import Mix
from planner.selectors.mixing import is_for_plants, known_of, order_of
from planner.selectors.products import mixes_of, products_of
from planner.services.mixes import keep_mix
from planner.web.forms.mixes import MixForm
from properties.core.powers import Power
from properties.web.access import PersonRequest, signed_in, with_power
from properties.web.keeping import keep


@require_safe
@signed_in
def mix(request: PersonRequest, pk: int) -> HttpResponse:
    """Show what goes into the tank together."""
    found = get_object_or_404(mixes_of(request.user), pk=pk)
    context = {
        "mix": found,
        "order": order_of(found),
        "known": known_of(found, request.user.firm),
        "is_for_plants": is_for_plants(found),
    }
    return render(request, "planner/mix.html", context)


@require_http_methods(["GET", "POST"])
@with_power(Power.KEEP_LABELS)
def edit_mix(request: PersonRequest, pk: int | None = None) -> HttpResponse:
    """Put a mix together, or change one."""
    row = (
        Mix(firm=request.user.firm)
        if pk is None
        else get_object_or_404(mixes_of(request.user), pk=pk)
    )
    form = MixForm(request.POST or None, instance=row, products=products_of(request.user))
    if form.is_valid():
        kept = keep(
            form,
            lambda: keep_mix(
                form.save(commit=False),
                parts=form.parts,
                lines=form.lines,
                nutrients=form.nutrients,
            ),
        )
        if kept is not None:
            return redirect(kept)
    status = 422 if form.errors else 200
    return render(request, "planner/mix_form.html", {"form": form, "mix": row}, status=status)
