"""Reading the machine of a plan request: its kind, swath, tanks and calibration."""

from collections.abc import Sequence
from dataclasses import replace

from planner.core.calibration import Calibration, StatedOutput
from planner.core.machine.machines import NO_SPRAY, Machine, MachineKind
from planner.core.request.calibration import read_calibration
from planner.core.request.driving import KNOWN as DRIVING
from planner.core.request.driving import read_driving
from planner.core.request.fittings import KNOWN as FITTINGS
from planner.core.request.fittings import read_fittings
from planner.core.request.reader import Believable, Faults, Members, open_object
from planner.core.request.set_up import OUTPUTS, read_made, read_set_up
from planner.core.request.slope_speeds import read_slope_speeds
from planner.core.request.spreader import KNOWN as SPREADER
from planner.core.request.spreader import is_spreader, read_spreading, refuse_spreader_members
from planner.core.request.tanks import KNOWN as TANK_MEMBERS
from planner.core.request.tanks import read_tanks
from properties.core.units import Dimension, Quantity

KNOWN = (
    *("kind", "swath", *TANK_MEMBERS, "calibration", "output", "width"),
    *("set_up", *FITTINGS, *DRIVING, *SPREADER),
)
SWATHS = Believable(Quantity(0.1, "m"), Quantity(100, "m"))


def read_machine(
    faults: Faults, path: str, value: object, *, kinds: Sequence[MachineKind] = tuple(MachineKind)
) -> Machine | None:
    """Read a machine of a request.

    Parameters
    ----------
    faults : Faults
        Where faults are noted. [-]
    path : str
        Where the machine stands. [-]
    value : object
        What stands there. [-]
    kinds : Sequence[MachineKind]
        The kinds that would do. [-]

    Returns
    -------
    Machine or None
        The machine, or None where there are faults. [-]

    Raises
    ------
    Nothing
        Faults are noted.

    References
    ----------
    Our own format, docs/plan-request.md.
    """
    members = open_object(faults, path, value, KNOWN)
    if members is None:
        return None
    members.want("kind", f"Write one of: {', '.join(kinds)}.")
    kind = members.choice("kind", kinds)
    members.want("swath", "Write the width of one pass, for example 10 ft.")
    swath = members.quantity("swath", Dimension.LENGTH, believable=SWATHS)
    width = members.quantity("width", Dimension.LENGTH, believable=SWATHS)
    driving = read_driving(members, kind=kind)
    if is_spreader(kind):
        machine = _spreader(members, kind, swath, width)
    else:
        machine = _sprayer(members, kind, swath, width)
    set_up, made = read_set_up(members), read_made(members)
    fittings = read_fittings(members)
    if machine is None:
        return None
    told = replace(machine, driving=driving, set_up=set_up, made=made, fittings=fittings)
    if machine.spreading is None:
        speeds = read_slope_speeds(
            members, kind=kind, calibration=machine.calibration, speed=driving.speed
        )
        told = replace(told, slope_speeds=speeds)
    _check_hose(members, told)
    return told


def _check_hose(members: Members, machine: Machine) -> None:
    """The hose is full of spray that cannot be sprayed, so a tank must fill more than that."""
    if machine.fittings.hose is None:
        return
    for fill_l, left_l in zip(machine.fills_l, machine.unsprayable_l, strict=False):
        if left_l >= fill_l:
            members.faults.add(
                members.path_of("hose"),
                "The hose, and what stays in the sump, hold as much as a filled tank: nothing is "
                "left to spray.",
                "Check the length and the bore of the hose, and their units.",
            )
            return


def _sprayer(
    members: Members, kind: str | None, swath: Quantity | None, width: Quantity | None
) -> Machine | None:
    refuse_spreader_members(members)
    tanks, fill_limits, unsprayable = read_tanks(members)
    calibration = _calibration(members)
    if kind is None or swath is None or not tanks or calibration is None:
        return None
    return Machine(
        MachineKind(kind),
        swath,
        tanks,
        calibration,
        width,
        fill_limits=fill_limits,
        unsprayable=unsprayable,
    )


def _spreader(
    members: Members, kind: str | None, swath: Quantity | None, width: Quantity | None
) -> Machine | None:
    spreading = read_spreading(members, kind=kind)
    if kind is None or swath is None or spreading is None:
        return None
    return Machine(MachineKind(kind), swath, (), NO_SPRAY, width, spreading=spreading)


def _calibration(members: Members) -> Calibration | None:
    if members.has("calibration") and members.has("output"):
        members.faults.add(
            members.path,
            "Both a calibration and an output are given.",
            "Keep the calibration, or state the output if nothing was measured.",
        )
    measured = read_calibration(members)
    stated = members.quantity("output", Dimension.VOLUME_PER_AREA, believable=OUTPUTS)
    if not (members.has("calibration") or members.has("output")):
        members.faults.add(
            members.path_of("calibration"),
            "Nothing says how much the machine puts down.",
            "Give the calibration, or an output such as 0.7 gal/1000 sq ft.",
        )
    return measured or (None if stated is None else StatedOutput(stated))
