"""What limits nutrients at a property on a day, as rows and as members of a plan request."""

from collections.abc import Mapping
from datetime import date
from typing import Any

from django.db.models import Q, QuerySet

from planner.models import NutrientLimit, Product, SoilTest
from properties.core.units import Quantity
from properties.models import Person, Property

#: Forms in which a product may hold nutrients, though nobody copied a grade.
FEEDING_FORMS = frozenset({"G", "liquid fertilizer", "micronutrient", "ammonium sulfate"})


def nutrient_limits_of(person: Person) -> QuerySet[NutrientLimit]:
    """List every limit of a person's firm, past and future ones too."""
    return NutrientLimit.objects.filter(firm=person.firm_id).select_related("checked_by", "only_at")


def soil_tests_of(person: Person) -> QuerySet[SoilTest]:
    """List the soil tests of a person's firm, the newest first."""
    return SoilTest.objects.filter(property__firm=person.firm_id).select_related(
        "property", "entered_by"
    )


def may_feed(product: Product) -> bool:
    """Whether a product holds nutrients, or may: one with a grade, or in a fertilizer's form."""
    return bool(product.grade) or product.formulation in FEEDING_FORMS


def nutrient_members(
    place: Property, day: date, *, so_far: Mapping[str, Quantity]
) -> dict[str, Any]:
    """Write what limits nutrients at a property as members of a plan request."""
    limits = NutrientLimit.objects.filter(
        Q(to_on__isnull=True) | Q(to_on__gte=day),
        Q(only_at__isnull=True) | Q(only_at=place),
        firm=place.firm_id,
        from_on__lte=day,
    )
    written: dict[str, Any] = {}
    if told := [_limit(limit) for limit in limits.select_related("firm", "only_at")]:
        written["nutrient_limits"] = told
    if so_far:
        written["nutrients_so_far"] = {
            nutrient: rate.to_the_last_digit for nutrient, rate in so_far.items()
        }
    test = SoilTest.objects.filter(property=place, taken_on__lte=day).first()
    if test is not None:
        written["soil_test"] = {
            "taken": test.taken_on.isoformat(),
            "valid_until": test.valid_until.isoformat(),
            "source": test.source,
        }
    return written


def _limit(limit: NutrientLimit) -> dict[str, Any]:
    told: dict[str, Any] = {
        "nutrient": limit.nutrient,
        "per": limit.per,
        "at_most": limit.at_most.to_the_last_digit,
        "source": f"{limit.firm.name}: {limit.source}",
        "from": limit.from_on.isoformat(),
    }
    if limit.to_on is not None:
        told["to"] = limit.to_on.isoformat()
    if limit.unless_soil_test:
        told["unless"] = "soil_test"
    if limit.least_slow_release is not None:
        told["least_slow_release"] = limit.least_slow_release.to_the_last_digit
    if limit.only_at is not None:
        told["place"] = limit.only_at.name
    if limit.checked_by_id is None:
        told["example"] = True
    return told
