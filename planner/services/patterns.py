"""Recording a spread pattern that was caught in pans."""

from django.db import transaction

from planner.core.machine.pattern import pattern_of
from planner.core.request.calibration import SPACINGS
from planner.models import PatternTest


@transaction.atomic
def record_pattern(test: PatternTest) -> PatternTest:
    """Record a pattern. Refused where the pans make none."""
    SPACINGS.check(test.pan_spacing, field="pan_spacing")
    pattern_of(pan_spacing_m=test.pan_spacing.si, catches=test.catches)
    test.full_clean()
    test.save()
    return test
