"""Closed rings as plain numbers, one after another: what is swept, and what is left of it.

Lengths in metres. A ring that is wound counter-clockwise adds a turn about its ground, one
that is wound clockwise takes one off.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np
import shapely

from properties.core.frame import Counts, Flags, Floats, Shapes


@dataclass(frozen=True)
class Rings:
    """Rings without their closing corner: how many corners each has, and whose each is."""

    corners: Floats
    counts: Counts
    owner: Counts

    @cached_property
    def starts(self) -> Counts:
        """The number of the first corner of each."""
        starts: Counts = self.counts.cumsum() - self.counts
        return starts

    @cached_property
    def after(self) -> Counts:
        """The number of the corner after each corner."""
        after = np.arange(1, len(self.corners) + 1, dtype=np.intp)
        after[self.starts + self.counts - 1] = self.starts
        return after

    @cached_property
    def areas_m2(self) -> Floats:
        """The area of each, above zero if it is wound counter-clockwise."""
        if not len(self.counts):
            return np.empty(0)
        # Round the first corner of each, so that far from the origin no digits are lost.
        x, y = (self.corners - self.corners[self.starts.repeat(self.counts)]).T
        twice = np.zeros(len(x))
        np.subtract(x[:-1] * y[1:], x[1:] * y[:-1], out=twice[:-1])
        # The side from the last corner of a ring to the first of the next belongs to neither.
        twice[self.starts[1:] - 1] = 0
        return np.asarray(np.add.reduceat(twice, self.starts) / 2)

    @cached_property
    def boxes(self) -> Floats:
        """West, south, east and north of each."""
        if not len(self.counts):
            return np.empty((0, 4))
        return np.column_stack(
            (
                np.minimum.reduceat(self.corners, self.starts),
                np.maximum.reduceat(self.corners, self.starts),
            )
        )

    def of(self, owner: Counts) -> "Rings":
        """The same rings as somebody else's."""
        return self._taught(Rings(self.corners, self.counts, owner), slice(None))

    def only(self, which: Flags) -> "Rings":
        """Some of them."""
        if which.all():
            return self
        corners = self.corners[which.repeat(self.counts)]
        return self._taught(Rings(corners, self.counts[which], self.owner[which]), which)

    def turned_back(self) -> "Rings":
        """The same outlines, each wound the other way, the last first."""
        return Rings(np.ascontiguousarray(self.corners[::-1]), self.counts[::-1], self.owner[::-1])

    def wound(self, left: Flags) -> "Rings":
        """The same outlines, some wound counter-clockwise and the rest clockwise."""
        wrong = left != (self.areas_m2 > 0)
        if not wrong.any():
            return self
        back = wrong.repeat(self.counts)
        number = np.arange(len(self.corners))
        ends = (2 * self.starts + self.counts - 1).repeat(self.counts)
        return Rings(self.corners[np.where(back, ends - number, number)], self.counts, self.owner)

    def _taught(self, others: "Rings", which: Flags | slice) -> "Rings":
        """Others that are some of these, with what has been worked out already."""
        known = vars(self)
        vars(others).update(
            {name: known[name][which] for name in ("areas_m2", "boxes") if name in known}
        )
        return others

    def as_shapes(self) -> Shapes:
        """The rings as shapes."""
        which = np.arange(len(self.counts)).repeat(self.counts)
        return np.asarray(shapely.linearrings(self.corners, indices=which), dtype=object)


def joined(some: Sequence[Rings]) -> Rings:
    """Put rings one after another.

    Parameters
    ----------
    some : Sequence of Rings
        The rings, one group at least. [m]

    Returns
    -------
    Rings
        All of them. [m]

    Raises
    ------
    None
        Any rings can be put together.

    References
    ----------
    Our own derivation.
    """
    some = [one for one in some if len(one.counts)] or list(some[:1])
    if len(some) == 1:
        return some[0]
    return Rings(
        np.concatenate([one.corners for one in some]),
        np.concatenate([one.counts for one in some]),
        np.concatenate([one.owner for one in some]),
    )


def meet(boxes: Floats, others: Floats) -> Flags:
    """Which boxes meet.

    Parameters
    ----------
    boxes, others : arrays of shape (n, 4)
        West, south, east and north of each. [m]

    Returns
    -------
    array of bool
        Whether each meets the other of the same number. [-]

    Raises
    ------
    None
        Any boxes will do.

    References
    ----------
    Our own derivation.
    """
    both: Flags = np.all((boxes[:, :2] <= others[:, 2:]) & (boxes[:, 2:] >= others[:, :2]), axis=1)
    return both


def are_first(part: Counts) -> Flags:
    """Which rings are the first of their part: the outer ones, for holes come after.

    Parameters
    ----------
    part : array of int
        The part of each ring, in order. [-]

    Returns
    -------
    array of bool
        Whether each is. [-]

    Raises
    ------
    None
        Any parts will do.

    References
    ----------
    Open Geospatial Consortium (2011), Simple feature access, part 1, section 6.1.11.
    """
    first = np.ones(len(part), dtype=bool)
    first[1:] = part[1:] != part[:-1]
    return first


def rings_drawn(corners: Floats, *, ring: Counts, owner: Counts, is_outer: Flags) -> Rings:
    """Take the closing corner and repeated corners from rings, and wind them.

    Parameters
    ----------
    corners : array of shape (n, 2)
        Corners of one ring after another, each with its first corner again at its end. [m]
    ring : array of int
        The number of the ring of each corner, in order. [-]
    owner : array of int
        Whose each ring is. [-]
    is_outer : array of bool
        Whether each goes round an area, to be wound counter-clockwise, or is a hole. [-]

    Returns
    -------
    Rings
        The rings; none that has no area. [m]

    Raises
    ------
    None
        Any rings will do.

    References
    ----------
    Our own derivation.
    """
    keeps = np.zeros(len(corners), dtype=bool)
    # A ring ends where it started.
    keeps[:-1] = (ring[1:] == ring[:-1]) & (corners[1:] != corners[:-1]).any(axis=1)
    counts = np.bincount(ring[keeps], minlength=len(owner))
    some = counts > 2
    keeps &= some[ring]
    return Rings(corners[keeps], counts[some], owner[some]).wound(is_outer[some])


def areas_of(rings: Rings, *, number: int) -> Shapes:
    """The grounds that some rings enclose, with their holes.

    Parameters
    ----------
    rings : Rings
        Outer outlines counter-clockwise, holes clockwise, none across another; the owner
        of each is the number of its ground, in order. [m]
    number : int
        How many grounds. [-]

    Returns
    -------
    array of MultiPolygon
        The grounds; nothing where there is no ring, or a hole is in no outline. [m]

    Raises
    ------
    None
        Where rings make no ground there is none.

    References
    ----------
    Our own derivation: a hole lies in the smallest outline of its ground round it.
    """
    grounds = np.full(number, None, dtype=object)
    if not len(rings.counts):
        return grounds
    lines = rings.as_shapes()
    is_outer = rings.areas_m2 > 0
    (outer,), (holes,) = is_outer.nonzero(), (~is_outer).nonzero()
    shells = np.array([_shell_of(hole, rings, lines, outer) for hole in holes.tolist()], np.intp)
    found = shells >= 0
    polygon = np.concatenate((np.arange(len(outer)), shells[found]))
    order = polygon.argsort(kind="stable")
    every = lines[np.concatenate((outer, holes[found]))[order]]
    polygons = shapely.polygons(every, indices=polygon[order])
    shapely.multipolygons(
        np.asarray(polygons, dtype=object), indices=rings.owner[outer], out=grounds
    )
    grounds[rings.owner[holes[~found]]] = None
    return grounds


def _shell_of(hole: int, rings: Rings, lines: Shapes, outer: Counts) -> int:
    """Which outer outline a hole lies in; below zero if in none."""
    (around,) = (rings.owner[outer] == rings.owner[hole]).nonzero()
    if len(around) > 1:
        middle = rings.corners[rings.starts[hole] :][:2].mean(axis=0)
        shells = shapely.polygons(lines[outer[around]])
        around = around[shapely.intersects_xy(shells, *middle)]
    return int(around[rings.areas_m2[outer[around]].argmin()]) if len(around) else -1
