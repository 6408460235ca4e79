"""The distances a firm keeps, as they stand on a day."""

import json
from datetime import date
from importlib.resources import files
from typing import Any

from django.db.models import Q, QuerySet

from properties.core.setbacks import Claim
from properties.models import Firm, Person, SetbackRule


def setback_rules_of(person: Person) -> QuerySet[SetbackRule]:
    """List every distance rule of a person's firm, past and future ones too."""
    return SetbackRule.objects.filter(firm=person.firm_id).select_related("checked_by")


def setback_rules_on(firm: Firm, day: date) -> dict[str, SetbackRule]:
    """Find the distance rule that holds for each kind on a day."""
    holding = SetbackRule.objects.filter(
        Q(to_on__isnull=True) | Q(to_on__gte=day), firm=firm, from_on__lte=day
    ).order_by("kind", "from_on")
    return {rule.kind: rule for rule in holding}


def default_claims_on(firm: Firm, day: date) -> dict[str, Claim]:
    """Turn the rules of a day into what the core decides with."""
    return {
        kind: Claim(rule.distance, f"{firm.name}'s own rule ({rule.source})")
        for kind, rule in setback_rules_on(firm, day).items()
    }


def example_setbacks() -> dict[str, dict[str, Any]]:
    """Read the example distances that ship with the project; nobody has checked them."""
    text = files("properties").joinpath("data/example_setbacks.json").read_text(encoding="utf-8")
    examples: dict[str, dict[str, Any]] = json.loads(text)["kinds"]
    return examples
