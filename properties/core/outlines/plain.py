"""Outlines in which nothing is wrong, found all in one pass; the rest is left to ``cleaning``.

Metres, on the flat map round each outline's first corner.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import shapely
from shapely import Polygon

from properties.core.features import Role
from properties.core.frame import Counts, Flags, Floats, Shapes
from properties.core.outlines.cleaning import SLIVER_WIDTH_M
from properties.core.outlines.draft import Draft
from properties.core.outlines.flat_map import METRES_PER_DEGREE
from properties.core.outlines.mending import LEAST_M2
from properties.core.outlines.positions import Outline
from properties.core.outlines.rings import SAME_CORNER_M, SPIKE_COSINE, SPIKE_EDGE_M


def plain_areas(placed: Sequence[tuple[Draft, Outline]]) -> dict[int, Polygon]:
    """The areas among some outlines that need neither mending nor a word about them.

    Parameters
    ----------
    placed : Sequence of tuple
        Each draft that has an outline, with it. [degree]

    Returns
    -------
    dict
        Areas that are the same as ``cleaned`` gives without a note, by the number of their
        outline; none for an outline that may need more than a look. [degree]

    Raises
    ------
    None
        What cannot be done here is left to ``cleaned``.

    References
    ----------
    Our own derivation.
    """
    chosen = [
        (number, draft.kind.role, outline.parts[0][0])
        for number, (draft, outline) in enumerate(placed)
        if draft.kind is not None and _is_one_ring(outline)
    ]
    if not chosen:
        return {}
    numbers, roles, lines = zip(*chosen, strict=True)
    rings = _Rings.of(lines)
    on_map = rings.areas()
    is_plain = rings.are_plain(np.array([LEAST_M2[Role(role)] for role in roles]))
    # The flat map only stretches degrees, so what crosses there crosses here.
    is_plain &= shapely.is_valid(on_map)
    return {numbers[index]: on_map[index] for index in np.flatnonzero(is_plain).tolist()}


def _is_one_ring(outline: Outline) -> bool:
    return outline.type == "Polygon" and len(outline.parts[0]) == 1 and len(outline.parts[0][0]) > 3


@dataclass(frozen=True)
class _Rings:
    """Rings one after another, each with its first corner again at its end."""

    lonlat: Floats
    xy: Floats
    which: Counts
    first: Counts
    last: Counts

    @classmethod
    def of(cls, lines: Sequence[Floats]) -> "_Rings":
        """Rings as drawn, each on the flat map round its own first corner."""
        corners = np.array([len(line) for line in lines])
        lonlat = np.concatenate(lines)
        last = np.cumsum(corners) - 1
        first = last - corners + 1
        which = np.repeat(np.arange(len(lines)), corners)
        start = lonlat[first]
        stretch = np.full_like(start, METRES_PER_DEGREE)
        stretch[:, 0] *= np.cos(np.radians(start[:, 1]))
        return cls(lonlat, (lonlat - start[which]) * stretch[which], which, first, last)

    def areas(self) -> Shapes:
        """The areas that they enclose."""
        lines = shapely.linearrings(self.lonlat, indices=self.which)
        return np.asarray(shapely.polygons(lines), dtype=object)

    def are_plain(self, least_m2: Floats) -> Flags:
        """Which are closed, run counter-clockwise, have no repeated corner, hair or spike."""
        x, y = self.xy.T
        after = np.arange(1, len(x) + 1)
        # At the end of a ring its first side comes again.
        after[self.last] = self.first + 1
        east, north = x[after] - x, y[after] - y
        length = np.hypot(east, north)
        around_m = np.add.reduceat(length, self.first) - length[self.last]
        area_m2 = np.add.reduceat(x * y[after] - x[after] * y, self.first) / 2
        turns_back = east * east[after] + north * north[after] < SPIKE_COSINE * (
            length * length[after]
        )
        is_spike = turns_back & (np.minimum(length, length[after]) > SPIKE_EDGE_M)
        is_plain = (self.lonlat[self.first] == self.lonlat[self.last]).all(axis=1)
        is_plain &= np.minimum.reduceat(length, self.first) > SAME_CORNER_M
        is_plain &= (area_m2 >= least_m2) & (2 * area_m2 >= SLIVER_WIDTH_M * around_m)
        # Far from its first corner only a ring across the 180th meridian can be.
        beyond = np.maximum.reduceat(np.abs(x), self.first) > _FARTHEST_M
        plain: Flags = is_plain & ~np.logical_or.reduceat(is_spike, self.first) & ~beyond
        return plain


#: No property is as wide.
_FARTHEST_M = 100_000.0
