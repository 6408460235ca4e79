"""Pages about the firm: its facts, its people, its distances, one's own facts."""

from allauth.account.forms import default_token_generator
from allauth.account.utils import user_pk_to_url_str
from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from properties.core.powers import Power, Role
from properties.models import Person, SetbackRule
from properties.selectors.people import people_of
from properties.selectors.places import properties_of, tile_layers_of
from properties.selectors.rules import (
    position_errors_of,
    setback_rules_of,
    setback_rules_on,
    wind_rule_of,
)
from properties.selectors.stated_areas import stated_area_rule_of
from properties.services.firms import (
    add_tile_layer,
    change_firm,
    set_position_error,
    set_rule,
    set_wind_rule,
)
from properties.services.people import add_person, change_own_facts, change_person
from properties.web.access import PersonRequest, signed_in, with_power
from properties.web.forms.firm import (
    FirmForm,
    NewPersonForm,
    OwnFactsForm,
    PersonForm,
    PositionErrorForm,
    SetbackRuleForm,
    TileLayerForm,
    WindRuleForm,
)
from properties.web.keeping import keep


@require_safe
@signed_in
def rules(request: PersonRequest) -> HttpResponse:
    """List the distances that the firm keeps."""
    today = timezone.now().date()
    context = {
        "rules": setback_rules_of(request.user),
        "holding": {rule.pk for rule in setback_rules_on(request.user.firm, today)},
        "wind": wind_rule_of(request.user.firm),
        "position_errors": position_errors_of(request.user),
        "stated_area_rule": stated_area_rule_of(request.user.firm),
    }
    return render(request, "properties/rules.html", context)


@require_http_methods(["GET", "POST"])
@with_power(Power.KEEP_RULES)
def edit_rule(request: PersonRequest, pk: int | None = None, at: int | None = None) -> HttpResponse:
    """Set a distance, everywhere or at one property, or change one."""
    place = None if at is None else get_object_or_404(properties_of(request.user), pk=at)
    rule = (
        SetbackRule(firm=request.user.firm, from_on=timezone.now().date(), only_at=place)
        if pk is None
        else get_object_or_404(setback_rules_of(request.user), pk=pk)
    )
    form = SetbackRuleForm(request.POST or None, instance=rule)
    if (
        form.is_valid()
        and keep(
            form,
            lambda: set_rule(person=request.user, rule=form.save(commit=False), at=timezone.now()),
        )
        is not None
    ):
        messages.success(request, "The distance is kept, with you as the one who checked it.")
        return redirect("rules")
    where = f" at {rule.only_at.name}" if rule.only_at else ""
    return _form_page(request, form, title=f"Distance to keep{where}", back="rules")


@require_http_methods(["GET", "POST"])
@with_power(Power.KEEP_RULES)
def edit_wind_rule(request: PersonRequest) -> HttpResponse:
    """Change how the wind moves the edge."""
    form = WindRuleForm(request.POST or None, instance=wind_rule_of(request.user.firm))
    if form.is_valid() and (
        keep(
            form,
            lambda: set_wind_rule(
                person=request.user, rule=form.save(commit=False), at=timezone.now()
            ),
        )
        is not None
    ):
        messages.success(request, "The rule of wind is kept, with you as the one who checked it.")
        return redirect("rules")
    return _form_page(request, form, title="Rule of wind", back="rules")


@require_http_methods(["GET", "POST"])
@with_power(Power.KEEP_RULES)
def edit_position_error(request: PersonRequest, pk: int) -> HttpResponse:
    """Change how far a corner may be out when it was measured in one way."""
    row = get_object_or_404(position_errors_of(request.user), pk=pk)
    form = PositionErrorForm(request.POST or None, instance=row)
    if form.is_valid() and (
        keep(
            form,
            lambda: set_position_error(
                person=request.user, row=form.save(commit=False), at=timezone.now()
            ),
        )
        is not None
    ):
        messages.success(request, "The error is kept, with you as the one who checked it.")
        return redirect("rules")
    return _form_page(request, form, title=row.get_measured_by_display(), back="rules")


@require_safe
@with_power(Power.RUN_FIRM)
def firm(request: PersonRequest) -> HttpResponse:
    """Show the firm, its people and its map layers."""
    context = {
        "people": people_of(request.user),
        "layers": tile_layers_of(request.user),
    }
    return render(request, "properties/firm.html", context)


@require_http_methods(["GET", "POST"])
@with_power(Power.RUN_FIRM)
def edit_firm(request: PersonRequest) -> HttpResponse:
    """Change the name or the units of the firm."""
    form = FirmForm(request.POST or None, instance=request.user.firm)
    if (
        form.is_valid()
        and keep(form, lambda: change_firm(request.user.firm, **form.cleaned_data)) is not None
    ):
        return redirect("firm")
    return _form_page(request, form, title="The firm", back="firm")


@require_http_methods(["GET", "POST"])
@with_power(Power.RUN_FIRM)
def new_person(request: PersonRequest) -> HttpResponse:
    """Add somebody to the firm and show the link by which they set their password."""
    initial = {"units": request.user.firm.units, "role": Role.CREW}
    form = NewPersonForm(request.POST or None, initial=initial)
    if form.is_valid():
        added = keep(form, lambda: add_person(firm=request.user.firm, **form.cleaned_data))
        if added is not None:
            return _link_page(request, added, title=f"{added.name} is added")
    return _form_page(request, form, title="Add somebody", back="firm")


@require_POST
@with_power(Power.RUN_FIRM)
def new_link(request: PersonRequest, pk: int) -> HttpResponse:
    """Show a link by which somebody who forgot their password chooses a new one."""
    person = get_object_or_404(people_of(request.user).filter(is_active=True), pk=pk)
    return _link_page(request, person, title=f"A new password for {person.name}")


def _link_page(request: PersonRequest, person: Person, *, title: str) -> HttpResponse:
    link = request.build_absolute_uri(password_link(person))
    context = {"title": title, "somebody": person, "link": link}
    return render(request, "properties/password_link.html", context)


def password_link(person: Person) -> str:
    """Make the link by which a person sets their password, once."""
    token = default_token_generator.make_token(person)
    return reverse(
        "account_reset_password_from_key",
        kwargs={"uidb36": user_pk_to_url_str(person), "key": token},
    )


@require_http_methods(["GET", "POST"])
@with_power(Power.RUN_FIRM)
def edit_person(request: PersonRequest, pk: int) -> HttpResponse:
    """Change the role of somebody, or close their access."""
    person = get_object_or_404(people_of(request.user), pk=pk)
    form = PersonForm(request.POST or None, instance=person)
    if (
        form.is_valid()
        and keep(form, lambda: change_person(person, **form.cleaned_data)) is not None
    ):
        return redirect("firm")
    context = {"form": form, "title": f"Role and access of {person.name}", "somebody": person}
    status = 422 if form.errors else 200
    return render(
        request, "properties/person.html", context | {"back": reverse("firm")}, status=status
    )


@require_http_methods(["GET", "POST"])
@signed_in
def own_facts(request: PersonRequest) -> HttpResponse:
    """Change one's own name and units."""
    form = OwnFactsForm(request.POST or None, instance=request.user)
    if (
        form.is_valid()
        and keep(form, lambda: change_own_facts(request.user, **form.cleaned_data)) is not None
    ):
        messages.success(request, "Kept.")
        return redirect("own_facts")
    return _form_page(request, form, title="You", back="properties")


@require_http_methods(["GET", "POST"])
@with_power(Power.RUN_FIRM)
def new_tile_layer(request: PersonRequest) -> HttpResponse:
    """Add a map layer."""
    form = TileLayerForm(request.POST or None)
    if (
        form.is_valid()
        and keep(form, lambda: add_tile_layer(request.user.firm, **form.cleaned_data)) is not None
    ):
        return redirect("firm")
    return _form_page(request, form, title="Map layer", back="firm")


@require_POST
@with_power(Power.RUN_FIRM)
def remove_tile_layer(request: PersonRequest, pk: int) -> HttpResponse:
    """Remove a map layer. Nothing drawn depends on it."""
    get_object_or_404(tile_layers_of(request.user), pk=pk).delete()
    return redirect("firm")


def _form_page(request: PersonRequest, form: object, *, title: str, back: str) -> HttpResponse:
    status = 422 if getattr(form, "errors", None) else 200
    context = {"form": form, "title": title, "back": reverse(back)}
    return render(request, "properties/form.html", context, status=status)
