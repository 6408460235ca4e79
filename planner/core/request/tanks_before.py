"""Reading what each tank held before."""

from collections.abc import Iterator
from datetime import date

from planner.core.machine.machines import Machine
from planner.core.request.reader import LONGEST_NAME, Faults, Members, open_object
from planner.core.tank_history import Cleaned, TankBefore
from planner.core.tools import Tool

KNOWN = ("tool", "tank", "held", "kills_turf", "rinsed")
KNOWN_OF_RINSED = ("confirmed_by", "on")

MOST_TANKS = 20
MOST_HELD = 20


def read_tanks_before(
    whole: Members, machine: Machine | None, hand_tool: Machine | None, *, on: date | None
) -> tuple[TankBefore, ...]:
    """Read the history of the tanks, each told once.

    Parameters
    ----------
    whole : Members
        The members of the request. [-]
    machine : Machine or None
        The machine, if it could be read. [-]
    hand_tool : Machine or None
        The hand tool, if there is one and it could be read. [-]
    on : date or None
        The day of the work, if it was given and could be read. [-]

    Returns
    -------
    tuple[TankBefore, ...]
        What could be read. [-]

    Raises
    ------
    Nothing
        Faults are noted.

    References
    ----------
    Our own format, docs/plan-request.md.
    """
    tools = {Tool.MACHINE: machine, Tool.HAND_TOOL: hand_tool}
    counts = {tool: 1 if found is None else len(found.tanks) for tool, found in tools.items()}
    read: list[TankBefore] = []
    for path, before in _each(whole, counts, on):
        if any((before.tool, before.tank) == (other.tool, other.tank) for other in read):
            whole.faults.add(path, "This tank is told twice.", "Keep what it held last.")
        read.append(before)
    return tuple(read)


def _each(
    whole: Members, counts: dict[Tool, int], on: date | None
) -> Iterator[tuple[str, TankBefore]]:
    for path, item in whole.items("tanks_before", most=MOST_TANKS, least=0):
        members = open_object(whole.faults, path, item, KNOWN)
        if members is not None:
            yield path, _before(members, counts, on)


def _before(members: Members, counts: dict[Tool, int], on: date | None) -> TankBefore:
    tool = Tool(members.choice("tool", tuple(Tool)) or Tool.MACHINE)
    members.want("held", 'List the products it held, for example ["Invented herbicide"].')
    members.want("kills_turf", "Write true if one of them kills turf, false if none does.")
    return TankBefore(
        tool,
        members.whole("tank", least=1, most=max(1, counts[tool])) or 1,
        tuple(_names(members.faults, members)),
        members.flag("kills_turf"),
        _cleaned(members, on),
    )


def _names(faults: Faults, members: Members) -> Iterator[str]:
    for path, item in members.items("held", most=MOST_HELD):
        if isinstance(item, str) and 0 < len(item.strip()) <= LONGEST_NAME:
            yield " ".join(item.split())
        else:
            faults.add(path, "This is not a name.", "Write what the product is called.")


def _cleaned(members: Members, on: date | None) -> Cleaned | None:
    inner = members.within("rinsed", KNOWN_OF_RINSED)
    if inner is None:
        return None
    inner.want("confirmed_by", "Write who stands for it that it was rinsed as the label says.")
    name = inner.name("confirmed_by")
    rinsed_on = inner.day("on")
    if on is not None and rinsed_on is not None and rinsed_on > on:
        problem = f"{rinsed_on} is after {on}, the day of the work."
        inner.faults.add(inner.path_of("on"), problem, "Correct one of the two days.")
    return None if name is None else Cleaned(name, rinsed_on)
