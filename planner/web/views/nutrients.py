"""Pages about limits on nutrients and soil tests."""

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_safe

from planner.models import NutrientLimit, SoilTest
from planner.selectors.nutrients import nutrient_limits_of, soil_tests_of
from planner.services.nutrients import keep_soil_test, set_nutrient_limit
from planner.web.forms.nutrients import NutrientLimitForm, SoilTestForm
from properties.core.powers import Power
from properties.selectors.places import properties_of
from properties.web.access import PersonRequest, signed_in, today_of, with_power
from properties.web.keeping import keep


@require_safe
@signed_in
def nutrients(request: PersonRequest) -> HttpResponse:
    """List the limits on nutrients and the soil tests of the firm."""
    context = {
        "limits": nutrient_limits_of(request.user),
        "tests": soil_tests_of(request.user),
        "today": today_of(request),
    }
    return render(request, "planner/nutrients.html", context)


@require_http_methods(["GET", "POST"])
@with_power(Power.KEEP_RULES)
def edit_nutrient_limit(
    request: PersonRequest, pk: int | None = None, at: int | None = None
) -> HttpResponse:
    """Set a limit, everywhere or at one property, or change one."""
    place = None if at is None else get_object_or_404(properties_of(request.user), pk=at)
    limit = (
        NutrientLimit(firm=request.user.firm, from_on=today_of(request), only_at=place)
        if pk is None
        else get_object_or_404(nutrient_limits_of(request.user), pk=pk)
    )
    form = NutrientLimitForm(request.POST or None, instance=limit)
    if form.is_valid():
        kept = keep(
            form,
            lambda: set_nutrient_limit(
                person=request.user, limit=form.save(commit=False), at=timezone.now()
            ),
        )
        if kept is not None:
            messages.success(request, "The limit is kept, with you as the one who checked it.")
            return redirect("nutrients")
    where = f" at {limit.only_at.name}" if limit.only_at else ""
    return _form_page(request, form, title=f"Limit on a nutrient{where}")


@require_http_methods(["GET", "POST"])
@with_power(Power.KEEP_RULES)
def new_soil_test(request: PersonRequest, pk: int) -> HttpResponse:
    """Put a soil test of a property on file."""
    place = get_object_or_404(properties_of(request.user), pk=pk)
    form = SoilTestForm(request.POST or None, instance=SoilTest(property=place))
    if form.is_valid():
        kept = keep(form, lambda: keep_soil_test(person=request.user, test=form.save(commit=False)))
        if kept is not None:
            messages.success(request, "The soil test is on file.")
            return redirect("nutrients")
    return _form_page(request, form, title=f"Soil test of {place.name}")


def _form_page(
    request: PersonRequest, form: NutrientLimitForm | SoilTestForm, *, title: str
) -> HttpResponse:
    context = {"form": form, "title": title, "back": reverse("nutrients")}
    status = 422 if form.errors else 200
    return render(request, "properties/form.html", context, status=status)
