"""How the swaths of a spread pattern came about."""

from planner.core.machine.pattern import Overlap, Pattern, overlapped
from properties.core.units import Quantity, quantity_of_si
from properties.core.working import Figure, Input

HALF_RATE_SOURCE = (
    "Ohio State University Extension, Bulletin 817-00, section on granule distribution pattern: "
    "the swath reaches to where the catch is half of that in the middle."
)
VARIATION_SOURCE = (
    "Overlapped patterns are judged by their coefficient of variation, as by R. L. Parish on ASAE "
    "S341.2; sample standard deviation (divisor n − 1), as the pans are a sample of the ground."
)


def half_rate_figure(pattern: Pattern, *, length_unit: str) -> Figure:
    """Derive the swath by the rule of the half rate.

    Parameters
    ----------
    pattern : Pattern
        The pattern of one pass. [m]
    length_unit : str
        The unit to show lengths in. [-]

    Returns
    -------
    Figure
        The derivation. [length_unit]

    Raises
    ------
    Nothing
        It always has one.

    References
    ----------
    The derivation names its own.
    """
    left, right = (
        Input(f"half the middle catch, {side}", quantity_of_si(width_m, length_unit))
        for side, width_m in zip(("left", "right"), pattern.half_widths_m, strict=True)
    )
    return Figure(
        "half_rate_swath",
        "Swath by the half rate",
        f"{left.name} + {right.name}",
        (left, right),
        quantity_of_si(pattern.half_rate_swath_m, length_unit),
        HALF_RATE_SOURCE,
    )


def overlap_figure(pattern: Pattern, overlap: Overlap, *, name: str, unit: str) -> Figure:
    """Derive how evenly passes at a spacing cover the ground.

    Parameters
    ----------
    pattern : Pattern
        The pattern of one pass. [m]
    overlap : Overlap
        The passes. [m]
    name : str
        What the figure is called. [-]
    unit : str
        The unit of the catches. [-]

    Returns
    -------
    Figure
        The derivation. [%]

    Raises
    ------
    Nothing
        It always has one.

    References
    ----------
    The derivation names its own.
    """
    falls = overlapped(pattern, spacing_m=overlap.spacing_m, mode=overlap.mode)
    points = tuple(
        Input(f"point {number}", Quantity(fall, unit)) for number, fall in enumerate(falls, start=1)
    )
    mean = Input("mean", Quantity(overlap.mean, unit))
    squares = " + ".join(f"({point.name} − mean)²" for point in points)
    return Figure(
        overlap.mode.value,
        f"{name} (a point is what all passes put down there; the mean is that of the points)",
        f"100 × sqrt(({squares}) / ({len(points)} − 1)) / mean",
        (*points, mean),
        Quantity(100 * overlap.variation, "%"),
        VARIATION_SOURCE,
    )
