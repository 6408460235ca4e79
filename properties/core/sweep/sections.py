"""A second opinion on swept ground: how long some lines across it run over it.

The engine that sweeps can, where outlines run within rounding of each other, lose the
ground of a whole face without an error. These lengths are worked out from the outlines
alone, with nothing but sorting and sums. Lengths in metres.
"""

from dataclasses import dataclass

import numpy as np
import shapely

from properties.core.frame import Counts, Floats, Shapes

#: So many lines cross each row's turf from west to east.
_LINES = 12
#: Where in its strip each line runs: a share that no grid of corners has.
_SHARE = (3 - 5**0.5) / 2


@dataclass(frozen=True)
class Lines:
    """Parallel lines from west to east across the turf of each row, evenly spread."""

    south_m: Floats
    spacing_m: Floats

    def crossings(self, rings: Shapes, row: Counts) -> "Crossings":
        """Where some rings cross the lines of their rows."""
        corners, ring = shapely.get_coordinates(rings, return_index=True)
        row = row[ring]
        height = (corners[:, 1] - self.south_m[row]) / self.spacing_m[row] - _SHARE
        # How many lines lie below each corner; an edge crosses those between its ends.
        below = np.ceil(height).clip(0, _LINES).astype(np.intp)
        rise = np.where(ring[1:] == ring[:-1], below[1:] - below[:-1], 0)
        edge = np.flatnonzero(rise)
        times = np.abs(rise[edge])
        start = np.minimum(below[edge], below[edge + 1])
        edge = np.repeat(edge, times)
        line = np.arange(len(edge)) - np.repeat(np.cumsum(times) - times - start, times)
        share = (line - height[edge]) / (height[edge + 1] - height[edge])
        x = corners[edge, 0] + share * (corners[edge + 1, 0] - corners[edge, 0])
        return Crossings(x, row[edge], row[edge] * _LINES + line, np.sign(rise[edge]), ring[edge])


@dataclass(frozen=True)
class Crossings:
    """Points where rings cross lines: how far east, in which row and line, up or down, whose."""

    x: Floats
    row: Counts
    line: Counts
    up: Counts
    ring: Counts


def lines_across(bounds: Floats) -> Lines:
    """Spread lines over the boxes of rows.

    Parameters
    ----------
    bounds : array of shape (n, 4)
        West, south, east and north of each row's turf. [m]

    Returns
    -------
    Lines
        The lines. [m]

    Raises
    ------
    None
        Any boxes will do.

    References
    ----------
    Our own derivation.
    """
    return Lines(bounds[:, 1], (bounds[:, 3] - bounds[:, 1]) / _LINES)


def lengths_left_over(lines: Lines, rings: Shapes, *, row: Counts, turns: Counts) -> Floats:
    """How much of each row's lines lies where outlines have more than no turn in sum.

    Parameters
    ----------
    lines : Lines
        The lines. [m]
    rings : array of LinearRing
        The outlines; each may cross itself, if it is wound counter-clockwise then. [m]
    row : array of int
        The row of each. [-]
    turns : array of int
        One for each that adds a turn about its ground, minus one where it takes one off. [-]

    Returns
    -------
    array
        The length for each row. [m]

    Raises
    ------
    None
        Any rings will do.

    References
    ----------
    Our own derivation: on a line from west to east the turns about a point are the sum
    over the crossings west of it, one more for each edge that runs down.
    """
    found = lines.crossings(rings, row)
    step = -found.up * (np.where(shapely.is_ccw(rings), 1, -1) * turns)[found.ring]
    # Line after line, and along each from west to east: a share of one line's length at most.
    reach_m = 2 * np.abs(found.x).max(initial=1.0)
    order = np.argsort(found.line + found.x / reach_m)
    x = found.x[order]
    # Past its last crossing a line has no turn, so the sum starts afresh with the next.
    inside = np.cumsum(step[order])[:-1] > 0
    row = found.row[order][:-1][inside]
    return _sums(row, np.diff(x)[inside], len(lines.south_m))


def lengths_over(lines: Lines, areas: Shapes) -> Floats:
    """How much of each row's lines lies in valid areas.

    Parameters
    ----------
    lines : Lines
        The lines. [m]
    areas : array of Polygon or MultiPolygon
        One for each row; outer outlines are wound one way, holes the other. [m]

    Returns
    -------
    array
        The length for each row. [m]

    Raises
    ------
    None
        Any areas will do.

    References
    ----------
    Our own derivation: the sum of where a line leaves less the sum of where it enters.
    """
    parts, row = shapely.get_parts(areas, return_index=True)
    rings, part = shapely.get_rings(parts, return_index=True)
    found = lines.crossings(rings, row[part])
    return np.abs(_sums(found.row, found.x * found.up, len(areas)))


def _sums(row: Counts, lengths_m: Floats, rows: int) -> Floats:
    return np.asarray(np.bincount(row, lengths_m, minlength=rows), dtype=np.float64)
