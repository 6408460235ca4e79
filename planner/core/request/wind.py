"""Reading the firm's rule for the wind."""

from typing import Literal

from planner.core.request.reader import Believable, Members
from planner.core.weather import USUAL_RULE, WindRule
from properties.core.downwind import JUDGED
from properties.core.units import Dimension, Quantity

KNOWN = ("half_angle", "judged", "hold_above", "calm_below", "source")

WINDS = Believable(Quantity(0, "m/s"), Quantity(100, "m/s"))
HALF_ANGLES = Believable(Quantity(0.1, "deg"), Quantity(90, "deg"))


def read_wind_rule(whole: Members) -> WindRule:
    """Read the firm's rule for the wind; what it leaves open is as usual.

    Parameters
    ----------
    whole : Members
        The members of the request. [-]

    Returns
    -------
    WindRule
        The rule. [unit as written]

    Raises
    ------
    Nothing
        Faults are noted.

    References
    ----------
    Our own format, docs/plan-request.md.
    """
    members, usual = whole.within("wind_rule", KNOWN), USUAL_RULE
    if members is None:
        return usual
    angle = members.quantity("half_angle", Dimension.ANGLE, believable=HALF_ANGLES)
    judged: Literal["sector", "facing"] = usual.judged
    if members.choice("judged", JUDGED) == "facing":
        judged = "facing"
    hold = members.quantity("hold_above", Dimension.SPEED, believable=WINDS)
    calm = members.quantity("calm_below", Dimension.SPEED, believable=WINDS) or usual.calm_below
    if hold is not None and hold.si < calm.si:
        members.faults.add(
            members.path_of("hold_above"),
            f"No wind would do: {hold} is less than {calm}, below which it is too still.",
            "Write the highest wind to spray in, above the lowest.",
        )
    source = members.name("source")
    return WindRule(angle or usual.half_angle, judged, hold, calm, source or usual.source)
