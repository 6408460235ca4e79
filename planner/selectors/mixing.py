"""What a firm knows of mixing, and what it planned before, as a plan request has it."""

from collections.abc import Iterable, Sequence
from datetime import date
from typing import Any

from django.db.models import QuerySet
from django.db.models.fields.json import KeyTransform

from planner.core.label.labels import EVERY_KIND, PLANT_KINDS, Basis
from planner.core.mix.mixing import FORMULATIONS, mixing_order
from planner.core.mix.steps import how_to_add
from planner.models import JarTest, KeptPlan, Mix, MixPart, ProductPair, WaterTest
from properties.core.units import Quantity
from properties.models import Firm, Person

Json = dict[str, Any]

IONS = ("potassium", "sodium", "calcium", "magnesium", "iron")
GOES = {True: "went together", False: "did not go together"}
#: So many of the newest kept plans tell what a rate usually is.
PLANS_LOOKED_THROUGH = 200


def pairs_of(person: Person) -> QuerySet[ProductPair]:
    """List the pairs that a person's firm does not mix, or only with care."""
    return ProductPair.objects.filter(firm=person.firm_id).select_related("first", "second")


def jar_tests_of(person: Person) -> QuerySet[JarTest]:
    """List the mixes that somebody of a person's firm tried in a jar, newest first."""
    return JarTest.objects.filter(firm=person.firm_id).select_related("tried_by")


def water_test_of(firm: Firm) -> WaterTest | None:
    """Find what is known of a firm's water."""
    return WaterTest.objects.filter(firm=firm).first()


def mixing_as_asked(mix: Mix, firm: Firm) -> Json:
    """Write what a firm knows of a mix as a plan request has it."""
    names = [part.product.name for part in mix.parts.all()]
    asked: Json = {}
    if mix.order_is_from_label and len(names) > 1:
        asked["mixing_order"] = names
    if len(names) > 1:
        asked["do_not_mix"] = _pairs(firm, names)
        asked["jar_tests"] = _jar_tests(firm, names)
    water = water_test_of(firm)
    if water is not None:
        asked["water_test"] = {
            ion: told.to_the_last_digit
            for ion in IONS
            if isinstance(told := getattr(water, ion), Quantity)
        }
    return asked


def order_of(mix: Mix) -> list[tuple[MixPart, str]]:
    """List the products of a mix in the order they go in, each with how; a label's order rules."""
    parts = list(mix.parts.all())
    known = [FORMULATIONS.get(part.product.formulation) for part in parts]
    kinds = [EVERY_KIND[part.rate.dimension] for part in parts]
    late = [not kind.is_weighed and kind.basis is Basis.SPRAY for kind in kinds]
    positions: Sequence[int] = range(len(parts))
    if not mix.order_is_from_label:
        positions = mixing_order(known, late=late)
    return [(parts[n], how_to_add(known[n])) for n in positions]


def is_for_plants(mix: Mix) -> bool:
    """Say whether a product of a mix is given to each plant by itself."""
    return any(part.rate.dimension in PLANT_KINDS for part in mix.parts.all())


def known_of(mix: Mix, firm: Firm) -> list[str]:
    """Say what the firm knows of the products of a mix together."""
    names = [part.product.name for part in mix.parts.all()]
    pairs = [
        f"{' and '.join(pair['products'])}: "
        f"{'not in one tank' if pair['blocks'] else 'only with care'} ({pair['source']})"
        for pair in _pairs(firm, names)
    ]
    tests = [
        f"{', '.join(test['products'])}: {GOES[test['fits']]} in a jar on "
        f"{date.fromisoformat(test['on']):%b %-d %Y}"
        for test in _jar_tests(firm, names)
    ]
    return [*pairs, *tests]


def past_rates(firm: Firm) -> dict[str, list[str]]:
    """List the rates at which each product was planned in the newest kept plans, each once."""
    plans = (
        KeptPlan.objects.filter(property__firm=firm)
        .annotate(mixed=KeyTransform("mix", "request"))
        .order_by("-made_at")
        .values_list("mixed", flat=True)[:PLANS_LOOKED_THROUGH]
    )
    found: dict[str, dict[str, None]] = {}
    for mixed in plans:
        for item in mixed or ():
            if isinstance(item.get("rate"), str):
                found.setdefault(item["name"], {})[item["rate"]] = None
    return {name: list(rates) for name, rates in found.items()}


def _pairs(firm: Firm, names: Iterable[str]) -> list[Json]:
    rows = ProductPair.objects.filter(
        firm=firm, first__name__in=names, second__name__in=names
    ).select_related("first", "second")
    return [
        {
            "products": [row.first.name, row.second.name],
            "source": row.source,
            "blocks": row.blocks,
        }
        for row in rows
    ]


def _jar_tests(firm: Firm, names: Iterable[str]) -> list[Json]:
    mixed = set(names)
    rows = JarTest.objects.filter(firm=firm).select_related("tried_by").order_by("tried_on", "pk")
    return [
        {"products": row.products, "fits": row.fits, "on": row.tried_on.isoformat()}
        | ({"by": row.tried_by.name} if row.tried_by else {})
        for row in rows
        if set(row.products) <= mixed
    ]
