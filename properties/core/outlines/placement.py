"""How well a drawn outline is placed: the error of its corners, or how it was measured."""

from collections.abc import Mapping

from properties.core.outlines.draft import Draft
from properties.core.units import Dimension, Quantity

#: The ways to measure an outline: traced on a picture from above, walked round with a
#: receiver, or by tape from fixed points.
MEASURED_BY = ("imagery", "walked", "tape")
#: A corner that may be out by more says nothing about a property.
LARGEST_ERROR_M = 100.0
SMALLEST_ERROR_M = 0.001


def read_placement(draft: Draft, properties: Mapping[str, object]) -> None:
    """Read how far a corner may be out and how it was measured; faults go to the draft.

    Parameters
    ----------
    draft : Draft
        The feature they belong to. [-]
    properties : Mapping of str to object
        The members as they came. [-]

    Returns
    -------
    None
        What was read is kept in the draft. [-]

    Raises
    ------
    None
        What is wrong is kept in the draft, so that all of it can be told at once.

    References
    ----------
    Our own format.
    """
    draft.position_error = draft.quantity(properties, "position_error", Dimension.LENGTH)
    if draft.position_error is not None:
        _check_error(draft, draft.position_error)
    measured_by = properties.get("measured_by")
    if isinstance(measured_by, str) and measured_by in MEASURED_BY:
        draft.measured_by = measured_by
    elif measured_by is not None:
        draft.fault(
            ".properties.measured_by",
            "This is not one of the words known here.",
            f"Write one of: {', '.join(MEASURED_BY)}.",
        )


def _check_error(draft: Draft, error: Quantity) -> None:
    if not SMALLEST_ERROR_M <= error.si <= LARGEST_ERROR_M:
        draft.fault(
            ".properties.position_error",
            f"{error} is not how far a measured corner may be out.",
            f"Write one standard deviation, from 1 mm to {LARGEST_ERROR_M:.0f} m, or leave it out "
            "where nobody knows.",
        )
