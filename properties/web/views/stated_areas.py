"""The page on which a firm says how far a stated area may be out."""

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_http_methods

from properties.core.powers import Power
from properties.selectors.stated_areas import stated_area_rule_of
from properties.services.stated_areas import set_stated_area_rule
from properties.web.access import PersonRequest, with_power
from properties.web.forms.firm import StatedAreaRuleForm
from properties.web.keeping import keep


@require_http_methods(["GET", "POST"])
@with_power(Power.KEEP_RULES)
def edit_stated_area_rule(request: PersonRequest) -> HttpResponse:
    """Change how far an area may be out that somebody stated and nobody drew."""
    form = StatedAreaRuleForm(request.POST or None, instance=stated_area_rule_of(request.user.firm))
    if form.is_valid() and (
        keep(
            form,
            lambda: set_stated_area_rule(
                person=request.user, rule=form.save(commit=False), at=timezone.now()
            ),
        )
        is not None
    ):
        messages.success(request, "The error is kept, with you as the one who checked it.")
        return redirect("rules")
    context = {"form": form, "title": "Areas as stated", "back": reverse("rules")}
    status = 422 if form.errors else 200
    return render(request, "properties/form.html", context, status=status)
