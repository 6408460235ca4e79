"""What the tanks of a machine held."""

from datetime import date
from typing import Any

from django.db.models import QuerySet

from planner.models import Machine, TankUse


def tank_uses_of(machine: Machine) -> QuerySet[TankUse]:
    """List what the tanks of a machine held, the newest first."""
    return TankUse.objects.filter(machine=machine).select_related("mixed_by", "rinsed_by")


def last_in_tanks(machine: Machine, *, by: date | None = None) -> dict[int, TankUse]:
    """Find what each tank held last, by its number; with a day, as it was at its end."""
    last: dict[int, TankUse] = {}
    uses = tank_uses_of(machine)
    for use in uses if by is None else uses.filter(mixed_at__date__lte=by):
        last.setdefault(use.tank, use)
    return last


def tanks_before(tool: str, machine: Machine, *, day: date) -> list[dict[str, Any]]:
    """Write what the tanks of a tool held last before a day’s work, as a plan request has it."""
    present = {tank.position for tank in machine.tanks.all()}
    last = last_in_tanks(machine, by=day)
    return [_before(tool, last[tank], day) for tank in sorted(last.keys() & present)]


def _before(tool: str, use: TankUse, day: date) -> dict[str, Any]:
    told: dict[str, Any] = {
        "tool": tool,
        "tank": use.tank,
        "held": use.held,
        "kills_turf": use.kills_turf,
    }
    if use.rinsed_at is not None and use.rinsed_at.date() <= day:
        told["rinsed"] = {
            "confirmed_by": use.rinsed_by_name,
            "on": use.rinsed_at.date().isoformat(),
        }
    return told
