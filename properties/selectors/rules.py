"""The distances a firm keeps, as they stand on a day."""

import json
from datetime import date
from importlib.resources import files
from typing import Any

from django.db.models import Q, QuerySet

from properties.core.setbacks import Claim
from properties.models import Firm, Person, PositionError, Property, SetbackRule, WindRule


def setback_rules_of(person: Person) -> QuerySet[SetbackRule]:
    """List every distance rule of a person's firm, past and future ones too."""
    return SetbackRule.objects.filter(firm=person.firm_id).select_related("checked_by", "only_at")


def setback_rules_on(firm: Firm, day: date) -> list[SetbackRule]:
    """List the distance rules that hold on a day: the newest for each kind, method and place."""
    begun = SetbackRule.objects.filter(
        Q(to_on__isnull=True) | Q(to_on__gte=day), firm=firm, from_on__lte=day
    ).select_related("firm", "only_at")
    begun = begun.order_by("kind", "method", "only_at", "from_on")
    return list({(rule.kind, rule.method, rule.only_at_id): rule for rule in begun}.values())


def setback_rules_at(place: Property, day: date) -> list[SetbackRule]:
    """List those of a firm's rules of a day that hold at a property: everybody's and its own."""
    return [
        rule for rule in setback_rules_on(place.firm, day) if rule.only_at_id in (None, place.pk)
    ]


def default_claims_at(place: Property, day: date) -> dict[str, Claim]:
    """Name the strictest distance of a day for each kind, whatever it is applied with."""
    firm = place.firm
    claims: dict[str, list[Claim]] = {}
    for rule in setback_rules_at(place, day):
        claim = Claim(rule.distance, f"{firm.name}'s own rule ({rule.source})")
        claims.setdefault(rule.kind, []).append(claim)
    return {kind: max(asked, key=lambda claim: claim.distance.si) for kind, asked in claims.items()}


def wind_rule_of(firm: Firm) -> WindRule:
    """Find how a firm lets the wind move the edge."""
    return WindRule.objects.get(firm=firm)


def position_errors_of(person: Person) -> QuerySet[PositionError]:
    """List how far a corner may be out, by how it was measured."""
    return PositionError.objects.filter(firm=person.firm_id).select_related("checked_by")


def example_setbacks() -> dict[str, dict[str, Any]]:
    """Read the example distances that ship with the project; nobody has checked them."""
    text = files("properties").joinpath("data/example_setbacks.json").read_text(encoding="utf-8")
    examples: dict[str, dict[str, Any]] = json.loads(text)["kinds"]
    return examples
