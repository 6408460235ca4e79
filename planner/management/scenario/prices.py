"""The price books of the demo, what its containers cost, and its taxes. All of it is invented."""

import json
from datetime import date, datetime
from decimal import Decimal
from typing import Any

from planner.management.scenario.scene import FOLDER
from planner.models import Container, PriceBook, TaxRule
from planner.selectors.prices import price_books_of, tax_rules_of
from planner.selectors.products import products_of
from planner.services.prices import keep_price_book
from planner.services.stock import keep_container
from properties.core.units import parse_quantity
from properties.models import Person
from properties.selectors.people import people_of

Json = dict[str, Any]


def write_prices(owner: Person) -> None:
    """Keep what is not kept yet; a rate of tax stays an example that nobody has checked."""
    written = json.loads((FOLDER / "prices.json").read_text(encoding="utf-8"))
    present = set(price_books_of(owner).values_list("name", flat=True))
    for told in written["books"]:
        if told["name"] not in present:
            _write_book(told, owner)
    for told in written["containers"]:
        _write_container(told, owner)
    if not tax_rules_of(owner).exists():
        for told in written["taxes"]:
            days = {"from_on": date.fromisoformat(told["from_on"])}
            percent = Decimal(told["percent"])
            rule = TaxRule(firm=owner.firm, **(told | days | {"percent": percent}))
            rule.full_clean()
            rule.save()


def _write_book(told: Json, owner: Person) -> None:
    people = {person.email: person for person in people_of(owner)}
    book = PriceBook(firm=owner.firm, name=told["name"], is_usual=told["is_usual"])
    terms: Json = {}
    for seen, version in enumerate(told["versions"]):
        changes = version.get("changes", {})
        costs = terms.get("costs", {}) | changes.get("costs", {})
        terms = version.get("terms") or terms | changes | {"costs": costs}
        keep_price_book(
            book,
            terms,
            person=people[version["by"]],
            at=datetime.fromisoformat(version["at"]),
            seen=seen,
            note=version["note"],
        )


def _write_container(told: Json, owner: Person) -> None:
    """Enter a size and its price, where the stock knows no price of the product."""
    product = products_of(owner).filter(name=told["product"]).first()
    if product is None or product.containers.filter(price__isnull=False).exists():
        return
    size = parse_quantity(told["size"])
    container = product.containers.filter(size=size).first() or Container(
        product=product, size=size
    )
    container.price = Decimal(told["price"])
    keep_container(container)
