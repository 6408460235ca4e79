"""Two engines that sweep rings by winding number and keep the ground with a turn left over.

Clipper2, which manifold3d brings along, is the quick one. It works on a grid of 10 nm, so
an outline moves by as much at most. GEOS is the reference, and does the work where the
other is not installed. Lengths in metres.
"""

from collections.abc import Callable
from contextlib import suppress
from dataclasses import dataclass
from itertools import chain

import numpy as np
import shapely
from shapely.errors import GEOSException

from properties.core.frame import Flags, Floats, Shapes
from properties.core.sweep.rings import Rings, areas_of

try:
    import manifold3d
except ImportError:  # pragma: no cover
    manifold3d = None


@dataclass(frozen=True)
class Swept:
    """What is left over, row by row, and whether the engine gave a sound answer for the row.

    Outer outlines are wound counter-clockwise, holes clockwise.
    """

    rings: Rings
    is_sound: Flags

    @property
    def areas_m2(self) -> Floats:
        """The area of each row."""
        areas_m2 = np.bincount(self.rings.owner, self.rings.areas_m2, minlength=len(self.is_sound))
        return np.asarray(areas_m2, dtype=np.float64)

    @property
    def grounds(self) -> Shapes:
        """The ground of each row as a shape; empty where nothing is left, missing if unsound."""
        return areas_of(self.rings, number=len(self.is_sound))


Engine = Callable[[Rings, int], Swept]


def swept_by_clipper(rings: Rings, number: int) -> Swept:
    """Sweep rows of rings with Clipper2, one row at a time.

    Parameters
    ----------
    rings : Rings
        The rings, with the row of each. [m]
    number : int
        How many rows. [-]

    Returns
    -------
    Swept
        Where the rings of a row have more turns one way than the other. [m]

    Raises
    ------
    None
        The engine takes any rings.

    References
    ----------
    Vatti, B. R. (1992), A generic solution to polygon clipping, Communications of the ACM
    35 (7), which Clipper2 extends to winding numbers.
    """
    rows: list[list[object]] = [[] for _ in range(number)]
    start = 0
    ends = np.cumsum(rings.counts).tolist()
    for row, end in zip(rings.owner.tolist(), ends, strict=True):
        rows[row].append(rings.corners[start:end])
        start = end
    positive = manifold3d.FillRule.Positive
    left = [manifold3d.CrossSection(row, positive).to_polygons() for row in rows]
    lines = list(chain.from_iterable(left))
    whose = np.repeat(np.arange(number), [len(one) for one in left])
    counts = np.array([len(line) for line in lines], dtype=np.intp)
    corners = np.concatenate(lines) if lines else np.empty((0, 2))
    return Swept(Rings(corners, counts, whose), np.ones(number, dtype=bool))


def swept_by_geos(rings: Rings, number: int) -> Swept:
    """Sweep rows of rings with GEOS, all in one pass.

    Parameters
    ----------
    rings : Rings
        The rings, with the row of each. [m]
    number : int
        How many rows. [-]

    Returns
    -------
    Swept
        Where the rings of a row have more turns one way than the other. No row is sound if
        the engine gives up on one. [m]

    Raises
    ------
    None
        Rows that fail are marked.

    References
    ----------
    Our own derivation: ``buffer`` with no distance counts winding numbers.
    """
    left = np.full(number, None, dtype=object)
    is_sound = np.zeros(number, dtype=bool)
    with suppress(GEOSException):
        left = shapely.orient_polygons(shapely.buffer(_stacked(rings, number), 0))
        is_sound = shapely.is_valid(left) | shapely.is_missing(left)
    parts, row = shapely.get_parts(left, return_index=True)
    lines, part = shapely.get_rings(parts, return_index=True)
    corners, ring = shapely.get_coordinates(lines, return_index=True)
    inner = np.zeros(len(ring), dtype=bool)
    inner[:-1] = ring[1:] == ring[:-1]
    counts = np.bincount(ring[inner], minlength=len(lines))
    return Swept(Rings(corners[inner], counts, row[part]), is_sound)


def _stacked(rings: Rings, number: int) -> Shapes:
    """All rings of a row in one shape: those that take a turn off as holes in the last that adds.

    Where a hole lies does not matter when winding numbers are counted. A row in which no
    ring adds has no ground.
    """
    rings = rings.only(np.isin(rings.owner, rings.owner[rings.areas_m2 > 0]))
    adds = rings.areas_m2 > 0
    order = np.lexsort((~adds, rings.owner))
    polygons = np.asarray(
        shapely.polygons(rings.as_shapes()[order], indices=np.cumsum(adds[order]) - 1),
        dtype=object,
    )
    stacked = np.full(number, None, dtype=object)
    shapely.multipolygons(polygons, indices=rings.owner[order][adds[order]], out=stacked)
    return stacked


def quickest() -> Engine:
    """The quick engine if it is installed, else the reference.

    Returns
    -------
    Engine
        What sweeps rings. [-]

    Raises
    ------
    None
        There is always one.

    References
    ----------
    Our own choice: the two agree within what the grid moves an outline.
    """
    return swept_by_geos if manifold3d is None else swept_by_clipper
