"""A machine as a plan needs it: what it is, how wide it works, what its tanks hold."""

from dataclasses import dataclass
from enum import StrEnum

from planner.core.calibration import Calibration, StatedOutput
from planner.core.label.methods import Method
from planner.core.machine.fittings import FITTINGS_UNTOLD, Fittings
from planner.core.machine.set_up import MADE_UNTOLD, SET_UP_UNTOLD, Made, SetUp
from planner.core.machine.slope_speeds import SlopeSpeeds
from planner.core.machine.spreaders import Spreading
from properties.core.units import Quantity


class MachineKind(StrEnum):
    """The kinds of sprayer and spreader that can be planned with."""

    BOOM_SPRAYER = "boom_sprayer"
    HAND_GUN = "hand_gun"
    BACKPACK_SPRAYER = "backpack_sprayer"
    ROTARY_SPREADER = "rotary_spreader"
    DROP_SPREADER = "drop_spreader"
    BOOMLESS_SPRAYER = "boomless_sprayer"


#: Kinds that are carried by hand.
HAND_KINDS = (MachineKind.HAND_GUN, MachineKind.BACKPACK_SPRAYER)

#: Kinds that put granules down; all others spray.
SPREADER_KINDS = (MachineKind.ROTARY_SPREADER, MachineKind.DROP_SPREADER)

#: Sprayers that are driven in passes. A boomless one throws its swath from the frame.
DRIVEN_KINDS = (MachineKind.BOOM_SPRAYER, MachineKind.BOOMLESS_SPRAYER)

#: A drop spreader throws nothing aside, as a rotary one with its deflector.
_METHODS = {
    MachineKind.BOOM_SPRAYER: Method.BOOM,
    MachineKind.BOOMLESS_SPRAYER: Method.BOOM,
    MachineKind.HAND_GUN: Method.HAND_GUN,
    MachineKind.BACKPACK_SPRAYER: Method.BACKPACK,
    MachineKind.ROTARY_SPREADER: Method.GRANULAR_OPEN,
    MachineKind.DROP_SPREADER: Method.GRANULAR_DEFLECTOR,
}

#: A spreader puts down no spray.
NO_SPRAY = StatedOutput(Quantity(0.0, "L/m2"))


@dataclass(frozen=True)
class Driving:
    """How a machine is driven: how often round the edge before the lanes, and how fast.

    ``speed`` and ``turn_time``, what each turn takes, are None where nobody knows.
    """

    headlands: int = 1
    speed: Quantity | None = None
    turn_time: Quantity | None = None


USUAL_DRIVING = Driving()
SPEEDS_UNTOLD = SlopeSpeeds()


@dataclass(frozen=True)
class Machine:
    """One sprayer with its swath, its tanks in the order they are filled, its output.

    A spreader has ``spreading`` instead of tanks and of an output of spray.
    ``width`` is what it needs to pass a gate, None where nobody knows. ``fill_limits`` and
    ``unsprayable``, what stays in the sump and the hose, are told for each tank or for none.
    ``set_up`` is how it is set up now, ``made`` how its calibration was made, and
    ``slope_speeds`` how fast it drives.
    """

    kind: MachineKind
    swath: Quantity
    tanks: tuple[Quantity, ...]
    calibration: Calibration
    width: Quantity | None = None
    driving: Driving = USUAL_DRIVING
    fill_limits: tuple[Quantity, ...] = ()
    unsprayable: tuple[Quantity, ...] = ()
    spreading: Spreading | None = None
    set_up: SetUp = SET_UP_UNTOLD
    made: Made = MADE_UNTOLD
    fittings: Fittings = FITTINGS_UNTOLD
    slope_speeds: SlopeSpeeds = SPEEDS_UNTOLD

    @property
    def method(self) -> Method:
        """How it puts the product down."""
        if self.spreading is not None and self.spreading.deflector:
            return Method.GRANULAR_DEFLECTOR
        return _METHODS[self.kind]

    @property
    def fills_l(self) -> tuple[float, ...]:
        """How far each tank is filled: to its limit, to the brim where nobody gave one."""
        return tuple(fill.si for fill in self.fill_limits or self.tanks)

    @property
    def unsprayable_l(self) -> tuple[float, ...]:
        """What cannot be sprayed from each tank; nothing is counted where nobody told.

        The spray in a hose comes on top.
        """
        hose_l = 0.0 if self.fittings.hose is None else self.fittings.hose.volume_l
        left_l = [left.si for left in self.unsprayable] or [0.0] * len(self.tanks)
        return tuple(each_l + hose_l for each_l in left_l)

    @property
    def goes_anywhere(self) -> bool:
        """Whether it is carried by hand, so that no strip is too narrow for it."""
        return self.kind in HAND_KINDS
