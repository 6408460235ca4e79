"""Keeping limits on nutrients, and soil tests."""

from datetime import datetime

from django.db import transaction

from planner.core.request.nutrient_limits import LIMITS, SLOW
from planner.models import NutrientLimit, SoilTest
from properties.core.errors import Refused
from properties.models import Person


@transaction.atomic
def set_nutrient_limit(*, person: Person, limit: NutrientLimit, at: datetime) -> NutrientLimit:
    """Keep a limit; whoever sets it has checked it. Refused where it cannot be right."""
    LIMITS.check(limit.at_most, field="at_most")
    if limit.least_slow_release is not None:
        SLOW.check(limit.least_slow_release, field="least_slow_release")
        if (limit.nutrient, limit.per) != ("N", "application"):
            raise Refused(
                "least_slow_release",
                "Slow release lifts a limit on all the nitrogen of one application only.",
                "Choose nitrogen (N) and each application, or leave this empty.",
            )
    limit.firm = person.firm
    limit.checked_by, limit.checked_on = person, at.date()
    limit.full_clean()
    limit.save()
    return limit


@transaction.atomic
def keep_soil_test(*, person: Person, test: SoilTest) -> SoilTest:
    """Keep a soil test of a property."""
    test.entered_by = person
    test.full_clean()
    test.save()
    return test
