"""Lay the shapes of many properties out in rows, each in metres round its own property.

A row is the turf of one slope on one property, with all that is cut from it; a property
with two slopes has two rows, and the gentler turf is cut from the steeper.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

import numpy as np
from shapely.geometry.base import BaseGeometry

from properties.core.features import Role
from properties.core.frame import Counts, Flags, Floats, centres_at, middles_of
from properties.core.outlines import Drawing
from properties.core.slopes import slope_factor
from properties.core.sweep import Drawn, Rows, laid_out
from properties.core.zones import Setback

Place = tuple[Drawing, Mapping[str, Setback]]


@dataclass(frozen=True)
class Gathered:
    """Rows of many properties, with the number of the property and the slope of each row."""

    rows: Rows
    place: Counts
    factor: Floats


@dataclass(frozen=True)
class _Row:
    """The turf of one slope on one property and all that is cut from it, in drawing order.

    ``own`` is the slope factor of each shape, zero if it is not turf.
    """

    place: int
    factor: float
    geometries: list[BaseGeometry]
    own: list[float]
    setbacks: list[Setback | None]


def gathered(places: Sequence[Place]) -> Gathered:
    """Lay properties out in rows.

    Parameters
    ----------
    places : Sequence of Place
        Drawings with the setbacks of their shapes, all of them checked. [degree and m]

    Returns
    -------
    Gathered
        Their shapes. [m]

    Raises
    ------
    None
        Any drawings will do; one without turf has no row.

    References
    ----------
    Our own derivation.
    """
    rows = [
        row
        for number, (drawing, setbacks) in enumerate(places)
        for row in _rows_of(number, drawing, setbacks)
    ]
    return _laid_out(rows)


def _rows_of(number: int, drawing: Drawing, setbacks: Mapping[str, Setback]) -> Iterator[_Row]:
    """A row for each slope of a property, the gentlest first."""
    turf = {
        shape.ref: slope_factor(shape.slope)
        for shape in drawing.shapes
        if shape.kind.role is Role.TURF
    }
    for factor in sorted(set(turf.values())):
        here = [shape for shape in drawing.shapes if turf.get(shape.ref, factor) <= factor]
        refs = [shape.ref for shape in here]
        yield _Row(
            number,
            factor,
            [shape.geometry for shape in here],
            [turf.get(ref, 0.0) for ref in refs],
            [setbacks.get(ref) for ref in refs],
        )


def _laid_out(rows: Sequence[_Row]) -> Gathered:
    shapes_in_row = np.array([len(each.own) for each in rows], dtype=np.intp)
    row = np.repeat(np.arange(len(rows)), shapes_in_row)
    own = np.array([one for each in rows for one in each.own], dtype=float)
    factor_of_row = np.array([each.factor for each in rows], dtype=float)
    place_of_row = np.array([each.place for each in rows], dtype=np.intp)
    drawn = Drawn(
        shapes=np.array([one for each in rows for one in each.geometries], dtype=object),
        setbacks=[one for each in rows for one in each.setbacks],
        row=row,
        is_turf=own == factor_of_row[row],
        number=len(rows),
    )
    place = place_of_row[row]

    def to_metres(lonlat: Floats, shape: Counts) -> Floats:
        return _in_metres(lonlat, place[shape], (own > 0)[shape])

    return Gathered(laid_out(drawn, to_metres), place_of_row, factor_of_row)


def _in_metres(lonlat: Floats, place: Counts, on_turf: Flags) -> Floats:
    """Corners in metres round the middle of the turf of their property."""
    corners = np.bincount(place[on_turf], minlength=int(place[-1]) + 1 if len(place) else 0)
    some = np.flatnonzero(corners)
    middles = np.full((2, len(corners)), np.nan)
    middles[:, some] = middles_of(lonlat[on_turf], corners=corners[some])
    return centres_at(*middles).of(place).xy(lonlat)
