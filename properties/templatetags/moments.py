"""Moments as a page writes them: in the time of the place, with the zone named."""

from datetime import datetime
from zoneinfo import ZoneInfo

from django import template
from django.utils import dateformat

register = template.Library()


@register.filter
def moment(at: datetime, zone: str) -> str:
    """Write a moment in a zone: "Nov 1, 2026, 01:30 CST".

    The framework leaves the zone out just where it matters, in the hour that comes twice.
    """
    local = at.astimezone(ZoneInfo(zone))
    name = local.tzname() or ""
    return f"{dateformat.format(local, 'M j, Y, H:i')} {_named(name)}"


def _named(name: str) -> str:
    """A zone without letters of its own is only a number of hours: say from where."""
    return name if name[:1].isalpha() else f"UTC{name}"
