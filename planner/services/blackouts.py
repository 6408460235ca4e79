"""Keeping blackout dates."""

from datetime import datetime

from planner.core.label.limits import MonthDay
from planner.core.past import Blackout
from planner.models import BlackoutRule
from properties.core.errors import Refused
from properties.models import Person


def set_blackout(rule: BlackoutRule, *, person: Person, at: datetime) -> BlackoutRule:
    """Keep blackout dates, with who checked them on which day.

    Refused if they leave no day of the year.
    """
    first, last = (
        MonthDay(*(int(part) for part in day.split("-"))) for day in (rule.from_day, rule.to_day)
    )
    if Blackout(first, last, rule.source).is_always:
        raise Refused("to_day", "This leaves no day of the year.", "Choose an earlier last day.")
    rule.checked_by, rule.checked_on = person, at.date()
    rule.full_clean()
    rule.save()
    return rule
