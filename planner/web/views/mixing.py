"""Pages about what goes together in a tank."""

from typing import Any

from django.contrib import messages
from django.forms import BaseForm
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from planner.models import ProductPair, WaterTest
from planner.selectors.mixing import jar_tests_of, pairs_of, water_test_of
from planner.selectors.products import mixes_of, products_of
from planner.services.mixing import forget_pair, keep_pair, keep_water_test, record_jar_test
from planner.web.forms.mixing import JarTestForm, PairForm, WaterTestForm
from properties.core.powers import Power
from properties.web.access import PersonRequest, signed_in, with_power
from properties.web.keeping import keep


@require_safe
@signed_in
def mixing(request: PersonRequest) -> HttpResponse:
    """Show what the firm knows of mixing."""
    context = {
        "pairs": pairs_of(request.user),
        "jar_tests": jar_tests_of(request.user),
        "water": water_test_of(request.user.firm),
    }
    return render(request, "planner/mixing.html", context)


@require_http_methods(["GET", "POST"])
@with_power(Power.KEEP_LABELS)
def new_pair(request: PersonRequest) -> HttpResponse:
    """Enter two products that do not go together."""
    form = PairForm(
        request.POST or None,
        instance=ProductPair(firm=request.user.firm),
        products=products_of(request.user),
    )
    if form.is_valid() and (
        keep(
            form,
            lambda: keep_pair(form.save(commit=False), person=request.user, at=timezone.now()),
        )
        is not None
    ):
        messages.success(request, "Kept. Every plan with the two together says so from now on.")
        return redirect("mixing")
    return _form_page(request, form, "Two products that do not go together")


@require_POST
@with_power(Power.KEEP_LABELS)
def remove_pair(request: PersonRequest, pk: int) -> HttpResponse:
    """Let two products share a tank again."""
    forget_pair(get_object_or_404(pairs_of(request.user), pk=pk))
    messages.success(request, "Removed. Plans no longer speak of these two.")
    return redirect("mixing")


@require_http_methods(["GET", "POST"])
@signed_in
def new_jar_test(request: PersonRequest) -> HttpResponse:
    """Write down what came of a mix in a jar."""
    form = JarTestForm(
        request.POST or None,
        mixes=mixes_of(request.user),
        initial={"mix": request.GET.get("mix")},
    )
    if form.is_valid() and (
        keep(
            form,
            lambda: record_jar_test(
                form.cleaned_data["mix"],
                person=request.user,
                at=timezone.now(),
                fits=form.came_out(),
                note=form.cleaned_data["note"],
            ),
        )
        is not None
    ):
        messages.success(request, "Kept, with you as the one who tried it.")
        return redirect("mixing")
    return _form_page(request, form, "What came of a jar test")


@require_http_methods(["GET", "POST"])
@with_power(Power.KEEP_LABELS)
def edit_water_test(request: PersonRequest) -> HttpResponse:
    """Enter what is in the water."""
    test = water_test_of(request.user.firm) or WaterTest(firm=request.user.firm)
    form = WaterTestForm(request.POST or None, instance=test)
    if form.is_valid() and (
        keep(form, lambda: keep_water_test(form.save(commit=False))) is not None
    ):
        messages.success(request, "The water test is kept.")
        return redirect("mixing")
    return _form_page(request, form, "What is in your water")


def _form_page(request: PersonRequest, form: BaseForm, title: str) -> HttpResponse:
    context: dict[str, Any] = {"form": form, "title": title, "back": reverse("mixing")}
    status = 422 if form.errors else 200
    return render(request, "properties/form.html", context, status=status)
