"""Reading what is fitted to a sprayer: nozzles, sides, pump, hose."""

from collections.abc import Mapping

from planner.core.label.facts import Droplets
from planner.core.machine.fittings import Fittings, Hose, Pump
from planner.core.machine.tips import NEW_TIP_FLOWS, TIP_UNTOLD, Tip
from planner.core.request.calibration import MOST_NOZZLES, SPACINGS
from planner.core.request.reader import Believable, Faults, Members
from properties.core.errors import FaultsFound
from properties.core.units import Dimension, Quantity

KNOWN = ("nozzles", "nozzle_spacing", "sides", "pump", "hose", "tip")
KNOWN_OF_HOSE = ("length", "bore")
KNOWN_OF_TIP = ("size", "droplets", "angle", "height")

MOST_SIDES = 24
HOSES = Believable(Quantity(0.1, "m"), Quantity(1, "km"))
ANGLES = Believable(Quantity(5, "deg"), Quantity(170, "deg"))
HEIGHTS = Believable(Quantity(1, "cm"), Quantity(3, "m"))
BORES = Believable(Quantity(1, "mm"), Quantity(20, "cm"))


def read_fittings(machine: Members) -> Fittings:
    """Read what is fitted; what is not told is unknown.

    Parameters
    ----------
    machine : Members
        The members of the machine. [-]

    Returns
    -------
    Fittings
        What is fitted. [as written]

    Raises
    ------
    Nothing
        Faults are noted.

    References
    ----------
    Our own format, docs/plan-request.md.
    """
    pump = machine.choice("pump", tuple(Pump))
    return Fittings(
        nozzles=_count(machine, "nozzles", most=MOST_NOZZLES),
        nozzle_spacing=machine.quantity("nozzle_spacing", Dimension.LENGTH, believable=SPACINGS),
        sides=_count(machine, "sides", most=MOST_SIDES),
        pump=None if pump is None else Pump(pump),
        hose=_hose(machine),
        tip=_tip(machine),
    )


def fittings_of(told: Mapping[str, object]) -> Fittings:
    """Read what is fitted outside of a request.

    Parameters
    ----------
    told : Mapping of str to object
        The members of the machine. [as written]

    Returns
    -------
    Fittings
        What is fitted. [as written]

    Raises
    ------
    FaultsFound
        If it cannot be read: every fault with the member it is in.

    References
    ----------
    Our own format, docs/plan-request.md.
    """
    faults = Faults()
    fittings = read_fittings(Members(faults, "", told))
    if faults.found:
        raise FaultsFound(faults.found)
    return fittings


def _count(machine: Members, name: str, *, most: int) -> int | None:
    value = machine.values.get(name)
    if not machine.has(name):
        return None
    if isinstance(value, int) and not isinstance(value, bool) and 1 <= value <= most:
        return value
    remedy = f"Write a whole number from 1 to {most}."
    machine.faults.add(machine.path_of(name), "This is not how many there can be.", remedy)
    return None


def _tip(machine: Members) -> Tip:
    inner = machine.within("tip", KNOWN_OF_TIP)
    if inner is None:
        return TIP_UNTOLD
    droplets = inner.choice("droplets", tuple(Droplets))
    return Tip(
        size=inner.choice("size", tuple(NEW_TIP_FLOWS)),
        droplets=None if droplets is None else Droplets(droplets),
        angle=inner.quantity("angle", Dimension.ANGLE, believable=ANGLES),
        height=inner.quantity("height", Dimension.LENGTH, believable=HEIGHTS),
    )


def _hose(machine: Members) -> Hose | None:
    inner = machine.within("hose", KNOWN_OF_HOSE)
    if inner is None:
        return None
    inner.want("length", "Write how long the hose is, for example 300 ft.")
    length = inner.quantity("length", Dimension.LENGTH, believable=HOSES)
    inner.want("bore", "Write how wide it is inside, for example 0.5 in.")
    bore = inner.quantity("bore", Dimension.LENGTH, believable=BORES)
    return None if length is None or bore is None else Hose(length, bore)
