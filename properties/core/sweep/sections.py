"""A second opinion on swept ground: how long some lines across it run over it.

The reference engine can, where outlines run within rounding of each other, lose the
ground of a whole face without an error. These lengths are worked out from the outlines
alone, with nothing but sorting and sums. Lengths in metres.
"""

from dataclasses import dataclass

import numpy as np

from properties.core.frame import Counts, Flags, Floats
from properties.core.sweep.rings import Rings

#: So many lines cross each row's turf from west to east.
_LINES = 12
#: Where in its strip each line runs: a share that no grid of corners has.
_SHARE = (3 - 5**0.5) / 2


@dataclass(frozen=True)
class Lines:
    """Parallel lines from west to east across the turf of each row, evenly spread."""

    south_m: Floats
    spacing_m: Floats

    @property
    def heights_m(self) -> Floats:
        """How far north each line runs, row after row."""
        return (self.south_m + self.spacing_m * (np.arange(_LINES)[:, None] + _SHARE)).T.ravel()

    def shares(self, y: Floats, row: Counts) -> Floats:
        """How many spaces between lines each place lies north of the south end of its row."""
        return (y - self.south_m[row]) / self.spacing_m[row]

    def crossings(self, rings: Rings) -> "Crossings":
        """Where some rings cross the lines of their rows."""
        row = rings.owner.repeat(rings.counts)
        # How many lines lie below each corner, those of earlier rows too.
        below = np.ceil(self.shares(rings.corners[:, 1], row) - _SHARE).clip(0, _LINES)
        return _crossings(rings, row * _LINES + below.astype(np.intp), self.heights_m)


@dataclass(frozen=True)
class Crossings:
    """Points where rings cross lines: how far east, in which line, up or down, and whose."""

    x: Floats
    line: Counts
    up: Counts
    ring: Counts


def _crossings(rings: Rings, below: Counts, heights_m: Floats) -> Crossings:
    """Where rings cross lines, from the number of lines below each corner."""
    rise = below[rings.after] - below
    (side,) = rise.nonzero()
    after = rings.after[side]
    ring = rings.starts.searchsorted(side, side="right") - 1
    times = np.abs(rise[side])
    first = np.minimum(below[side], below[after])
    step = np.arange(times.sum()) - (times.cumsum() - times).repeat(times)
    line = first.repeat(times) + step
    one, other = (rings.corners[each.repeat(times)] for each in (side, after))
    share = (heights_m[line] - one[:, 1]) / (other[:, 1] - one[:, 1])
    x = one[:, 0] + share * (other[:, 0] - one[:, 0])
    return Crossings(x, line, np.sign(rise[side]).repeat(times), ring.repeat(times))


def lines_across(bounds: Floats) -> Lines:
    """Spread lines over the boxes of rows.

    Parameters
    ----------
    bounds : array of shape (n, 4)
        West, south, east and north of each row's turf; where there is none, anything. [m]

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
    south, north = np.where(bounds[:, 1] < bounds[:, 3], bounds.T[1::2], [[0.0], [1.0]])
    return Lines(south, (north - south) / _LINES)


def lengths_left_over(lines: Lines, rings: Rings, *, is_turf: Flags) -> tuple[Floats, Flags]:
    """How much of each row's lines lies within turf and outside of all that is cut from it.

    Parameters
    ----------
    lines : Lines
        The lines. [m]
    rings : Rings
        The outlines, with the row of each. One of turf adds a turn about its ground, one of
        what is cut takes a turn off; holes do the opposite. [m]
    is_turf : array of bool
        Whether each is of turf. [-]

    Returns
    -------
    tuple of arrays
        The length for each row, and whether any line crosses each ring. [m and -]

    Raises
    ------
    None
        Any rings will do.

    References
    ----------
    Our own derivation: on a line from west to east the turns about a point are the sum
    over the crossings west of it, one more for each side that runs down.
    """
    found = lines.crossings(rings)
    # Line after line, and along each from west to east: a share of one line's length at most.
    reach_m = 2 * np.abs(found.x).max(initial=1.0)
    order = np.argsort(found.line + found.x / reach_m)
    x, down, turf = found.x[order], -found.up[order], is_turf[found.ring[order]]
    # Past its last crossing a line has no turn, so the sums start afresh with the next.
    inside = np.cumsum(np.where(turf, down, 0)) > 0
    inside &= np.cumsum(np.where(turf, 0, down)) >= 0
    row = (found.line[order] // _LINES)[:-1][inside[:-1]]
    is_crossed = np.zeros(len(rings.counts), dtype=bool)
    is_crossed[found.ring] = True
    return _sums(row, np.diff(x)[inside[:-1]], len(lines.south_m)), is_crossed


def lengths_over(lines: Lines, rings: Rings) -> Floats:
    """How much of each row's lines lies in areas.

    Parameters
    ----------
    lines : Lines
        The lines. [m]
    rings : Rings
        Outlines of areas that do not overlap, with the row of each; outer ones are wound
        counter-clockwise, holes clockwise. [m]

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
    found = lines.crossings(rings)
    return _sums(found.line // _LINES, found.x * found.up, len(lines.south_m))


def hold(ground: Rings, points: Floats, *, row: Counts, lines: Lines) -> Flags:
    """Whether ground holds points.

    Parameters
    ----------
    ground : Rings
        Outlines of areas that do not overlap, with the row of each. [m]
    points : array of shape (n, 2)
        The points. [m]
    row : array of int
        The row of each. [-]
    lines : Lines
        Lines across the rows, which tell where each of them lies. [m]

    Returns
    -------
    array of bool
        Whether the ground of its row holds each. [-]

    Raises
    ------
    None
        Any ground will do.

    References
    ----------
    Our own derivation: turns about a point are a sum over the sides that cross its height
    east of it.
    """
    if not len(points):
        return np.empty(0, dtype=bool)
    # Row after row, each half as high as one step, so that what lies beyond is no other row's.
    where, whose = (
        each + (lines.shares(y, each) / (2 * _LINES)).clip(-0.2, 0.7)
        for y, each in (
            (points[:, 1], row),
            (ground.corners[:, 1], np.repeat(ground.owner, ground.counts)),
        )
    )
    order = np.argsort(where)
    points = points[order]
    found = _crossings(ground, np.searchsorted(where[order], whose), points[:, 1])
    east = found.x > points[found.line, 0]
    held = np.empty(len(points), dtype=bool)
    held[order] = np.bincount(found.line, found.up * east, minlength=len(points)) != 0
    return held


def _sums(row: Counts, lengths_m: Floats, rows: int) -> Floats:
    return np.asarray(np.bincount(row, lengths_m, minlength=rows), dtype=np.float64)
