"""Pages about labels: what was copied, by whom, who compared it, what changed."""

from typing import Any

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from planner.models import Product
from planner.selectors.labels import newest_version, version_changes
from planner.selectors.products import mixes_of, products_of
from planner.services.labels import check_label, keep_label
from planner.web.forms.labels import LabelForm
from planner.web.label_words import label_words
from properties.core.errors import Refused
from properties.core.powers import Power
from properties.web.access import PersonRequest, signed_in, with_power
from properties.web.keeping import keep


@require_safe
@signed_in
def labels(request: PersonRequest) -> HttpResponse:
    """List the labels and the mixes of the firm."""
    context = {"products": products_of(request.user), "mixes": mixes_of(request.user)}
    return render(request, "planner/labels.html", context)


@require_safe
@signed_in
def label(request: PersonRequest, pk: int) -> HttpResponse:
    """Show what was copied from a label."""
    product = get_object_or_404(products_of(request.user), pk=pk)
    return render(request, "planner/label.html", _label_page(request, product))


def _label_page(request: PersonRequest, product: Product) -> dict[str, Any]:
    version = newest_version(product)
    return {
        "product": product,
        "facts": label_words(product),
        "version": version,
        "may_check": version is not None
        and version.checked_at is None
        and version.entered_by_id != request.user.pk,
        "versions": version_changes(product),
    }


@require_POST
@signed_in
def check(request: PersonRequest, pk: int) -> HttpResponse:
    """Confirm that a label says what stands on its page."""
    product = get_object_or_404(products_of(request.user), pk=pk)
    number = request.POST.get("version", "")
    version = get_object_or_404(product.versions, number=number if number.isdecimal() else 0)
    try:
        check_label(version, person=request.user, at=timezone.now())
    except Refused as refused:
        context = _label_page(request, product) | {"refused": str(refused)}
        return render(request, "planner/label.html", context, status=422)
    messages.success(request, "The label is confirmed, with you as the one who compared it.")
    return redirect(product)


@require_http_methods(["GET", "POST"])
@with_power(Power.KEEP_LABELS)
def edit_label(request: PersonRequest, pk: int | None = None) -> HttpResponse:
    """Enter the facts of a label, or change them."""
    product = (
        Product(firm=request.user.firm)
        if pk is None
        else get_object_or_404(products_of(request.user), pk=pk)
    )
    form = LabelForm(request.POST or None, instance=product)
    if form.is_valid():
        written = form.written()
        written.entered_by, written.entered_at = request.user, timezone.now()
        kept = keep(
            form,
            lambda: keep_label(
                written,
                setbacks=form.setbacks(),
                further=form.further_setbacks(),
                lines=form.label_lines(),
            ),
        )
        if kept is not None:
            return redirect(kept)
    status = 422 if form.errors else 200
    context = {"form": form, "product": product}
    return render(request, "planner/label_form.html", context, status=status)
