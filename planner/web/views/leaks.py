"""Where money leaks, and what a job really took."""

from datetime import timedelta
from typing import Any

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_safe

from planner.selectors.jobs import jobs_of
from planner.selectors.leaks import leaks_of, used_amounts
from planner.services.job_work import Took, record_job_work
from planner.web.forms.job_work import JobWorkForm
from planner.web.leak_picture import leak_bars
from properties.core.powers import Power
from properties.selectors.people import people_of
from properties.web.access import PersonRequest, signed_in, today_of, with_power
from properties.web.keeping import keep

#: How far back is looked where nobody says.
A_YEAR = timedelta(days=365)
TITLES = {
    "property": "By property",
    "product": "By product, and time",
    "crew": "By who did it",
}


@require_safe
@with_power(Power.KEEP_STOCK)
def leaks(request: PersonRequest) -> HttpResponse:
    """Show what was quoted, planned and used side by side, in money."""
    today = today_of(request)
    told = leaks_of(request.user, since=today - A_YEAR, until=today)
    context = {
        "leaks": told,
        "since": today - A_YEAR,
        "until": today,
        "groups": [
            {
                "title": title,
                "rows": told.groups[grouping],
                "bars": leak_bars(told.groups[grouping]),
            }
            for grouping, title in TITLES.items()
        ],
    }
    return render(request, "planner/leaks.html", context)


@require_http_methods(["GET", "POST"])
@signed_in
def job_work(request: PersonRequest, pk: int) -> HttpResponse:
    """Write down what a job took: time, and product."""
    job = get_object_or_404(jobs_of(request.user).select_related("work"), pk=pk)
    form = JobWorkForm(
        request.POST or None,
        job=job,
        people=people_of(request.user),
        initial=_known(request, job),
    )
    if form.is_valid():
        took = Took(**form.took())
        kept = keep(
            form, lambda: record_job_work(job, took, person=request.user, at=timezone.now())
        )
        if kept is not None:
            messages.success(request, "It is written down, and taken from the stock.")
            return redirect("stock")
    context = {"form": form, "job": job}
    status = 422 if form.errors else 200
    return render(request, "planner/job_work.html", context, status=status)


def _known(request: PersonRequest, job: Any) -> dict[str, Any]:
    work = getattr(job, "work", None)
    told: dict[str, Any] = {"on": job.done_on or today_of(request), "done_by": request.user}
    if work is not None:
        told |= {"done_by": work.done_by, "minutes": work.minutes}
    amounts = used_amounts(job)
    for part in job.mix.parts.all():
        if part.product.name in amounts:
            told[f"used_{part.product_id}"] = amounts[part.product.name]
    return told
