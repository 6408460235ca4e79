"""The treatable ground of many rows at once, by winding number.

Every outline of a row is one of two kinds: it adds a turn about its ground (turf; a hole
in what is cut away), or takes one off (obstacles and no-spray zones; a hole in turf).
Where turf does not overlap itself, treatable is just the ground with a turn left over.
So one sweep does for the joins and the cut together. Lengths in metres.
"""

from dataclasses import dataclass

import numpy as np

from properties.core.frame import Counts, Flags, Floats, Shapes
from properties.core.sweep.cutting import cut_away
from properties.core.sweep.engines import Engine, Swept, quickest
from properties.core.sweep.laying import Rows
from properties.core.sweep.rings import Rings, joined, meet
from properties.core.sweep.sections import (
    Lines,
    hold,
    lengths_left_over,
    lengths_over,
    lines_across,
)

#: Rounding moves a crossing less than this, even of a side that is almost level.
_SLIP_M = 1e-6


@dataclass(frozen=True)
class Ground:
    """Treatable ground of each row, whether it can be trusted, and whether anything was near."""

    swept: Swept
    is_sound: Flags
    is_cut: Flags

    @property
    def treatable(self) -> Shapes:
        """The ground of each row, missing where there is none."""
        return self.swept.grounds

    @property
    def area_m2(self) -> Floats:
        """Its area."""
        return self.swept.areas_m2


def treatable_ground(rows: Rows, *, engine: Engine | None = None) -> Ground:
    """Cut from the turf of each row what lies on it and what must be kept from.

    Parameters
    ----------
    rows : Rows
        Shapes of one property or many. [m]
    engine : Engine, optional
        What sweeps; the quickest that is installed if none is named. [-]

    Returns
    -------
    Ground
        The treatable ground of each row. It is not to be trusted where a shape is not
        valid, where the engine gave up, or where lines across the row or a point of a
        protected feature say otherwise: there it must be cut another way. [m and m²]

    Raises
    ------
    None
        Rows that fail are marked.

    References
    ----------
    Our own derivation: no-spray zones as winding numbers, see ``offsets``; turf that
    overlaps itself is joined first.
    """
    engine = engine or quickest()
    turf = rows.turf()
    boxes = _boxes(turf, rows.number)
    cut, refused = cut_away(rows, boxes)
    once, is_sound = _once(turf, rows.number, engine)
    swept = engine(joined([once, cut]), rows.number)
    is_sound &= swept.is_sound
    is_sound &= _agrees(swept, turf, cut, lines_across(boxes))
    is_sound[rows.row[~rows.is_valid]] = False
    is_sound[refused] = False
    return Ground(swept, is_sound, np.bincount(cut.owner, minlength=rows.number) > 0)


def _once(turf: Rings, number: int, engine: Engine) -> tuple[Rings, Flags]:
    """The turf of each row in outlines that do not overlap, and whether the row is sound."""
    is_sound = np.ones(number, dtype=bool)
    outer = turf.areas_m2 > 0
    found = _rows_with_boxes_that_meet(turf.boxes[outer], turf.owner[outer])
    if not len(found):
        return turf, is_sound
    meets = np.isin(turf.owner, found)
    together = engine(turf.only(meets), number)
    return joined([turf.only(~meets), together.rings]), together.is_sound


def _rows_with_boxes_that_meet(boxes: Floats, row: Counts) -> Counts:
    """The rows in which the boxes of two polygons meet; the polygons are in the order of rows."""
    found = [row[:0]]
    for apart in range(1, len(row)):
        same = row[apart:] == row[:-apart]
        if not same.any():
            break
        found.append(row[apart:][same & meet(boxes[apart:], boxes[:-apart])])
    return np.concatenate(found)


def _boxes(turf: Rings, number: int) -> Floats:
    """The box of the turf of each row; where there is none, one that nothing meets."""
    boxes = np.full((number, 4), np.inf)
    boxes[:, 2:] = -np.inf
    np.minimum.at(boxes[:, :2], turf.owner, turf.boxes[:, :2])
    np.maximum.at(boxes[:, 2:], turf.owner, turf.boxes[:, 2:])
    return boxes


def _agrees(swept: Swept, turf: Rings, cut: Rings, lines: Lines) -> Flags:
    """Whether lines across each row run over as much of the ground as the outlines say.

    Of what is cut and lies between the lines, a point is looked up.
    """
    every = joined([turf, cut])
    is_turf = np.arange(len(every.counts)) < len(turf.counts)
    told_m, is_crossed = lengths_left_over(lines, every, is_turf=is_turf)
    same: Flags = np.abs(lengths_over(lines, swept.rings) - told_m) < _SLIP_M
    missed = cut.only(~is_crossed[len(turf.counts) :] & (cut.areas_m2 < 0))
    middles = (missed.boxes[:, :2] + missed.boxes[:, 2:]) / 2
    same[missed.owner[hold(swept.rings, middles, row=missed.owner, lines=lines)]] = False
    return same
