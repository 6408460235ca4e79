"""What the tanks of a machine held."""

from typing import Any

from django.db.models import QuerySet

from planner.models import Machine, TankUse


def tank_uses_of(machine: Machine) -> QuerySet[TankUse]:
    """List what the tanks of a machine held, the newest first."""
    return TankUse.objects.filter(machine=machine).select_related("mixed_by", "rinsed_by")


def last_in_tanks(machine: Machine) -> dict[int, TankUse]:
    """Find what each tank held last, by its number."""
    last: dict[int, TankUse] = {}
    for use in tank_uses_of(machine):
        last.setdefault(use.tank, use)
    return last


def tanks_before(tool: str, machine: Machine) -> list[dict[str, Any]]:
    """Write what the tanks of a tool held last, as a plan request has it."""
    present = {tank.position for tank in machine.tanks.all()}
    last = last_in_tanks(machine)
    return [_before(tool, last[tank]) for tank in sorted(last.keys() & present)]


def _before(tool: str, use: TankUse) -> dict[str, Any]:
    told: dict[str, Any] = {
        "tool": tool,
        "tank": use.tank,
        "held": use.held,
        "kills_turf": use.kills_turf,
    }
    if use.rinsed_at is not None:
        told["rinsed"] = {
            "confirmed_by": use.rinsed_by_name,
            "on": use.rinsed_at.date().isoformat(),
        }
    return told
