"""Keeping price books, version by version, and rates of tax."""

from collections.abc import Mapping
from datetime import datetime
from typing import Any

from django.db import transaction

from planner.core.pricing.terms import book_of_terms, terms_of
from planner.models import PriceBook, PriceBookVersion, TaxRule
from properties.core.errors import Refused
from properties.models import Person


@transaction.atomic
def keep_price_book(
    book: PriceBook,
    terms: Mapping[str, Any],
    *,
    person: Person,
    at: datetime,
    seen: int,
    note: str = "",
) -> PriceBookVersion:
    """Keep what a price book says as its next version.

    ``seen`` is the version that the person began from, 0 for a new book. Refused where
    somebody kept another meanwhile: nothing is written over. All faults of the terms are
    raised at once.
    """
    newest = _newest(book)
    if newest is not None and newest.number != seen:
        who = newest.made_by.name if newest.made_by else "Somebody"
        raise Refused(
            "seen",
            f"{who} kept version {newest.number} of this book while you were typing. Nothing of "
            "theirs is changed, and what you typed is still here.",
            "Compare it with theirs below, then keep yours once more if it still holds.",
        )
    number = 1 if newest is None else newest.number + 1
    sound = terms_of(book_of_terms(terms, name=book.name, version=number))
    _keep_name(book)
    if newest is not None and newest.terms == sound:
        return newest
    return PriceBookVersion.objects.create(
        book=book, number=number, terms=sound, made_by=person, made_at=at, note=note
    )


def _newest(book: PriceBook) -> PriceBookVersion | None:
    """Hold the book, so that two people cannot both make the next version."""
    held = PriceBook.objects.select_for_update().filter(pk=book.pk).first()
    if held is None:
        return None
    return book.versions.select_related("made_by").first()


def _keep_name(book: PriceBook) -> None:
    others = PriceBook.objects.filter(firm=book.firm_id).exclude(pk=book.pk)
    if book.is_usual:
        others.update(is_usual=False)
    elif not others.filter(is_usual=True).exists():
        book.is_usual = True
    book.full_clean()
    book.save()


@transaction.atomic
def keep_tax_rule(rule: TaxRule, *, person: Person, at: datetime) -> TaxRule:
    """Keep a rate of tax; whoever keeps it has checked it."""
    rule.checked_by, rule.checked_on = person, at.date()
    rule.full_clean()
    rule.save()
    return rule
