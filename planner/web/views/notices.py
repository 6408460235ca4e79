"""Pages about the notices that a place requires."""

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_safe

from planner.models import Notice
from planner.selectors.notices import notices_of
from planner.services.notices import keep_notice
from planner.web.forms.notices import NoticeForm
from properties.core.powers import Power
from properties.selectors.places import properties_of
from properties.web.access import PersonRequest, signed_in, today_of, with_power
from properties.web.keeping import keep


@require_safe
@signed_in
def notices(request: PersonRequest) -> HttpResponse:
    """List what a law or a code asks to tell somebody."""
    return render(request, "planner/notices.html", {"notices": notices_of(request.user)})


@require_http_methods(["GET", "POST"])
@with_power(Power.KEEP_RULES)
def edit_notice(
    request: PersonRequest, pk: int | None = None, at: int | None = None
) -> HttpResponse:
    """Add a notice, everywhere or at one property, or change it."""
    place = None if at is None else get_object_or_404(properties_of(request.user), pk=at)
    notice = (
        Notice(firm=request.user.firm, only_at=place, from_on=today_of(request))
        if pk is None
        else get_object_or_404(notices_of(request.user), pk=pk)
    )
    form = NoticeForm(request.POST or None, instance=notice, person=request.user)
    if form.is_valid():
        written = form.save(commit=False)
        kept = keep(form, lambda: keep_notice(written, person=request.user, at=timezone.now()))
        if kept is not None:
            messages.success(
                request,
                "The notice is kept, with you as the one who checked it. Every quote says it.",
            )
            return redirect("notices")
    context = {"form": form, "title": "A notice", "back": reverse("notices")}
    return render(request, "properties/form.html", context, status=422 if form.errors else 200)
