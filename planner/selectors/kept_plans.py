"""Plans that somebody of the firm kept, and what has changed since."""

from collections.abc import Mapping
from typing import Any

from django.db.models import QuerySet
from django.db.models.fields.json import KeyTransform
from django.http import QueryDict

from planner.core.differences import Difference, Part, differences
from planner.models import KeptPlan, Machine
from properties.models import Person, Property


def kept_plans_of(person: Person) -> QuerySet[KeptPlan]:
    """List the plans that somebody of a person's firm kept."""
    return KeptPlan.objects.filter(property__firm=person.firm_id).select_related(
        "property__firm", "machine", "mix", "made_by"
    )


def kept_plans_at(place: Property) -> QuerySet[KeptPlan]:
    """List the plans kept for a property, with their two main figures and without the rest."""
    return (
        KeptPlan.objects.filter(property=place)
        .select_related("made_by")
        .defer("request", "plan")
        .annotate(
            treatable=KeyTransform("treatable_area", "plan"),
            spray=KeyTransform("carrier_volume", "plan"),
        )
    )


def machine_of(kept: KeptPlan, tool: str) -> Machine | None:
    """Find the machine that did a part of a kept plan; none where it is there no more."""
    if tool != "hand_tool":
        return kept.machine
    asked = QueryDict(kept.question.split("?")[-1]).get("hand_tool", "")
    pk = int(asked) if asked.isdecimal() and len(asked) < 19 else 0
    return Machine.objects.filter(firm=kept.property.firm_id, pk=pk).first()


def changed_since(kept: KeptPlan, today: Mapping[str, Any]) -> dict[str, list[Difference]]:
    """Compare the frozen request with today's for the same question, by part."""
    found = differences(kept.request, today)
    by_part = {part.value: [one for one in found if one.part is part] for part in Part}
    return {part: differing for part, differing in by_part.items() if differing}
