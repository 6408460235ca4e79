"""What another pressure, speed or tip would make of a measured output.

Pressures in Pa, speeds in m/s, flows in L/s, outputs in L/m².
"""

import math
from dataclasses import dataclass

from properties.core.errors import Refused, require_positive
from properties.core.units import Quantity

#: Beyond such a change of pressure the pattern and the drops are others: change the tip.
MOST_PRESSURE_SHARE = 0.25
_SAME_SHARE = 1e-9


@dataclass(frozen=True)
class Change:
    """What something is now, and what it would be."""

    now: Quantity
    then: Quantity

    @property
    def ratio(self) -> float:
        """What it would be over what it is."""
        return self.then.si / self.now.si


@dataclass(frozen=True)
class WhatIf:
    """The changes that are thought of; None leaves a thing as it is.

    ``specific_gravity`` is how many times as heavy as water the mix is.
    """

    pressure: Change | None = None
    speed: Change | None = None
    tip_flow: Change | None = None
    specific_gravity: float | None = None

    @property
    def pressure_ratio(self) -> float:
        """Flow at the other pressure over flow now."""
        return 1.0 if self.pressure is None else flow_ratio(self.pressure)

    @property
    def speed_ratio(self) -> float:
        """Output at the other speed over output now: the faster, the less."""
        return 1.0 if self.speed is None else 1 / self.speed.ratio

    @property
    def tip_ratio(self) -> float:
        """Flow of the other tip over that of the present one, at the same pressure."""
        return 1.0 if self.tip_flow is None else self.tip_flow.ratio

    @property
    def gravity_ratio(self) -> float:
        """Flow of the mix over that of water."""
        return 1.0 if self.specific_gravity is None else 1 / math.sqrt(self.specific_gravity)

    @property
    def ratio(self) -> float:
        """The output there would be over the one that was measured."""
        return self.pressure_ratio * self.speed_ratio * self.tip_ratio * self.gravity_ratio


def flow_ratio(pressure: Change) -> float:
    """How the flow of a tip changes with the pressure: with its square root.

    Parameters
    ----------
    pressure : Change
        The pressure now and then, > 0. [pressure]

    Returns
    -------
    float
        Flow then over flow now. [1]

    Raises
    ------
    Refused
        If a pressure is not above zero.

    References
    ----------
    Common practice: the law of an orifice. Twice the flow needs four times the pressure.
    """
    require_positive(pressure_now=pressure.now.si, pressure_then=pressure.then.si)
    return math.sqrt(pressure.ratio)


def pressure_for(*, pressure_pa: float, flow_share: float) -> float:
    """Find the pressure that changes the flow of a tip by a share; the inverse of the law above.

    Parameters
    ----------
    pressure_pa : float
        The pressure now, > 0. [Pa]
    flow_share : float
        Flow wanted over flow now, > 0. [1]

    Returns
    -------
    float
        The pressure that it needs. [Pa]

    Raises
    ------
    Refused
        If an argument is not a finite number above zero.

    References
    ----------
    See ``flow_ratio``.
    """
    require_positive(pressure_pa=pressure_pa, flow_share=flow_share)
    return pressure_pa * flow_share**2


def output_then_l_per_m2(output_l_per_m2: float, *, changes: WhatIf) -> float:
    """Work out the output there would be.

    Parameters
    ----------
    output_l_per_m2 : float
        The output that was measured, > 0. [L/m²]
    changes : WhatIf
        What would be otherwise. [-]

    Returns
    -------
    float
        The output there would be, if the pump does not follow the speed. [L/m²]

    Raises
    ------
    Refused
        If a value is not above zero, or the pressure changes by more than a quarter.

    References
    ----------
    NC State Extension, The Calibration of Turfgrass Boom Sprayers and Spreaders: at a fixed
    pressure output goes as one over the speed. Ohio State University Extension, Bulletin
    817-00: a carrier denser than water flows slower, by the root of its specific gravity.
    """
    require_positive(output_l_per_m2=output_l_per_m2)
    for name, change in (("speed", changes.speed), ("tip_flow", changes.tip_flow)):
        if change is not None:
            require_positive(**{f"{name}_now": change.now.si, f"{name}_then": change.then.si})
    if changes.specific_gravity is not None:
        require_positive(specific_gravity=changes.specific_gravity)
    if changes.pressure is not None:
        _check_pressure(changes.pressure)
    return output_l_per_m2 * changes.ratio


def _check_pressure(pressure: Change) -> None:
    require_positive(pressure_now=pressure.now.si, pressure_then=pressure.then.si)
    if abs(pressure.ratio - 1) > MOST_PRESSURE_SHARE + _SAME_SHARE:
        raise Refused(
            "pressure_then",
            f"From {pressure.now} to {pressure.then} is a change of "
            f"{abs(pressure.ratio - 1):.0%}: beyond 25 % pattern and drops are others.",
            "Change the tip instead, or the speed.",
        )
