"""What is mixed besides the finished spray, because it stays in the tanks, as JSON."""

from collections.abc import Sequence
from math import fsum

from planner.core.amounts.parts import Part
from planner.core.report.quantities import Json, quantity
from planner.core.shown import Shown


def mixed_as_whole(parts: Sequence[Part], shown: Shown) -> Json:
    """Write what stays in the tanks, and all that is mixed.

    Parameters
    ----------
    parts : Sequence[Part]
        The parts of a plan. [L]
    shown : Shown
        The units to show. [-]

    Returns
    -------
    dict
        The members ``stays_in_tanks`` and ``mixed_volume``, where something stays. [units shown]

    Raises
    ------
    Nothing
        Every plan can be written.

    References
    ----------
    Our own format, docs/plan-request.md.
    """
    stays_l = fsum(part.stays_l for part in parts)
    if not stays_l:
        return {}
    return {
        "stays_in_tanks": quantity(shown.spray_of(stays_l)),
        "mixed_volume": quantity(shown.spray_of(fsum(part.mixed_l for part in parts))),
    }
