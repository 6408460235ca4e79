"""Entering what a place has had, and striking out what was entered wrong."""

from collections.abc import Callable
from typing import Any

from django import forms
from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_http_methods

from planner.models import Machine, PastApplication, Seeding
from planner.selectors.applications import (
    applications_of,
    known_since,
    lawns_of,
    seedings_of,
    sprayed_parts_of,
)
from planner.selectors.equipment import machines_of
from planner.selectors.kept_plans import kept_plans_of
from planner.selectors.products import products_of
from planner.services.applications import (
    Entered,
    record_application,
    record_seeding,
    record_sprayed,
    say_known_since,
    strike_out,
)
from planner.web.forms.applications import (
    ApplicationForm,
    KnownSinceForm,
    SeedingForm,
    SprayedForm,
    StrikeForm,
)
from properties.core.powers import Power
from properties.models import Property
from properties.selectors.places import properties_of
from properties.web.access import PersonRequest, signed_in, today_of, with_power
from properties.web.keeping import keep


@require_http_methods(["GET", "POST"])
@signed_in
def new_application(request: PersonRequest, pk: int) -> HttpResponse:
    """Enter what was put down on some lawns."""
    place = get_object_or_404(properties_of(request.user), pk=pk)
    form = ApplicationForm(
        request.POST or None,
        lawns=lawns_of(place),
        products=products_of(request.user),
        machines=machines_of(request.user),
        initial={"applied_on": today_of(request)},
    )

    def act() -> object:
        typed = dict(form.cleaned_data)
        entered = _entered(request, typed.pop("note"), typed.pop("machine"))
        return record_application(place, entered=entered, **typed)

    said = "It is entered, and counts against every limit of its label from now on."
    return _kept(request, form, act, place=place, said=said, title=f"What was put down on {place}")


@require_http_methods(["GET", "POST"])
@signed_in
def new_seeding(request: PersonRequest, pk: int) -> HttpResponse:
    """Enter that some lawns were sown, or will be."""
    place = get_object_or_404(properties_of(request.user), pk=pk)
    form = SeedingForm(request.POST or None, lawns=lawns_of(place))

    def act() -> object:
        typed = dict(form.cleaned_data)
        return record_seeding(place, entered=_entered(request, typed.pop("note")), **typed)

    said = "It is entered. Ground that is sown waits as long as each label asks."
    return _kept(request, form, act, place=place, said=said, title=f"What was sown on {place}")


@require_http_methods(["GET", "POST"])
@signed_in
def plan_sprayed(request: PersonRequest, pk: int) -> HttpResponse:
    """Enter that a kept plan was sprayed."""
    kept = get_object_or_404(kept_plans_of(request.user), pk=pk)
    form = SprayedForm(
        request.POST or None,
        parts=sprayed_parts_of(kept),
        initial={"applied_on": today_of(request)},
    )

    def act() -> object:
        return record_sprayed(
            kept,
            applied_on=form.cleaned_data["applied_on"],
            rates=form.rates(),
            entered=_entered(request, form.cleaned_data["note"]),
        )

    said = "It is entered on the ground of the plan, and counts from now on."
    title = f"This plan was sprayed on {kept.property}"
    return _kept(request, form, act, place=kept.property, said=said, title=title)


@require_http_methods(["GET", "POST"])
@signed_in
def history_known(request: PersonRequest, pk: int) -> HttpResponse:
    """Say from which day on the past of a property is known."""
    place = get_object_or_404(properties_of(request.user), pk=pk)
    form = KnownSinceForm(request.POST or None, initial={"since": known_since(place)})

    def act() -> object:
        since = form.cleaned_data["since"]
        return say_known_since(place, since=since, entered=_entered(request))

    said = "It is kept, with you as the one who says so."
    return _kept(request, form, act, place=place, said=said, title=f"What is known of {place}")


@require_http_methods(["GET", "POST"])
@with_power(Power.STRIKE_OUT)
def strike_application(request: PersonRequest, pk: int) -> HttpResponse:
    """Strike out an application that was entered wrong."""
    return _struck(request, get_object_or_404(applications_of(request.user), pk=pk))


@require_http_methods(["GET", "POST"])
@with_power(Power.STRIKE_OUT)
def strike_seeding(request: PersonRequest, pk: int) -> HttpResponse:
    """Strike out a seeding that was entered wrong."""
    return _struck(request, get_object_or_404(seedings_of(request.user), pk=pk))


def _struck(request: PersonRequest, row: PastApplication | Seeding) -> HttpResponse:
    form = StrikeForm(request.POST or None)

    def act() -> object:
        strike_out(row, entered=_entered(request, form.cleaned_data["why"]))
        return True

    said = "It is struck out. It stays to be read, and counts no more."
    title = f"Strike out: {row}"
    return _kept(request, form, act, place=row.property, said=said, title=title)


def _entered(request: PersonRequest, note: str = "", machine: Machine | None = None) -> Entered:
    return Entered(request.user, timezone.now(), note, machine)


def _kept(
    request: PersonRequest,
    form: forms.Form,
    act: Callable[[], object],
    *,
    place: Property,
    said: str,
    title: str,
) -> HttpResponse:
    """Do what was typed and go back to the ground, or show the form with what is wrong."""
    back = reverse("ground", args=[place.pk])
    if form.is_valid() and keep(form, act) is not None:
        messages.success(request, said)
        return redirect(back)
    context: dict[str, Any] = {"form": form, "title": title, "back": back}
    status = 422 if form.errors else 200
    return render(request, "planner/ground_form.html", context, status=status)
