"""Pages about blackout dates."""

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_safe

from planner.models import BlackoutRule
from planner.selectors.applications import blackouts_of
from planner.services.blackouts import set_blackout
from planner.web.forms.blackouts import BlackoutForm
from properties.core.powers import Power
from properties.selectors.places import properties_of
from properties.web.access import PersonRequest, signed_in, with_power
from properties.web.keeping import keep


@require_safe
@signed_in
def blackouts(request: PersonRequest) -> HttpResponse:
    """List the days of every year on which something is not put down."""
    return render(request, "planner/blackouts.html", {"rules": blackouts_of(request.user)})


@require_http_methods(["GET", "POST"])
@with_power(Power.KEEP_RULES)
def edit_blackout(
    request: PersonRequest, pk: int | None = None, at: int | None = None
) -> HttpResponse:
    """Set blackout dates, everywhere or at one property, or change them."""
    place = None if at is None else get_object_or_404(properties_of(request.user), pk=at)
    rule = (
        BlackoutRule(firm=request.user.firm, only_at=place)
        if pk is None
        else get_object_or_404(blackouts_of(request.user), pk=pk)
    )
    form = BlackoutForm(request.POST or None, instance=rule)
    if form.is_valid():
        written = form.save(commit=False)
        kept = keep(form, lambda: set_blackout(written, person=request.user, at=timezone.now()))
        if kept is not None:
            messages.success(request, "The dates are kept, with you as the one who checked them.")
            return redirect("blackouts")
    where = f" at {rule.only_at.name}" if rule.only_at else ""
    context = {"form": form, "title": f"Blackout dates{where}", "back": reverse("blackouts")}
    return render(request, "properties/form.html", context, status=422 if form.errors else 200)
