"""Pages about price books and rates of tax."""

from itertools import pairwise
from typing import Any

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_safe

from planner.models import PriceBook, PriceBookVersion, TaxRule
from planner.selectors.prices import (
    newest_version,
    price_books_of,
    tax_rules_of,
    version_changes,
)
from planner.services.prices import keep_price_book, keep_tax_rule
from planner.web.forms.price_rows import rows_asked
from planner.web.forms.prices import PriceBookForm, TaxRuleForm, initial_of
from planner.web.price_words import book_words, in_words
from properties.core.errors import FaultsFound
from properties.core.powers import Power
from properties.selectors.places import properties_of
from properties.web.access import PersonRequest, with_power
from properties.web.keeping import keep


@require_safe
@with_power(Power.KEEP_PRICES)
def prices(request: PersonRequest) -> HttpResponse:
    """List the price books and the rates of tax of the firm."""
    books = [(book, newest_version(book)) for book in price_books_of(request.user)]
    context = {"books": books, "taxes": tax_rules_of(request.user)}
    return render(request, "planner/prices.html", context)


@require_safe
@with_power(Power.KEEP_PRICES)
def price_book(request: PersonRequest, pk: int) -> HttpResponse:
    """Show what a price book says, and what changed from version to version."""
    book = get_object_or_404(price_books_of(request.user), pk=pk)
    versions = list(book.versions.all())
    changes = [
        (newer, in_words(version_changes(older, newer))) for newer, older in pairwise(versions)
    ]
    context = {
        "book": book,
        "version": versions[0],
        "says": book_words(versions[0]),
        "first": versions[-1],
        "changes": changes,
        "compared": _compared(request, book),
    }
    return render(request, "planner/price_book.html", context)


def _compared(request: PersonRequest, book: PriceBook) -> dict[str, Any] | None:
    """Compare the two versions that were chosen, whatever lies between them."""
    numbers = [request.GET.get(name, "") for name in ("older", "newer")]
    if not all(number.isdecimal() for number in numbers):
        return None
    older, newer = (get_object_or_404(book.versions, number=int(number)) for number in numbers)
    return {"older": older, "newer": newer, "terms": in_words(version_changes(older, newer))}


@require_http_methods(["GET", "POST"])
@with_power(Power.KEEP_PRICES)
def edit_price_book(request: PersonRequest, pk: int | None = None) -> HttpResponse:
    """Make a price book, or the next version of one."""
    fixed = ""
    if pk is None:
        book, initial = PriceBook(firm=request.user.firm), {"units": request.user.units}
    else:
        book = get_object_or_404(price_books_of(request.user), pk=pk)
        version = newest_version(book)
        initial = initial_of(book, version.number, version.terms)
        fixed = version.terms["units"]
    if (typed := rows_asked(request.POST)) is not None:
        form = PriceBookForm(initial=typed, fixed_units=fixed)
        return _book_page(request, book, form, rows_changed=True)
    form = PriceBookForm(request.POST or None, initial=initial, fixed_units=fixed)
    if form.is_valid() and _keep(request, book, form):
        return redirect(book)
    return _book_page(request, book, form, meanwhile=_meanwhile(form, pk))


def _keep(request: PersonRequest, book: PriceBook, form: PriceBookForm) -> bool:
    typed = form.cleaned_data
    book.name, book.is_usual = typed["name"], typed["is_usual"]
    try:
        kept = keep(
            form,
            lambda: keep_price_book(
                book,
                form.terms(request.user.firm.currency),
                person=request.user,
                at=timezone.now(),
                seen=typed["seen"],
                note=typed["note"],
            ),
        )
    except FaultsFound as found:
        form.blame(found)
        return False
    if kept is None:
        return False
    messages.success(request, f"Kept as version {kept.number} of {book.name}.")
    return True


def _meanwhile(form: PriceBookForm, pk: int | None) -> dict[str, Any] | None:
    """What somebody else kept while this was typed; the form goes on from theirs."""
    if "seen" not in form.errors or not str(form.data.get("seen")).isdecimal():
        return None
    versions = PriceBookVersion.objects.filter(book=pk).select_related("made_by")
    newest, seen = versions.first(), versions.filter(number=form.data["seen"]).first()
    if newest is None or seen is None:
        return None
    return {"newest": newest, "terms": in_words(version_changes(seen, newest))}


def _book_page(
    request: PersonRequest,
    book: PriceBook,
    form: PriceBookForm,
    **more: Any,
) -> HttpResponse:
    newest = more["meanwhile"]["newest"] if more.get("meanwhile") else None
    seen = form["seen"].value() if newest is None else newest.number
    context = {"form": form, "book": book, "seen": seen, **more}
    status = 422 if form.errors else 200
    return render(request, "planner/price_book_form.html", context, status=status)


@require_http_methods(["GET", "POST"])
@with_power(Power.KEEP_PRICES)
def edit_tax_rule(
    request: PersonRequest, pk: int | None = None, at: int | None = None
) -> HttpResponse:
    """Keep a rate of tax, everywhere or at one property, or change it."""
    place = None if at is None else get_object_or_404(properties_of(request.user), pk=at)
    rule = (
        TaxRule(firm=request.user.firm, only_at=place)
        if pk is None
        else get_object_or_404(tax_rules_of(request.user), pk=pk)
    )
    form = TaxRuleForm(request.POST or None, instance=rule)
    if form.is_valid():
        written = form.save(commit=False)
        kept = keep(form, lambda: keep_tax_rule(written, person=request.user, at=timezone.now()))
        if kept is not None:
            messages.success(request, "The rate is kept, with you as the one who checked it.")
            return redirect("prices")
    where = f" at {rule.only_at.name}" if rule.only_at else ""
    context = {"form": form, "title": f"Rate of tax{where}", "back": reverse("prices")}
    return render(request, "properties/form.html", context, status=422 if form.errors else 200)
