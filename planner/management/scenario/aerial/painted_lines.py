"""Lines painted on the ground: a soccer pitch, the bays of a car park."""

import math

import numpy as np
from shapely import LineString, Point, Polygon, box
from shapely.affinity import rotate, translate
from shapely.geometry.base import BaseGeometry

from planner.management.scenario.aerial.canvas import Canvas, rgb
from planner.management.scenario.scene import Thing

_WHITE = rgb(226, 228, 218)
_YARD_M = 0.9144
_BAY_M = 2.75


def paint_pitch_lines(canvas: Canvas, thing: Thing) -> None:
    """The lines of a soccer pitch whose corners the thing has, and its goals."""
    corner, along, _, up = (np.array(xy) for xy in thing.outline.exterior.coords[:4])
    length_m, width_m = float(np.linalg.norm(along - corner)), float(np.linalg.norm(up - corner))
    turn = math.degrees(math.atan2(along[1] - corner[1], along[0] - corner[0]))
    for line in pitch_lines(length_m=length_m, width_m=width_m):
        _paint(canvas, translate(rotate(line, turn, origin=(0, 0)), *corner), share=0.9)


def pitch_lines(*, length_m: float, width_m: float) -> list[BaseGeometry]:
    """The lines of a pitch in metres from its corner, the goals as boxes behind its ends.

    International Football Association Board, Laws of the Game, Law 1, The Field
    of Play: areas, marks, circle and goals in yards.
    """
    middle = width_m / 2
    centre = Point(length_m / 2, middle)
    half = [
        *(_before_goal(deep, wide, middle).exterior for deep, wide in ((18, 44), (6, 20))),
        _circle(Point(12 * _YARD_M, middle)).difference(_before_goal(18, 44, middle)),
        Point(12 * _YARD_M, middle).buffer(0.1).exterior,
        box(-2, middle - 4 * _YARD_M, 0, middle + 4 * _YARD_M).exterior,
    ]
    return [
        box(0, 0, length_m, width_m).exterior,
        LineString([(length_m / 2, 0), (length_m / 2, width_m)]),
        _circle(centre),
        *half,
        *(rotate(line, 180, origin=centre) for line in half),
    ]


def _before_goal(deep: float, wide: float, middle_m: float) -> Polygon:
    """An area before the goal, so many yards deep and wide."""
    reach = wide * _YARD_M / 2
    return box(0, middle_m - reach, deep * _YARD_M, middle_m + reach)


def _circle(centre: Point) -> BaseGeometry:
    return centre.buffer(10 * _YARD_M, quad_segs=24).exterior


def paint_bays(canvas: Canvas, thing: Thing) -> None:
    """The bays of a car park, side by side along its first edge."""
    start, along, _, up = (np.array(xy) for xy in thing.outline.exterior.coords[:4])
    length_m = float(np.linalg.norm(along - start))
    step = (along - start) / length_m * _BAY_M
    for bay in range(int(length_m / _BAY_M) + 1):
        _paint(canvas, LineString([start + bay * step, up + bay * step]), share=0.7)


def _paint(canvas: Canvas, line: BaseGeometry, *, share: float) -> None:
    stripe = line.buffer(0.06)
    window = canvas.window(stripe)
    canvas.lay(_WHITE, canvas.mask(stripe, window) * np.float32(share), window)
