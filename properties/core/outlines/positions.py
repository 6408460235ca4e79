"""From GeoJSON coordinates to rows of longitude and latitude, or the corner that is wrong."""

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from itertools import chain
from typing import Any

import numpy as np

from properties.core.features import Role
from properties.core.frame import Floats
from properties.core.outlines.draft import Draft

AREAS = ("Polygon", "MultiPolygon")
FARTHEST_LATITUDE = 85.0
_LISTS = {list, tuple}


@dataclass(frozen=True)
class _Nesting:
    """How the lists of a geometry lie around a position (RFC 7946, section 3.1)."""

    depth: int
    parts: Callable[[Any], Any]
    path: str


NESTINGS = {
    "Point": _Nesting(0, lambda position: [[[position]]], ""),
    "MultiPoint": _Nesting(1, lambda points: [[[point]] for point in points], "[{part}]"),
    "LineString": _Nesting(1, lambda line: [[line]], "[{corner}]"),
    "MultiLineString": _Nesting(2, lambda lines: [[line] for line in lines], "[{part}][{corner}]"),
    "Polygon": _Nesting(2, lambda rings: [rings], "[{ring}][{corner}]"),
    "MultiPolygon": _Nesting(3, lambda parts: parts, "[{part}][{ring}][{corner}]"),
}


@dataclass(frozen=True)
class Outline:
    """A geometry as it was drawn: for each part its rings or its line, rows of lon and lat."""

    type: str
    parts: tuple[tuple[Floats, ...], ...]

    @property
    def corners(self) -> Floats:
        """Every corner of the outline."""
        return np.concatenate([line for part in self.parts for line in part])


def corners_in(feature: object) -> int:
    """How many corners a feature's geometry lists, counted before anything is built.

    Parameters
    ----------
    feature : object
        The feature as it came. [-]

    Returns
    -------
    int
        Number of positions; 0 for what is no geometry. [1]

    Raises
    ------
    None
        Anything can be counted.

    References
    ----------
    Butler, H. et al. (2016), The GeoJSON Format, RFC 7946, section 3.1.
    """
    geometry = feature.get("geometry") if isinstance(feature, dict) else None
    nesting = _nesting_of(geometry)
    if nesting is None or geometry is None:
        return 0
    level = [geometry["coordinates"]]
    for _ in range(nesting.depth):
        level = [inner for outer in level if isinstance(outer, list | tuple) for inner in outer]
    return len(level)


def read_outline(draft: Draft, geometry: Any) -> Outline | None:
    """Read a geometry; what is wrong with it goes to the draft.

    Parameters
    ----------
    draft : Draft
        The feature it belongs to. [-]
    geometry : Any
        The geometry as it came. [degree]

    Returns
    -------
    Outline or None
        The outline, or nothing if there is a fault. [degree]

    Raises
    ------
    None
        What is wrong is kept in the draft, so that all of it can be told at once.

    References
    ----------
    Butler, H. et al. (2016), The GeoJSON Format, RFC 7946, section 3.1.
    """
    nesting = _nesting_of(geometry)
    if nesting is None:
        draft.fault(
            ".geometry",
            f"{draft.title} has no outline that we can read.",
            f"Draw it as one of: {', '.join(NESTINGS)}.",
        )
        return None
    drawn, coordinates = geometry["type"], geometry["coordinates"]
    _check_type(draft, drawn)
    reader = _Reader(draft, nesting)
    parts = reader.parts(coordinates)
    if reader.failed:
        return None
    if reader.has_heights:
        draft.note("altitude_dropped", f"Heights in the outline of {draft.title} were left out.")
    return Outline(drawn, parts)


def _nesting_of(geometry: Any) -> _Nesting | None:
    if not isinstance(geometry, dict) or "coordinates" not in geometry:
        return None
    drawn = geometry.get("type")
    return NESTINGS.get(drawn) if isinstance(drawn, str) else None


def _check_type(draft: Draft, drawn: str) -> None:
    if draft.kind is None or draft.kind.role is Role.PROTECTED or drawn in AREAS:
        return
    draft.fault(
        ".geometry.type",
        f"{draft.title} is drawn as a {drawn}, and {draft.kind.name.lower()} has an area.",
        "Draw it as an area (Polygon or MultiPolygon).",
    )


class _Reader:
    """Reads the lines of one geometry and remembers whether all of them could be read."""

    def __init__(self, draft: Draft, nesting: _Nesting) -> None:
        self.draft = draft
        self.nesting = nesting
        self.failed = False
        self.has_heights = False

    def parts(self, coordinates: Any) -> tuple[tuple[Floats, ...], ...]:
        """The parts of the geometry, each with its lines."""
        if self.nesting.depth > 0 and not self._is_list(coordinates):
            return ()
        return tuple(
            tuple(self._line(line, part, ring) for ring, line in enumerate(lines))
            for part, lines in enumerate(self.nesting.parts(coordinates))
            if self._is_list(lines)
        )

    def _is_list(self, value: Any) -> bool:
        if isinstance(value, list | tuple) and value:
            return True
        self._fault("", "A part of the outline is empty.", "Draw it again, or delete it.")
        return False

    def _line(self, line: Any, part: int, ring: int) -> Floats:
        if not self._is_list(line):
            return np.empty((0, 2))
        rows: list[tuple[float, float]] = []
        plain = _plain_rows(line)
        if plain is not None:
            return plain
        wrong: list[tuple[int, Any]] = []
        for corner, position in enumerate(line):
            row = _row(position)
            if row is None:
                wrong.append((corner, position))
            else:
                rows.append(row)
                self.has_heights = self.has_heights or len(position) > 2
        if wrong:
            self._say_wrong(wrong, part, ring)
        return np.array(rows, dtype=float).reshape(-1, 2)

    def _say_wrong(self, wrong: Sequence[tuple[int, Any]], part: int, ring: int) -> None:
        corner, position = wrong[0]
        path = self.nesting.path.format(part=part, ring=ring, corner=corner)
        more = f" So are {len(wrong) - 1} more corners of this line." if len(wrong) > 1 else ""
        problem, remedy = _what_is_wrong(position)
        self._fault(path, problem + more, remedy)

    def _fault(self, path: str, problem: str, remedy: str) -> None:
        self.failed = True
        self.draft.fault(f".geometry.coordinates{path}", problem, remedy)


def _plain_rows(line: Sequence[Any]) -> Floats | None:
    """Longitudes and latitudes of pairs of plain numbers on the map; nothing if one is not so."""
    if not set(map(type, line)) <= _LISTS or set(map(len, line)) != {2}:
        return None
    numbers = list(chain.from_iterable(line))
    if set(map(type, numbers)) != {float}:
        return None
    # No comparison below holds for what is not a number, and the sum of any is none.
    if math.isnan(sum(numbers)) or not all(
        -farthest <= min(some) and max(some) <= farthest
        for some, farthest in ((numbers[::2], 180.0), (numbers[1::2], FARTHEST_LATITUDE))
    ):
        return None
    return np.array(numbers).reshape(-1, 2)


def _row(position: Any) -> tuple[float, float] | None:
    """Longitude and latitude of a position, or nothing if they are none."""
    if not isinstance(position, list | tuple) or len(position) < 2:
        return None
    lon, lat = _number(position[0]), _number(position[1])
    if lon is None or lat is None or abs(lon) > 180 or abs(lat) > FARTHEST_LATITUDE:
        return None
    return lon, lat


def _number(value: Any) -> float | None:
    if isinstance(value, bool) or not isinstance(value, int | float):
        return None
    try:
        number = float(value)
    except OverflowError:
        return None
    return number if math.isfinite(number) else None


def _what_is_wrong(position: Any) -> tuple[str, str]:
    if not isinstance(position, list | tuple) or len(position) < 2:
        return "A corner is not a pair of numbers.", "A corner is [longitude, latitude]."
    lon, lat = _number(position[0]), _number(position[1])
    if lon is None or lat is None:
        return (
            "A longitude or latitude is not a finite number.",
            "Write both as plain decimal degrees.",
        )
    place = f"Longitude {lon:.7g}, latitude {lat:.7g}"
    if abs(lon) <= FARTHEST_LATITUDE and 90 < abs(lat) <= 180:
        return (
            f"{place}: the two are swapped, since no latitude is beyond 90.",
            f"Longitude comes first: [{lat:.7g}, {lon:.7g}].",
        )
    remedy = (
        f"Longitudes run from -180 to 180 and latitudes from -{FARTHEST_LATITUDE:g} to "
        f"{FARTHEST_LATITUDE:g} degrees, longitude first."
    )
    return f"{place} is off the map.", remedy
