"""Turf whose size somebody stated: an area without an outline, with a wide error bar. m²."""

import math
from dataclasses import dataclass

import shapely
from shapely import Point
from shapely.geometry.base import BaseGeometry

from properties.core.accuracy import SIGMAS_OF_95_PERCENT
from properties.core.errors import Refused
from properties.core.frame import frame_around
from properties.core.units import Quantity, quantity_of_si
from properties.core.working import COMMON_PRACTICE, Figure, Input

#: More than this share out, a statement says nothing about an area.
LARGEST_ERROR_SHARE = 1.0


@dataclass(frozen=True)
class StatedGround:
    """An area as stated, how far it may be out, and where both come from.

    ``sigma_share`` is one standard deviation, as a share of the area.
    """

    area: Quantity
    sigma_share: float
    said_by: str
    error_source: str = COMMON_PRACTICE

    def __post_init__(self) -> None:
        if not (self.area.si > 0 and 0 < self.sigma_share <= LARGEST_ERROR_SHARE):
            raise Refused(
                "stated_area",
                f"{self.area}, out by {self.sigma_share:.0%}, is no area to reckon with.",
                "State an area above zero, and an error from above zero to 100 %.",
            )

    @property
    def area_m2(self) -> float:
        """The area as stated."""
        return self.area.si

    @property
    def sigma_m2(self) -> float:
        """One standard deviation of the area."""
        return self.sigma_share * self.area_m2

    @property
    def half_width_m2(self) -> float:
        """The true area lies within this of the stated one 95 times in 100."""
        return SIGMAS_OF_95_PERCENT * self.sigma_m2

    @property
    def low_m2(self) -> float:
        """The low end of the error bar; ground is never less than none."""
        return max(0.0, self.area_m2 - self.half_width_m2)

    @property
    def high_m2(self) -> float:
        """The high end of the error bar."""
        return self.area_m2 + self.half_width_m2


def half_width_figure(ground: StatedGround) -> Figure:
    """Show how wide the error bar of a stated area is, with its working.

    Parameters
    ----------
    ground : StatedGround
        The area and its error. [unit as stated]

    Returns
    -------
    Figure
        Half the width of the bar that holds the true area 95 times in 100. [unit as stated]

    Raises
    ------
    Nothing
        The ground was checked when it was made.

    References
    ----------
    NIST/SEMATECH e-Handbook of Statistical Methods, section 1.3.6.7.1, for 1.96; the share
    is the firm's own, with its source beside it.
    """
    return Figure(
        key="stated_area",
        name="How far the stated area may be out",
        formula="1.96 × error × stated area",
        inputs=(
            Input("stated area", ground.area),
            Input("error", Quantity(100 * ground.sigma_share, "%")),
        ),
        result=quantity_of_si(ground.half_width_m2, ground.area.unit),
        source=f"{ground.said_by}. Error: {ground.error_source}",
    )


@dataclass(frozen=True)
class StandIn:
    """A square as large as a stated area, for a price alone: nobody has seen such a lawn.

    ``sigma_m`` is how far its corners have to be out for the area to be out as much as a
    stated one is.
    """

    outline: BaseGeometry
    sigma_m: float


def stand_in(ground: StatedGround, *, longitude: float, latitude: float) -> StandIn:
    """Draw a square of a stated area round a point, so that work on it can be priced.

    Of all lawns with four square corners it has the shortest edge, so the price of trimming
    is the least that such a lawn can have.

    Parameters
    ----------
    ground : StatedGround
        The area and its error. [unit as stated]
    longitude : float
        Where the map of the property opens. [degree]
    latitude : float
        The same. [degree]

    Returns
    -------
    StandIn
        The square in degrees, and the error of its corners. [degree and m]

    Raises
    ------
    Nothing
        The ground was checked when it was made.

    References
    ----------
    Our own derivation from ``area_sigma_m2``: for a square of side a every corner has the
    diagonal between its neighbours, so s_A = s/2 √(4 · 2a²) = √2 s a, and s = s_A / (√2 a).
    """
    side_m = math.sqrt(ground.area_m2)
    frame = frame_around([Point(longitude, latitude)])
    half_m = side_m / 2
    outline = frame.to_degrees(shapely.box(-half_m, -half_m, half_m, half_m))
    return StandIn(outline, ground.sigma_m2 / (math.sqrt(2) * side_m))
