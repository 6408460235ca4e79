"""Setting how far a stated area may be out."""

from datetime import datetime

from django.db import transaction

from properties.core.errors import Refused
from properties.core.stated import LARGEST_ERROR_SHARE
from properties.models import Person, StatedAreaRule


@transaction.atomic
def set_stated_area_rule(*, person: Person, rule: StatedAreaRule, at: datetime) -> StatedAreaRule:
    """Keep how far a stated area may be out; whoever sets it has checked it."""
    if not 0 < rule.error.si <= LARGEST_ERROR_SHARE:
        raise Refused(
            "error",
            f"{rule.error} is not how far an area may be out.",
            "Write a share above 0 and up to 100 %.",
        )
    rule.firm, rule.checked_by, rule.checked_on = person.firm, person, at.date()
    rule.full_clean()
    rule.save()
    return rule
