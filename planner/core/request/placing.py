"""Reading how far corners may be out by the way they were measured."""

from collections.abc import Collection

from planner.core.placing import Placing
from planner.core.request.reader import Believable, Members
from planner.core.shown import listed
from properties.core.outlines import Drawing
from properties.core.outlines.placement import (
    LARGEST_ERROR_M,
    MEASURED_BY,
    SMALLEST_ERROR_M,
)
from properties.core.units import Dimension, Quantity

ERRORS = Believable(Quantity(SMALLEST_ERROR_M, "m"), Quantity(LARGEST_ERROR_M, "m"))
#: What a corner is measured again with, unless the request says otherwise.
USUAL_AGAIN = "tape"


def read_placing(whole: Members, drawing: Drawing | None) -> Placing:
    """Read the errors by way of measuring, and check that no shape lacks its own.

    Parameters
    ----------
    whole : Members
        The members of the request. [-]
    drawing : Drawing or None
        The place, None where it cannot be read. [-]

    Returns
    -------
    Placing
        What is known. [unit as written]

    Raises
    ------
    Nothing
        Faults are noted.

    References
    ----------
    Our own format, docs/plan-request.md.
    """
    members = whole.within("position_errors", MEASURED_BY)
    read = {} if members is None else {name: _error(members, name) for name in MEASURED_BY}
    placing = Placing(
        {name: error for name, error in read.items() if error is not None},
        better=_error(whole, "better_error") or read.get(USUAL_AGAIN),
    )
    if drawing is not None:
        _check_entries(whole, drawing, told=() if members is None else tuple(members.values))
    return placing


def _error(members: Members, name: str) -> Quantity | None:
    return members.quantity(name, Dimension.LENGTH, believable=ERRORS)


def _check_entries(whole: Members, drawing: Drawing, *, told: Collection[str]) -> None:
    for way in MEASURED_BY:
        by_it = [
            shape.name or shape.ref
            for shape in drawing.shapes
            if shape.measured_by == way and shape.position_error is None
        ]
        if by_it and way not in told:
            whole.faults.add(
                f"position_errors.{way}",
                f"Nobody says how far a corner measured by “{way}” is out ({listed(by_it)}).",
                "Write one standard deviation here, or a position_error on each shape.",
            )
