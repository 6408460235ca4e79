"""What another pressure, speed or tip would make of a machine's output and of a mix."""

from dataclasses import dataclass

from planner.core.calibration import output_of
from planner.core.machine.what_if import Change, WhatIf, output_then_l_per_m2
from planner.core.request.calibration import PACES, calibration_of
from planner.core.request.reader import Believable
from planner.core.request.set_up import PRESSURES
from planner.core.shown import SHOWN, Units, said
from planner.core.workings.what_if import output_then_figure, rate_then_figure
from planner.models import Machine, Mix, MixPart
from planner.selectors.calibrations import calibration_for_plan
from properties.core.errors import Refused
from properties.core.units import Dimension, Quantity
from properties.core.working import Figure

__all__ = ["Change", "Thought", "WhatIf", "WhatIfSheet", "what_if"]

#: What a sprayer can have; beyond it somebody slipped.
BELIEVABLE = {
    "pressure": PRESSURES,
    "speed": PACES,
    "tip_flow": Believable(Quantity(0.001, "L/min"), Quantity(1000.0, "L/min")),
}
PER_AREA = (Dimension.VOLUME_PER_AREA, Dimension.MASS_PER_AREA)


@dataclass(frozen=True)
class Thought:
    """A product of a mix: what it would get, and what its label says to that."""

    name: str
    rate: Figure | None
    faults: tuple[str, ...]
    carrier: str


@dataclass(frozen=True)
class WhatIfSheet:
    """The output there would be, and every product of the mix."""

    output: Figure
    products: tuple[Thought, ...]


def what_if(machine: Machine, changes: WhatIf, *, mix: Mix | None, units: str) -> WhatIfSheet:
    """Work out what would be. Refused where the machine is not calibrated, or nothing changes."""
    if changes == WhatIf():
        raise Refused("", "Nothing would change.", "Fill in both boxes of one of the pairs.")
    _check(changes)
    shown = SHOWN[Units(units)]
    calibration = calibration_for_plan("", machine)
    now = output_of(calibration_of(calibration.told), swath_m=calibration.swath.si)
    then_l_per_m2 = output_then_l_per_m2(now.l_per_m2, changes=changes)
    figure = output_then_figure(now.l_per_m2, then_l_per_m2, changes, shown=shown)
    parts = [] if mix is None else mix.parts.all()
    return WhatIfSheet(
        figure, tuple(_thought(part, changes.ratio, then_l_per_m2, figure) for part in parts)
    )


def _check(changes: WhatIf) -> None:
    """Refuse a pressure, a speed or a tip that no sprayer has, at its box."""
    for name, believable in BELIEVABLE.items():
        change: Change | None = getattr(changes, name)
        if change is not None:
            believable.check(change.now, field=f"{name}_now")
            believable.check(change.then, field=f"{name}_then")


def _carrier_words(least: Quantity | None, most: Quantity | None) -> str:
    """Say how much finished spray a label asks for, empty where it says nothing."""
    ends = [said(end) for end in (least, most) if end is not None]
    if not ends:
        return ""
    only = "" if len(ends) > 1 else "at least " if most is None else "at most "
    return f"its label asks for {only}{' to '.join(ends)} of finished spray"


def _thought(part: MixPart, ratio: float, then_l_per_m2: float, output: Figure) -> Thought:
    product, rate = part.product, part.rate
    faults = tuple(_carrier_faults(product.carrier_min, product.carrier_max, then_l_per_m2))
    carrier = _carrier_words(product.carrier_min, product.carrier_max)
    if rate.dimension not in PER_AREA:
        return Thought(product.name, None, faults, carrier)
    figure = rate_then_figure(product.name, rate, ratio, output)
    lowest, highest = product.rate_min, product.rate_max
    if highest is not None and figure.result.si > highest.si * (1 + 1e-9):
        faults += (f"Over the label’s highest rate of {said(highest)}.",)
    if lowest is not None and figure.result.si < lowest.si * (1 - 1e-9):
        faults += (f"Under the label’s lowest rate of {said(lowest)}.",)
    return Thought(product.name, figure, faults, carrier)


def _carrier_faults(
    lowest: Quantity | None, highest: Quantity | None, then_l_per_m2: float
) -> list[str]:
    faults = []
    if lowest is not None and then_l_per_m2 < lowest.si * (1 - 1e-9):
        faults.append(f"Less spray than the label asks for, {said(lowest)}.")
    if highest is not None and then_l_per_m2 > highest.si * (1 + 1e-9):
        faults.append(f"More spray than the label allows, {said(highest)}.")
    return faults
