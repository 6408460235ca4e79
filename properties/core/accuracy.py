"""How far a measured area may be from the true one.

A corner that is drawn or walked is out by chance, each on its own; a border that is
always traced along the same blurred edge is out the same way all round; a picture
may be out of scale. Metres and m², in the plane of the property's frame, as seen
from above: on a slope the spread grows with the area.
"""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np
import shapely
from shapely import Polygon
from shapely.geometry.base import BaseGeometry

from properties.core.errors import Refused
from properties.core.frame import Floats
from properties.core.plane import cut, polygons_of, union_of

#: 95 of 100 draws of a normal distribution lie within so many standard deviations.
#: NIST/SEMATECH e-Handbook of Statistical Methods, section 1.3.6.7.1.
SIGMAS_OF_95_PERCENT = 1.96


@dataclass(frozen=True)
class Position:
    """How well an outline is placed, by the way it was measured.

    ``sigma_m`` is the standard deviation of a corner along either axis, ``bias_m`` how
    far all sides together may lie too far out or in, ``scale_share`` the standard
    deviation of the scale, as a share of every length.
    """

    sigma_m: float
    bias_m: float = 0.0
    scale_share: float = 0.0

    def __post_init__(self) -> None:
        require_not_negative(sigma_m=self.sigma_m, bias_m=self.bias_m, scale_share=self.scale_share)


@dataclass(frozen=True)
class Measured:
    """An outline, and how well it is placed; ``ref`` says of which shape."""

    ref: str
    outline: BaseGeometry
    position: Position


@dataclass(frozen=True)
class PartSpread:
    """What one shape adds to the spread of an area."""

    ref: str
    corner_variance_m4: float
    scale_variance_m4: float
    bias_m2: float


@dataclass(frozen=True)
class Spread:
    """The spread of an area, and what each shape adds to it."""

    parts: tuple[PartSpread, ...]

    @property
    def variance_m4(self) -> float:
        """The variance of the area, corners and scale together."""
        return math.fsum(part.corner_variance_m4 + part.scale_variance_m4 for part in self.parts)

    @property
    def sigma_m2(self) -> float:
        """The standard deviation of the area."""
        return math.sqrt(self.variance_m4)

    @property
    def bias_m2(self) -> float:
        """What borders that all lie too far out or in may add or take."""
        return math.fsum(part.bias_m2 for part in self.parts)

    @property
    def half_width_m2(self) -> float:
        """The true area lies within this of the measured one 95 times in 100."""
        return SIGMAS_OF_95_PERCENT * self.sigma_m2 + self.bias_m2


def require_not_negative(**named: float) -> None:
    """Refuse the first argument that is not a finite number of zero or more.

    Parameters
    ----------
    named : float
        The arguments by name. [any unit]

    Returns
    -------
    None
        Nothing. [-]

    Raises
    ------
    Refused
        If an argument is negative, infinite or not a number.

    References
    ----------
    Our own derivation: no error is smaller than none.
    """
    for name, value in named.items():
        if not (math.isfinite(value) and value >= 0):
            raise Refused(
                name,
                f"{value:g} is not a number of zero or more.",
                "Enter how far a measured corner or border may be out.",
            )


def corners_of(outline: BaseGeometry, *, sigma_m: float) -> tuple[Floats, ...]:
    """The corners of every ring of an outline, without what is smaller than its error.

    Errors of neighbouring points along one side are shared (one shadow, one blurred
    border), so many points on a side would make an outline look better placed than
    it is. What departs from a side by less than the error is not a corner.

    Parameters
    ----------
    outline : BaseGeometry
        Areas, valid. [m]
    sigma_m : float
        Standard deviation of a corner along either axis, >= 0. [m]

    Returns
    -------
    tuple of arrays of shape (n, 2)
        The corners of each ring, not closed. [m]

    Raises
    ------
    Refused
        If the error is negative or not a finite number.

    References
    ----------
    Douglas, D. H. & Peucker, T. K. (1973), Algorithms for the reduction of the number of
    points required to represent a digitized line or its caricature, Cartographica 10(2).
    """
    require_not_negative(sigma_m=sigma_m)
    return tuple(_corners_of_ring(ring, sigma_m) for ring in _rings(outline))


def area_gradient_m(corners: Floats) -> Floats:
    """How an area changes as its corners move, by the formula of the shoelace.

    Parameters
    ----------
    corners : array of shape (n, 2)
        Corners of a ring, counter-clockwise, not closed. [m]

    Returns
    -------
    array of shape (n, 2)
        Change of area for each corner moved by a metre east and north; the sum of all
        is nought, since moving the whole ring changes nothing. [m]

    Raises
    ------
    None
        Any ring has an area.

    References
    ----------
    Our own derivation: A = ½ ∑ (xᵢ yᵢ₊₁ - xᵢ₊₁ yᵢ), so ∂A/∂xᵢ = (yᵢ₊₁ - yᵢ₋₁)/2 and
    ∂A/∂yᵢ = (xᵢ₋₁ - xᵢ₊₁)/2.
    """
    across = np.roll(corners, -1, axis=0) - np.roll(corners, 1, axis=0)
    return np.column_stack((across[:, 1], -across[:, 0])) / 2


def area_sigma_m2(outline: BaseGeometry, *, sigma_m: float, scale_share: float = 0.0) -> float:
    """Standard deviation of the area inside an outline.

    Parameters
    ----------
    outline : BaseGeometry
        Areas, valid; holes count. [m]
    sigma_m : float
        Standard deviation of a corner along either axis, >= 0. [m]
    scale_share : float
        Standard deviation of a scale common to all lengths, as a share, >= 0. [-]

    Returns
    -------
    float
        Standard deviation; it holds while errors are small against the sides. [m²]

    Raises
    ------
    Refused
        If an error is negative or not a finite number.

    References
    ----------
    Our own derivation: errors of corners are independent, so their variances add,
    s_A = s/2 √(∑ |pᵢ₊₁ - pᵢ₋₁|²); an area grows by twice a small share of its lengths.
    """
    require_not_negative(sigma_m=sigma_m, scale_share=scale_share)
    variances = (
        corner_variances_m4(ring, sigma_m) for ring in corners_of(outline, sigma_m=sigma_m)
    )
    of_corners = math.fsum(float(variance.sum()) for variance in variances)
    return math.hypot(math.sqrt(of_corners), 2 * scale_share * outline.area)


def corner_variances_m4(corners: Floats, sigma_m: float) -> Floats:
    """What each corner adds to the variance of an area.

    Parameters
    ----------
    corners : array of shape (n, 2)
        Corners of a ring, not closed. [m]
    sigma_m : float
        Standard deviation of a corner along either axis, >= 0. [m]

    Returns
    -------
    array of shape (n,)
        Variances. [m⁴]

    Raises
    ------
    None
        The caller has checked the error.

    References
    ----------
    Our own derivation, see ``area_gradient_m``.
    """
    variances: Floats = sigma_m**2 * (area_gradient_m(corners) ** 2).sum(axis=1)
    return variances


def treatable_spread(turf: Sequence[Measured], removed: Sequence[Measured]) -> Spread:
    """The spread of the area that is left when shapes are taken out of turf.

    The variances of the turf and of what is taken out are added, each of the latter by
    the share of its border that lies inside the turf. That is on the safe side: where
    shapes overlap, or cover a border of the turf, they are counted as if they did not.

    Parameters
    ----------
    turf : sequence of Measured
        The turf. [m]
    removed : sequence of Measured
        Obstacles and no-spray zones; a zone is placed as well as its feature. [m]

    Returns
    -------
    Spread
        The spread of the treatable area, its parts in the order given. [m²]

    Raises
    ------
    None
        Outlines and errors were checked when they were made.

    References
    ----------
    Our own derivation: variances of independent errors add; borders that are all too
    far out may take as much as they are long times how far they are out.
    """
    ground = union_of(shape.outline for shape in turf)
    return Spread(
        parts=(
            *(_spread_of(shape, shape.outline.length, shape.outline.area) for shape in turf),
            *(_spread_inside(shape, ground) for shape in removed),
        )
    )


def _spread_inside(shape: Measured, ground: BaseGeometry) -> PartSpread:
    border_m = shape.outline.boundary.intersection(ground).length
    return _spread_of(shape, border_m, cut(shape.outline, ground)[0].area)


def _spread_of(shape: Measured, border_m: float, area_m2: float) -> PartSpread:
    position = shape.position
    share = border_m / shape.outline.length if border_m else 0.0
    return PartSpread(
        ref=shape.ref,
        corner_variance_m4=share * area_sigma_m2(shape.outline, sigma_m=position.sigma_m) ** 2,
        scale_variance_m4=(2 * position.scale_share * area_m2) ** 2,
        bias_m2=position.bias_m * border_m,
    )


def _rings(outline: BaseGeometry) -> Iterator[Floats]:
    for area in shapely.get_parts(np.array([polygons_of(outline)])).tolist():
        for ring in (area.exterior, *area.interiors):
            yield shapely.get_coordinates(ring)[:-1]


def _corners_of_ring(ring: Floats, sigma_m: float) -> Floats:
    """The corners of a ring, begun at a true one, counter-clockwise, however it was drawn."""
    area = shapely.orient_polygons(Polygon(ring))
    points = shapely.get_coordinates(area)[:-1]
    from_middle = points - shapely.get_coordinates(area.centroid)
    first = int(np.argmax((from_middle**2).sum(axis=1)))
    begun = Polygon(np.roll(points, -first, axis=0))
    return shapely.get_coordinates(begun.simplify(sigma_m, preserve_topology=True))[:-1]
