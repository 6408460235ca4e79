"""Reading what a calibration belongs to, and the set-up of a machine as it is."""

from collections.abc import Mapping

from planner.core.machine.set_up import MADE_UNTOLD, SET_UP_UNTOLD, Made, SetUp
from planner.core.request.reader import Believable, Faults, Members
from properties.core.errors import FaultsFound
from properties.core.units import Dimension, Quantity

KNOWN = ("tips", "pressure", "pace", "person")
KNOWN_OF_MADE = (
    *("done_on", "good_for", "good_for_area", "area_since", "area_since_is_least"),
    *("set_up", "target_output"),
)

OUTPUTS = Believable(Quantity(0.001, "gal/1000 sq ft"), Quantity(10_000, "gal/1000 sq ft"))
PRESSURES = Believable(Quantity(0.05, "bar"), Quantity(100, "bar"))
AGES = Believable(Quantity(1, "day"), Quantity(3660, "day"))
AREAS = Believable(Quantity(0, "m2"), Quantity(1_000_000, "ha"))
AREAS_ALLOWED = Believable(Quantity(1, "m2"), Quantity(1_000_000, "ha"))


def read_set_up(holder: Members) -> SetUp:
    """Read a set-up; what is not told is unknown.

    Parameters
    ----------
    holder : Members
        The machine, or its calibration. [-]

    Returns
    -------
    SetUp
        The set-up. [as written]

    Raises
    ------
    Nothing
        Faults are noted.

    References
    ----------
    Our own format, docs/plan-request.md.
    """
    inner = holder.within("set_up", KNOWN)
    if inner is None:
        return SET_UP_UNTOLD
    return SetUp(
        tips=inner.name("tips"),
        pressure=inner.quantity("pressure", Dimension.PRESSURE, believable=PRESSURES),
        pace=inner.name("pace"),
        person=inner.name("person"),
    )


def set_up_of(told: Mapping[str, object]) -> SetUp:
    """Read a set-up outside of a request.

    Parameters
    ----------
    told : Mapping of str to object
        Its members. [as written]

    Returns
    -------
    SetUp
        The set-up. [as written]

    Raises
    ------
    FaultsFound
        If it cannot be read.

    References
    ----------
    Our own format, docs/plan-request.md.
    """
    faults = Faults()
    set_up = read_set_up(Members(faults, "", {"set_up": dict(told)}))
    if faults.found:
        raise FaultsFound(faults.found)
    return set_up


def made_of(told: Mapping[str, object]) -> Made:
    """Read what is told with a calibration outside of a request.

    Parameters
    ----------
    told : Mapping of str to object
        Its members. [as written]

    Returns
    -------
    Made
        What is told. [as written]

    Raises
    ------
    FaultsFound
        If it cannot be read.

    References
    ----------
    Our own format, docs/plan-request.md.
    """
    faults = Faults()
    made = read_made(Members(faults, "", {"calibration": dict(told)}))
    if faults.found:
        raise FaultsFound(
            fault.at(fault.field.removeprefix("calibration.")) for fault in faults.found
        )
    return made


def read_made(machine: Members) -> Made:
    """Read when a calibration was made, with what, and for how long it is good.

    Parameters
    ----------
    machine : Members
        The members of the machine; its calibration may be missing. [-]

    Returns
    -------
    Made
        What is told. [as written]

    Raises
    ------
    Nothing
        Faults are noted; that the calibration is no object is noted where it is read.

    References
    ----------
    Our own format, docs/plan-request.md.
    """
    value = machine.values.get("calibration")
    if not isinstance(value, dict):
        return MADE_UNTOLD
    inner = Members(machine.faults, machine.path_of("calibration"), value)
    return Made(
        on=inner.day("done_on"),
        good_for=inner.quantity("good_for", Dimension.TIME, believable=AGES),
        good_for_area=inner.quantity("good_for_area", Dimension.AREA, believable=AREAS_ALLOWED),
        area_since=inner.quantity("area_since", Dimension.AREA, believable=AREAS),
        set_up=read_set_up(inner),
        target=inner.quantity("target_output", Dimension.VOLUME_PER_AREA, believable=OUTPUTS),
        area_since_is_least=inner.flag("area_since_is_least"),
    )
