"""Shapes as a hand would trace them: straight runs, smooth runs, circles, strips.

A corner is ``[x, y]``; ``[x, y, "~"]`` is a point that the outline passes in a
smooth bend. Any unit of length: what goes in comes out.
"""

import math
from collections.abc import Sequence
from typing import Any

import numpy as np
import numpy.typing as npt
import shapely
from shapely import LineString, MultiPoint, Point, Polygon
from shapely.geometry.base import BaseGeometry

Floats = npt.NDArray[np.float64]
_STEPS = 5  # corners from one smooth point to the next
_CIRCLE_CORNERS = 32


def traced(form: dict[str, Any]) -> BaseGeometry:
    """Trace the one form that an entry of the scenario names."""
    trace = next(TRACES[word] for word in TRACES if word in form)
    return shapely.orient_polygons(trace(form))


def _area(form: dict[str, Any]) -> Polygon:
    holes = [_bent(hole, closed=True) for hole in form.get("holes", [])]
    return Polygon(_bent(form["area"], closed=True), holes)


def _rect(form: dict[str, Any]) -> Polygon:
    west, south, east, north = form["rect"]
    return Polygon([(west, south), (east, south), (east, north), (west, north)])


def _circle(form: dict[str, Any]) -> Polygon:
    x, y, radius = form["circle"]
    turns = [2 * math.pi * step / _CIRCLE_CORNERS for step in range(_CIRCLE_CORNERS)]
    return Polygon([(x + radius * math.cos(a), y + radius * math.sin(a)) for a in turns])


def _strip(form: dict[str, Any]) -> BaseGeometry:
    middle = LineString(_bent(form["strip"], closed=False))
    return middle.buffer(form["width"] / 2, cap_style="flat", join_style="mitre")


def _line(form: dict[str, Any]) -> LineString:
    return LineString(_bent(form["line"], closed=False))


def _point(form: dict[str, Any]) -> Point:
    return Point(form["point"])


def _points(form: dict[str, Any]) -> MultiPoint:
    return MultiPoint(form["points"])


TRACES = {
    "area": _area,
    "rect": _rect,
    "circle": _circle,
    "strip": _strip,
    "line": _line,
    "point": _point,
    "points": _points,
}


def _bent(corners: Sequence[Sequence[Any]], *, closed: bool) -> list[tuple[float, float]]:
    """Every corner, with more of them where the outline bends."""
    xy = np.array([corner[:2] for corner in corners], dtype=float)
    smooth = [len(corner) > 2 for corner in corners]
    count = len(xy)
    traced_corners: list[tuple[float, float]] = []
    for start in range(count if closed else count - 1):
        end = (start + 1) % count
        traced_corners.append((float(xy[start, 0]), float(xy[start, 1])))
        if smooth[start] or smooth[end]:
            before = xy[start - 1] if smooth[start] and (closed or start) else xy[start]
            after = (
                xy[(end + 1) % count] if smooth[end] and (closed or end + 1 < count) else xy[end]
            )
            bend = _bend(before, xy[start], xy[end], after)
            traced_corners += [(float(x), float(y)) for x, y in bend]
    if not closed:
        traced_corners.append((float(xy[-1, 0]), float(xy[-1, 1])))
    return traced_corners


def _bend(before: Floats, start: Floats, end: Floats, after: Floats) -> Floats:
    """Corners between two points, on the cubic through them whose slopes look to the next ones.

    Catmull, E. and Rom, R. (1974), A class of local interpolating splines, in
    Computer Aided Geometric Design, Academic Press: the member with tension 1/2.
    """
    t = (np.arange(1, _STEPS) / _STEPS)[:, np.newaxis]
    bent: Floats = 0.5 * (
        2 * start
        + (end - before) * t
        + (2 * before - 5 * start + 4 * end - after) * t**2
        + (3 * start - before - 3 * end + after) * t**3
    )
    return bent
