"""Lay the shapes of many properties out in rows, each in metres round its own property.

A row is the turf of one slope on one property, with all that is cut from it; a property
with two slopes has two rows, and the gentler turf is cut from the steeper.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

import numpy as np
import shapely

from properties.core.features import Role
from properties.core.frame import Counts, Flags, Floats, Shapes, centres_at, middles_of
from properties.core.outlines import Drawing, Shape
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


#: A shape in its row: its row, whether it is turf there, whether it was drawn as turf, its setback.
_Member = tuple[int, bool, bool, Setback | None]


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
    rows: list[tuple[int, float]] = []
    shapes: list[object] = []
    members: list[_Member] = []
    for number, (drawing, setbacks) in enumerate(places):
        for factor, turf in _by_slope(drawing):
            for shape in drawing.shapes:
                own = turf.get(shape.ref)
                if own is None or own <= factor:
                    shapes.append(shape.geometry)
                    members.append(
                        (len(rows), own == factor, own is not None, setbacks.get(shape.ref))
                    )
            rows.append((number, factor))
    return _laid_out(np.array(shapes, dtype=object), members, rows)


def _by_slope(drawing: Drawing) -> Iterator[tuple[float, dict[str, float]]]:
    """Each slope factor of a drawing, the gentlest first, with the factors of all its turf."""
    turf = {shape.ref: slope_factor(shape.slope) for shape in _turf_of(drawing)}
    for factor in sorted(set(turf.values())):
        yield factor, turf


def _turf_of(drawing: Drawing) -> Iterator[Shape]:
    return (shape for shape in drawing.shapes if shape.kind.role is Role.TURF)


def _laid_out(
    shapes: Shapes, members: Sequence[_Member], rows: Sequence[tuple[int, float]]
) -> Gathered:
    row, is_turf, drawn_as_turf, _ = map(np.array, zip(*members, strict=True))
    setbacks = [member[3] for member in members]
    place_of_row = np.array([place for place, _ in rows])
    in_metres = _in_metres(shapes, place_of_row[row], drawn_as_turf)
    laid = Rows(
        shapes=in_metres,
        row=row,
        is_turf=is_turf,
        is_valid=shapely.is_valid(in_metres),
        distance_m=np.array([one.in_frame_m if one and one.is_plain else 0.0 for one in setbacks]),
        beyond={number: one for number, one in enumerate(setbacks) if one and not one.is_plain},
        number=len(rows),
    )
    return Gathered(laid, place_of_row, np.array([factor for _, factor in rows]))


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
