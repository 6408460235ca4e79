"""Lay the shapes of many properties out in rows, each in metres round its own property.

A row is the turf of one slope on one property, with all that is cut from it; a property
with two slopes has two rows, and the gentler turf is cut from the steeper.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from properties.core.features import Role
from properties.core.frame import Counts, Flags, Floats, Shapes, centres_at, middles_of
from properties.core.outlines import Drawing
from properties.core.slopes import slope_factor
from properties.core.sweep.rows import Rows
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
    shapes = np.array([one for each in rows for one in each.geometries], dtype=object)
    setbacks = [one for each in rows for one in each.setbacks]
    row = np.repeat(np.arange(len(rows)), [len(each.own) for each in rows])
    own = np.array([one for each in rows for one in each.own])
    factor_of_row = np.array([each.factor for each in rows])
    place_of_row = np.array([each.place for each in rows])
    in_metres = _in_metres(shapes, place_of_row[row], own > 0)
    laid = Rows(
        shapes=in_metres,
        row=row,
        is_turf=own == factor_of_row[row],
        is_valid=shapely.is_valid(in_metres),
        distance_m=np.array([one.in_frame_m if one and one.is_plain else 0.0 for one in setbacks]),
        beyond={number: one for number, one in enumerate(setbacks) if one and not one.is_plain},
        number=len(rows),
    )
    return Gathered(laid, place_of_row, factor_of_row)


def _in_metres(shapes: Shapes, place: Counts, drawn_as_turf: Flags) -> Shapes:
    """The shapes round the middle of the turf of their property."""
    lonlat, shape = shapely.get_coordinates(shapes, return_index=True)
    place_of_corner = place[shape]
    on_turf = drawn_as_turf[shape]
    corners = np.bincount(place_of_corner[on_turf], minlength=int(place[-1]) + 1)
    some = np.flatnonzero(corners)
    middles = np.full((2, len(corners)), np.nan)
    middles[:, some] = middles_of(lonlat[on_turf], corners=corners[some])
    xy = centres_at(*middles).of(place_of_corner).xy(lonlat)
    return np.asarray(shapely.set_coordinates(shapes.copy(), xy), dtype=object)
