"""Keeping the notices that a place requires."""

from datetime import datetime

from django.db import transaction

from planner.models import Notice
from properties.models import Person


@transaction.atomic
def keep_notice(notice: Notice, *, person: Person, at: datetime) -> Notice:
    """Keep a notice; whoever keeps it has checked it."""
    notice.checked_by, notice.checked_on = person, at.date()
    notice.full_clean()
    notice.save()
    return notice
