"""Reading how much of the turf is spots, where these are treated alone."""

from planner.core.request.label_facts import SHARES
from planner.core.request.reader import Believable, Members
from planner.core.spots import Spots
from properties.core.units import Dimension, Quantity

KNOWN = ("area", "share", "drawn")
AREAS = Believable(Quantity(0.01, "m2"), Quantity(100, "ha"))
#: What goes over all of the ground, or has ground of its own.
NOT_WITH_SPOTS = ("route", "hand_tool", "plants", "passes")


def read_spots(whole: Members) -> Spots | None:
    """Read how much the spots are in all.

    Parameters
    ----------
    whole : Members
        The members of the request. [-]

    Returns
    -------
    Spots or None
        The spots, None where nobody told them. [unit as written]

    Raises
    ------
    Nothing
        Faults are noted.

    References
    ----------
    Our own format, docs/plan-request.md.
    """
    inner = whole.within("spots", KNOWN)
    if inner is None:
        return None
    area = inner.quantity("area", Dimension.AREA, believable=AREAS)
    share = inner.quantity("share", Dimension.SHARE, believable=SHARES)
    drawn = inner.flag("drawn")
    if len([name for name in KNOWN if inner.has(name)]) != 1:
        remedy = "Write one of: area, share, or drawn (true)."
        inner.faults.add(inner.path, "How much the spots are is told once.", remedy)
    for name in filter(whole.has, () if drawn else NOT_WITH_SPOTS):
        remedy = "Leave it out, or draw the spots as turf."
        whole.faults.add(name, "Spots that are not drawn are sprayed with one tool.", remedy)
    return Spots(area, share, drawn)
