"""Price books and taxes of a person's firm, and the price of a piece of work."""

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date
from decimal import Decimal
from typing import Any

from django.db.models import Prefetch, Q, QuerySet

from planner.core.plan import Plan
from planner.core.pricing import (
    Book,
    Price,
    Taxed,
    TaxRate,
    UnitCost,
    Work,
    price_as_json,
    price_of,
)
from planner.core.pricing.of_plan import visit_of
from planner.core.pricing.terms import book_of_terms
from planner.models import Container, PriceBook, PriceBookVersion, TaxRule
from planner.selectors.priced_visits import PriceAsked, visit_plans
from planner.selectors.stated_prices import stated_findings, stated_visits
from properties.core.errors import Refused
from properties.models import Firm, Person, Property

__all__ = [
    "PriceAsked",
    "Priced",
    "as_json",
    "book_of",
    "container_costs",
    "newest_version",
    "price_books_of",
    "price_for",
    "price_of_plans",
    "tax_rules_of",
    "taxes_at",
    "usual_book",
    "version_changes",
]


@dataclass(frozen=True)
class Priced:
    """A price, and what is said of its visits: (name of the visit, sentence) each.

    ``left_out`` are rounds that must not be done and are not in the price.
    """

    price: Price
    version: PriceBookVersion
    refusals: tuple[tuple[str, str], ...]
    cautions: tuple[tuple[str, str], ...] = ()
    left_out: tuple[tuple[str, str], ...] = ()
    #: The keys of the rounds that are in the price, visit by visit.
    rounds: tuple[int, ...] = ()


def price_books_of(person: Person) -> QuerySet[PriceBook]:
    """List the price books of a person's firm, the usual one first."""
    versions = PriceBookVersion.objects.select_related("made_by")
    return PriceBook.objects.filter(firm=person.firm_id).prefetch_related(
        Prefetch("versions", versions)
    )


def newest_version(book: PriceBook) -> PriceBookVersion:
    """Find what a book says today."""
    return book.versions.all()[0]


def book_of(version: PriceBookVersion) -> Book:
    """Read a version of a price book."""
    return book_of_terms(version.terms, name=version.book.name, version=version.number)


def usual_book(person: Person) -> PriceBook:
    """Find the book to price by where nobody chose one. Refused if there is none."""
    book = price_books_of(person).first()
    if book is None:
        raise Refused("book", "There is no price book yet.", "Make one under Prices.")
    return book


def container_costs(firm: Firm) -> dict[str, UnitCost]:
    """Find what a container of each product costs, by the name of the product.

    Of several sizes it is the one that costs most for what it holds: the safe side.
    """
    rows = Container.objects.filter(
        product__firm=firm, price__isnull=False, is_offered=True
    ).select_related("product")
    dearest: dict[str, UnitCost] = {}
    for row in rows:
        if row.price is None:
            continue
        cost, known = UnitCost(row.price, row.size), dearest.get(row.product.name)
        if known is None or _per_si(cost) > _per_si(known):
            dearest[row.product.name] = cost
    return dearest


def _per_si(cost: UnitCost) -> Decimal:
    return cost.price / Decimal(cost.size.si)


def tax_rules_of(person: Person) -> QuerySet[TaxRule]:
    """List the rates of tax that a person's firm keeps."""
    return TaxRule.objects.filter(firm=person.firm_id).select_related("only_at", "checked_by")


def taxes_at(place: Property, day: date) -> tuple[TaxRate, ...]:
    """Find the rates of tax that hold at a property on a day."""
    rules = TaxRule.objects.filter(
        Q(to_on__isnull=True) | Q(to_on__gte=day), firm=place.firm_id, from_on__lte=day
    ).filter(Q(only_at__isnull=True) | Q(only_at=place))
    address = place.address.casefold()
    return tuple(
        TaxRate(
            rule.name,
            rule.percent.normalize(),
            Taxed(rule.taxed),
            rule.source,
            is_example=rule.checked_by_id is None,
        )
        for rule in rules
        if _stands_in(rule.where, address)
    )


def _stands_in(where: str, address: str) -> bool:
    """Whether words stand in an address as whole words: IL is not in Hill Road."""
    words = re.escape(where.strip().casefold())
    return re.search(rf"(?<!\w){words}(?!\w)", address) is not None if words else True


def price_for(person: Person, asked: PriceAsked) -> Priced:
    """Plan each visit through the one door, and price them by a book.

    Refused, or every fault found, where something that the price needs is not known.
    """
    visits = stated_visits(person, asked) or visit_plans(person, asked)
    planned = visits.planned
    priced = price_of_plans(
        person, asked, [v.name for v in planned], [v.plan for v in planned], name=asked.words
    )
    return replace(
        priced,
        refusals=tuple((each.name, words) for each in planned for words in each.refusals),
        cautions=tuple((each.name, words) for each in planned for words in each.cautions),
        left_out=visits.left_out,
        rounds=tuple(each.round.pk for each in planned if each.round is not None),
    )


def price_of_plans(
    person: Person, asked: PriceAsked, names: Sequence[str], plans: Sequence[Plan], *, name: str
) -> Priced:
    """Price visits whose plans were worked out already."""
    version = newest_version(asked.book or usual_book(person))
    book = _in_currency(book_of(version), person.firm)
    costs = container_costs(person.firm)
    called = list(zip(names, plans, strict=True))
    visits = (visit_of(plan, name=visit_name, costs=costs) for visit_name, plan in called)
    work = Work(
        name,
        asked.on,
        tuple(replace(visit, travel_min=asked.travel_min, trims=asked.trims) for visit in visits),
        taxes_at(asked.place, asked.on),
        prepaid=asked.prepaid,
    )
    refusals = tuple(
        (visit_name, refusal.message) for visit_name, plan in called for refusal in plan.refusals
    )
    price = price_of(work, book)
    told = (*stated_findings(asked.place), *price.warnings)
    return Priced(replace(price, warnings=told), version, refusals)


def as_json(priced: Priced) -> dict[str, Any]:
    """Write a price with every working, as it is shown and as it is kept."""
    return price_as_json(priced.price)


def _in_currency(book: Book, firm: Firm) -> Book:
    if book.currency != firm.currency:
        raise Refused(
            "book",
            f"{book.name} counts in {book.currency}, and the firm in {firm.currency}.",
            "Go through its prices and keep them as a new version.",
        )
    return book


def version_changes(older: PriceBookVersion, newer: PriceBookVersion) -> list[dict[str, str]]:
    """Compare two versions: each term that differs, before and after; an empty word is nothing."""
    before, after = dict(_flat(older.terms)), dict(_flat(newer.terms))
    names = [*before, *(name for name in after if name not in before)]
    return [
        {"term": name, "before": before.get(name, ""), "after": after.get(name, "")}
        for name in names
        if before.get(name, "") != after.get(name, "")
    ]


def _flat(terms: Any, path: str = "") -> Iterator[tuple[str, str]]:
    """Every term with its path; what nobody told is an empty word."""
    if isinstance(terms, dict):
        for key, value in terms.items():
            yield from _flat(value, f"{path}.{key}" if path else key)
    elif isinstance(terms, list):
        for number, value in enumerate(terms, start=1):
            yield from _flat(value, f"{path} {number}")
    else:
        yield path, "" if terms is None else str(terms)
