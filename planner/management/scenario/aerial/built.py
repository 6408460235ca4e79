"""What stands on the ground and has a hard edge: roofs, cars, headstones, hives."""

import math
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
import numpy.typing as npt
import shapely
from shapely import Point, Polygon
from shapely.affinity import rotate, translate
from shapely.geometry.base import BaseGeometry

from planner.management.scenario.aerial.canvas import (
    Canvas,
    Colour,
    Pixels,
    areas_of,
    long_axis_deg,
    rgb,
    textured,
)
from planner.management.scenario.scene import Thing

Floats = npt.NDArray[np.float64]
ROOFS = {
    "slate": rgb(116, 120, 128),
    "brown": rgb(140, 116, 98),
    "red": rgb(156, 112, 94),
    "grey": rgb(148, 146, 140),
    "metal": rgb(172, 178, 180),
    "lead": rgb(150, 155, 158),
}
CARS = {
    "white": rgb(224, 224, 220),
    "blue": rgb(70, 92, 122),
    "red": rgb(146, 60, 52),
    "grey": rgb(140, 142, 144),
}
#: The sun stands in the south-east: where its light comes from, east and north.
SUN = (0.5, -0.866)
_COURSE_M = 0.32
_FAR_M = np.float32(1e4)


def paint_roof(canvas: Canvas, thing: Thing) -> None:
    """A roof whose faces rise from its edges, each lit as it lies to the sun."""
    window = canvas.window(thing.geometry, around_m=0.4)
    mask = canvas.mask(thing.geometry, window, soft_m=0.02)
    if not mask.size:
        return
    east, north = canvas.metres(window)
    tone = next((ROOFS[word] for word in thing.look.split() if word in ROOFS), ROOFS["grey"])
    edges = _eaves(thing.outline, gabled="gabled" in thing.look)
    away, light = _faces(edges, east, north)
    courses = np.where(
        np.sin(2 * math.pi / _COURSE_M * away) > 0.7, np.float32(-0.05), np.float32(0.012)
    )
    flat = "lead" in thing.look or "metal" in thing.look
    roof = textured(
        tone,
        light * np.float32(0.45 if flat else 1.0),
        courses * np.float32(0.4 if flat else 1.0),
        0.02 * canvas.broad[window],
        0.025 * canvas.fine[window],
    )
    canvas.lay(roof, mask, window)
    rim = mask - canvas.mask(thing.geometry.buffer(-0.14, join_style="mitre"), window)
    canvas.lay(rgb(206, 202, 194), np.clip(rim, 0, 1) * np.float32(0.45), window)
    if "chimney" in thing.look:
        _chimney(canvas, thing.outline)


@dataclass(frozen=True)
class Eave:
    """An edge that a roof face rises from, and how it spreads into a valley at its ends.

    Where the outline turns inwards two faces meet in a valley, so each goes on
    past its end by the tangent of half the turn for every metre from the eave.
    """

    start: Floats
    end: Floats
    spread: tuple[float, float]

    @property
    def along(self) -> Floats:
        """One metre along the eave."""
        step: Floats = (self.end - self.start) / np.linalg.norm(self.end - self.start)
        return step


def _eaves(outline: Polygon, *, gabled: bool) -> list[Eave]:
    """The edges that roof faces rise from; a gable is an edge where none does."""
    corners = shapely.get_coordinates(shapely.orient_polygons(outline).exterior)[:-1]
    ends = np.roll(corners, -1, axis=0)
    turns = [
        _turn(*corner) for corner in zip(np.roll(corners, 1, axis=0), corners, ends, strict=True)
    ]
    valleys = [math.tan(max(-turn, 0.0) / 2) for turn in turns]
    eaves = [
        Eave(start, end, (valleys[at], valleys[(at + 1) % len(valleys)]))
        for at, (start, end) in enumerate(zip(corners, ends, strict=True))
    ]
    if not gabled:
        return eaves
    ridge = math.radians(long_axis_deg(outline))
    across = np.array([-math.sin(ridge), math.cos(ridge)])
    return [eave for eave in eaves if abs(eave.along @ across) < 0.5]


def _turn(before: Floats, corner: Floats, after: Floats) -> float:
    """How far the outline turns left at a corner, in radians."""
    (ax, ay), (bx, by) = corner - before, after - corner
    return math.atan2(ax * by - ay * bx, ax * bx + ay * by)


def _faces(eaves: list[Eave], east: Pixels, north: Pixels) -> tuple[Pixels, Pixels]:
    """Metres from the nearest eave, and the light on the face that rises from it."""
    away = np.full(east.shape, _FAR_M, dtype=np.float32)
    light = np.zeros(east.shape, dtype=np.float32)
    for eave in eaves:
        x, y = (float(step) for step in eave.along)
        dx, dy = east - float(eave.start[0]), north - float(eave.start[1])
        along, inwards = dx * x + dy * y, dy * x - dx * y
        length = float(np.linalg.norm(eave.end - eave.start))
        before = -along - eave.spread[0] * np.maximum(inwards, 0)
        beyond = along - length - eave.spread[1] * np.maximum(inwards, 0)
        reaches = (inwards > -0.3) & (before <= 0.01) & (beyond <= 0.01)
        distance = np.where(reaches, np.abs(inwards), _FAR_M)
        nearer = distance < away - 1e-3
        away = np.where(nearer, distance, away).astype(np.float32)
        light = np.where(nearer, np.float32(0.17 * (y * SUN[0] - x * SUN[1])), light)
    return away, light


def _chimney(canvas: Canvas, outline: Polygon) -> None:
    centre = shapely.maximum_inscribed_circle(outline).coords[0]
    stack = rotate(shapely.box(-0.45, -0.35, 0.45, 0.35), long_axis_deg(outline), origin=(0, 0))
    placed = translate(stack, centre[0] + 1.0, centre[1] + 0.4)
    cast_shadow(canvas, [(placed, 1.2)])
    for part, tone in ((placed, rgb(150, 106, 88)), (placed.buffer(-0.18), rgb(58, 52, 48))):
        window = canvas.window(part)
        canvas.lay(tone, canvas.mask(part, window), window)


def cast_shadow(
    canvas: Canvas, standing: list[tuple[Polygon, float]], soft_m: float = 0.16
) -> None:
    """Darken the ground behind everything that stands, counted once where shadows cross."""
    shadows = [shadow_of(outline, height_m) for outline, height_m in standing]
    if not shadows:
        return
    dark = shapely.union_all(shadows)
    window = canvas.window(dark, around_m=1)
    mask = canvas.mask(dark, window, soft_m=soft_m)
    canvas.dim(mask, window, to=(0.56, 0.58, 0.66))


def shadow_of(outline: Polygon, height_m: float) -> BaseGeometry:
    """The ground that a block of this height keeps the sun from (sun 52 degrees high)."""
    reach = height_m / math.tan(math.radians(52))
    steps = max(2, int(reach / 0.5))
    moved = [
        translate(outline, -SUN[0] * reach * step / steps, -SUN[1] * reach * step / steps)
        for step in range(steps + 1)
    ]
    hulls = [a.union(b).convex_hull for a, b in pairwise(moved)]
    swept = hulls if outline.equals(outline.convex_hull) else moved
    return shapely.union_all(swept)


def paint_car(canvas: Canvas, thing: Thing) -> None:
    """A car: body, windscreens, roof."""
    body = thing.geometry.buffer(-0.35, join_style="round").buffer(0.35)
    middle = body.centroid
    turn = long_axis_deg(thing.geometry)
    cabin = rotate(shapely.box(-1.35, -0.72, 1.0, 0.72), turn, origin=(0, 0))
    roof = rotate(shapely.box(-0.75, -0.62, 0.45, 0.62), turn, origin=(0, 0))
    tone = CARS[thing.look.split()[-1]]
    parts: list[tuple[Polygon, Colour]] = [
        (body, tone),
        (translate(cabin, middle.x, middle.y).buffer(-0.1).buffer(0.1), rgb(56, 62, 68)),
        (translate(roof, middle.x, middle.y), tone),
    ]
    for part, paint in parts:
        window = canvas.window(part)
        canvas.lay(paint, canvas.mask(part, window, soft_m=0.03), window)


def paint_headstones(canvas: Canvas, thing: Thing) -> None:
    """Rows of headstones in uneven lines, some missing."""
    turn = long_axis_deg(thing.geometry)
    for area in areas_of(thing.geometry.buffer(-0.6)):
        level = rotate(area, -turn, origin=(0, 0))
        west, south, east, north = level.bounds
        for x in np.arange(west + 0.4, east, 1.75):
            for y in np.arange(south + 0.4, north, 2.5):
                _headstone(canvas, level, (x, y), turn)


def _headstone(canvas: Canvas, level: Polygon, spot: tuple[float, float], turn: float) -> None:
    x, y = np.asarray(spot) + canvas.chance.normal(0, 0.16, 2)
    tilt, pale, missing = (
        canvas.chance.normal(0, 4),
        canvas.chance.normal(0, 0.05),
        canvas.chance.random(),
    )
    if missing < 0.22 or not level.contains(Point(x, y)):
        return
    stone = rotate(shapely.box(x - 0.38, y - 0.1, x + 0.38, y + 0.1), tilt)
    placed = rotate(stone, turn, origin=(0, 0))
    cast_shadow(canvas, [(placed, 0.75)], soft_m=0.05)
    window = canvas.window(placed)
    tone = tuple(share + pale for share in rgb(196, 194, 184))
    canvas.lay((tone[0], tone[1], tone[2]), canvas.mask(placed, window), window)


def paint_hives(canvas: Canvas, thing: Thing) -> None:
    """White boxes on the grass."""
    for spot in shapely.get_parts(thing.geometry).tolist():
        hive = spot.buffer(0.34, cap_style="square")
        cast_shadow(canvas, [(hive, 0.9)], soft_m=0.06)
        for part, tone in ((hive, rgb(232, 228, 214)), (hive.buffer(-0.08), rgb(214, 208, 190))):
            window = canvas.window(part)
            canvas.lay(tone, canvas.mask(part, window), window)


def paint_round_cover(canvas: Canvas, thing: Thing) -> None:
    """A well head: a ring of concrete with its lid."""
    for spot in shapely.get_parts(thing.geometry).tolist():
        for radius, tone in ((0.85, rgb(190, 186, 176)), (0.55, rgb(120, 122, 122))):
            part = spot.buffer(radius)
            window = canvas.window(part)
            canvas.lay(tone, canvas.mask(part, window), window)


def paint_grate(canvas: Canvas, thing: Thing) -> None:
    """A drain at the curb: a frame with dark slots along the street."""
    turn = thing.stripes_deg or 0.0
    for spot in shapely.get_parts(thing.geometry).tolist():
        for half, tone in (((0.6, 0.4), rgb(96, 96, 94)), ((0.5, 0.3), rgb(34, 34, 34))):
            cover = shapely.box(-half[0], -half[1], half[0], half[1])
            part = translate(rotate(cover, turn, origin=(0, 0)), spot.x, spot.y)
            window = canvas.window(part)
            canvas.lay(tone, canvas.mask(part, window), window)
