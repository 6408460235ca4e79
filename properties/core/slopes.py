"""Ground on a slope is larger than its map: by how much, and where.

Plane areas in m² come from the frame; a label rate meets the area on the ground.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass

from shapely.geometry.base import BaseGeometry

from properties.core.plane import Area, cut, union_of
from properties.core.units import Dimension, Quantity


def slope_factor(slope: Quantity | None) -> float:
    """How much larger ground on a slope is than on the map.

    Parameters
    ----------
    slope : Quantity or None
        Rise over run as a share, or the angle with the horizontal, from 0 to
        below 90 deg; nothing for level ground. [% or degree]

    Returns
    -------
    float
        Area on the ground over area on the map, >= 1. [m²/m²]

    Raises
    ------
    None
        The slope was checked when the drawing was read.

    References
    ----------
    Our own derivation: a slope stretches one direction by 1/cos of its angle,
    which is sqrt(1 + s²) for a rise s over a run of one.
    """
    if slope is None:
        return 1.0
    if slope.dimension is Dimension.ANGLE:
        return 1 / math.cos(math.radians(slope.si))
    return math.hypot(1, slope.si)


@dataclass(frozen=True)
class SlopedGround:
    """Turf cut into pieces of one slope each, the gentler slope where two overlap."""

    pieces: tuple[tuple[float, Area], ...]

    @property
    def area_m2(self) -> float:
        """Area of all turf on the ground."""
        return math.fsum(factor * ground.area for factor, ground in self.pieces)

    def area_of(self, geometry: BaseGeometry) -> float:
        """Area on the ground of a part of the turf."""
        areas_m2 = []
        left = geometry
        for factor, ground in self.pieces[:-1]:
            inside, left = cut(left, ground)
            areas_m2.append(factor * inside.area)
        steepest = self.pieces[-1][0] if self.pieces else 1.0
        return math.fsum((*areas_m2, steepest * left.area))


def sloped_ground(
    turf: Sequence[tuple[float, BaseGeometry]],
) -> tuple[SlopedGround, float]:
    """Cut turf into pieces of one slope each.

    Parameters
    ----------
    turf : Sequence of tuple
        Slope factor and ground of each turf shape. [m²/m² and m]

    Returns
    -------
    tuple
        The pieces, and how much ground lay under two different slopes. [m²]

    Raises
    ------
    None
        Any turf will do.

    References
    ----------
    Our own derivation: the gentler slope gives the smaller area, so never more
    product than the label allows.
    """
    pieces: list[tuple[float, Area]] = []
    contested_m2 = 0.0
    for factor in sorted({factor for factor, _ in turf}):
        ground = union_of(shape for one, shape in turf if one == factor)
        gentler = union_of(piece for _, piece in pieces)
        shared, alone = cut(ground, gentler)
        contested_m2 += shared.area
        pieces.append((factor, alone))
    return SlopedGround(tuple(pieces)), contested_m2
