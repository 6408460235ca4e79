"""Reading how a machine is driven: rounds along the edge, its speed, the time of a turn."""

from planner.core.machine.machines import HAND_KINDS, SPREADER_KINDS, Driving
from planner.core.request.reader import Believable, Members
from properties.core.units import Dimension, Quantity

KNOWN = ("headlands", "speed", "turn_time")
HEADLANDS = (0, 1, 2)

SPEEDS = Believable(Quantity(0.1, "m/s"), Quantity(20, "m/s"))
TURNS = Believable(Quantity(0, "s"), Quantity(10, "min"))


def read_driving(machine: Members, *, kind: str | None) -> Driving:
    """Read how a machine is driven; what is left open is as usual, or unknown.

    Parameters
    ----------
    machine : Members
        The members of the machine. [-]
    kind : str or None
        What kind it is, None where that cannot be read. [-]

    Returns
    -------
    Driving
        How it is driven. [unit as written]

    Raises
    ------
    Nothing
        Faults are noted.

    References
    ----------
    Our own format, docs/plan-request.md.
    """
    if kind in (*HAND_KINDS, *SPREADER_KINDS):
        for name in filter(machine.has, KNOWN):
            remedy = "Leave it out: passes are planned for a boom sprayer."
            machine.faults.add(machine.path_of(name), "This tool is not driven in passes.", remedy)
    return Driving(
        _headlands(machine),
        machine.quantity("speed", Dimension.SPEED, believable=SPEEDS),
        machine.quantity("turn_time", Dimension.TIME, believable=TURNS),
    )


def _headlands(machine: Members) -> int:
    value = machine.values.get("headlands", Driving.headlands)
    if isinstance(value, int) and not isinstance(value, bool) and value in HEADLANDS:
        return value
    remedy = "Write 0, 1 or 2: how often it goes round the edge before the lanes."
    machine.faults.add(
        machine.path_of("headlands"), "This is not a number of rounds that can be planned.", remedy
    )
    return Driving.headlands
