"""What grows above the grass: tree crowns, hedges, beds, vegetables, reeds."""

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt
import shapely
from PIL import Image, ImageDraw
from shapely import Point, Polygon
from shapely.geometry.base import BaseGeometry

from planner.management.scenario.aerial.built import SUN
from planner.management.scenario.aerial.canvas import Canvas, Colour, Window, areas_of, rgb
from planner.management.scenario.aerial.ground import paint_patch
from planner.management.scenario.scene import Thing

Floats = npt.NDArray[np.float64]
LEAVES = {
    "tree": rgb(98, 118, 70),
    "light": rgb(130, 144, 94),
    "dark": rgb(72, 94, 66),
    "copper": rgb(116, 76, 70),
    "blossom": rgb(198, 172, 168),
    "hedge": rgb(90, 110, 68),
    "shrubs": rgb(100, 118, 76),
    "reeds": rgb(128, 132, 82),
    "trees": rgb(98, 120, 72),
}
PLANTING = [
    rgb(84, 110, 60),
    rgb(102, 124, 72),
    rgb(72, 96, 62),
    rgb(118, 134, 96),
    rgb(96, 112, 56),
]
BLOOMS = [
    rgb(186, 96, 116),
    rgb(216, 196, 122),
    rgb(146, 118, 168),
    rgb(226, 220, 206),
    rgb(196, 116, 84),
    rgb(172, 80, 84),
]
_FINER = 2


@dataclass(frozen=True)
class Tuft:
    """A round of leaves: where, how large, how light."""

    x: float
    y: float
    radius: float
    colour: Colour


def crowns_of(thing: Thing) -> list[Polygon]:
    """The ground under the leaves: a round at each point, or the area itself."""
    if thing.crown_m:
        return [
            spot.buffer(thing.crown_m * 0.94, quad_segs=8)
            for spot in shapely.get_parts(thing.geometry).tolist()
        ]
    return areas_of(thing.geometry)


def paint_crown(canvas: Canvas, thing: Thing) -> None:
    """Leaves in tufts over the dark of the crown, lighter on top and towards the sun."""
    word = next((word for word in thing.look.split() if word in LEAVES), "tree")
    for crown in crowns_of(thing):
        tufts = _tree_tufts if thing.crown_m else _area_tufts
        paint_tufts(canvas, crown, tufts(canvas, crown, LEAVES[word]))


def _tree_tufts(canvas: Canvas, crown: Polygon, leaf: Colour) -> list[Tuft]:
    """A round crown: boughs that bulge, each a clump of small tufts with its own light."""
    centre, radius = crown.centroid, math.sqrt(crown.area / math.pi)
    count = int(np.clip(radius * 7, 9, 44))
    away = radius * 0.80 * np.sort(np.sqrt(canvas.chance.random(count)))[::-1]
    angle = np.arange(count) * 2.39996 + 0.5 * canvas.chance.standard_normal(count)
    tufts = []
    for out, turn in zip(away.tolist(), angle.tolist(), strict=True):
        bough = np.array([centre.x + out * math.cos(turn), centre.y + out * math.sin(turn)])
        size = radius * canvas.chance.uniform(0.24, 0.36)
        light = 0.80 + 0.16 * (1 - out / radius) + 0.06 * canvas.chance.standard_normal()
        light += 0.14 * out / radius * (math.cos(turn) * SUN[0] + math.sin(turn) * SUN[1])
        tufts += _bough(canvas, bough, size, leaf=leaf, light=light)
    return tufts


def _bough(
    canvas: Canvas, middle: Floats, size: float, *, leaf: Colour, light: float
) -> list[Tuft]:
    """The dark of one bough, then its small tufts from the shaded side to the lit one."""
    count = int(np.clip(size * size * 130, 26, 150) * canvas.detail)
    out = 0.5 * size * np.minimum(canvas.chance.rayleigh(1, count), 1.75)
    turn = canvas.chance.uniform(0, 2 * math.pi, count)
    spots = np.column_stack([out * np.cos(turn), out * np.sin(turn)])
    lit = (spots @ np.array(SUN)) / size
    spots, lit = spots[np.argsort(lit)], np.sort(lit)
    shades = light * (
        1 + 0.15 * np.clip(lit, -1.2, 1.2) + 0.09 * canvas.chance.standard_normal(count)
    )
    sizes = np.clip(size * canvas.chance.uniform(0.10, 0.22, count), 0.07, 0.34)
    dark = np.concatenate([[0.66 * light], shades])
    return _tufts(
        np.vstack([middle, middle + spots]), np.concatenate([[size * 0.8], sizes]), dark, leaf
    )


def _area_tufts(canvas: Canvas, crown: Polygon, leaf: Colour) -> list[Tuft]:
    """Tufts all over an area, small ones at its edge, with the dark between them."""
    deep = scattered(canvas, crown.buffer(-0.10), per_m2=14)
    spots = np.vstack([deep, scattered(canvas, crown.buffer(-0.06), per_m2=16)])
    edge = shapely.distance(shapely.points(spots), crown.exterior)
    light = 0.98 + 0.13 * canvas.chance.standard_normal(len(spots))
    light[: len(deep)] *= 0.66
    sizes = 0.10 + 0.18 * canvas.chance.random(len(spots))
    sizes[: len(deep)] += 0.16
    return _tufts(spots, np.minimum(sizes, 0.10 + edge), light, leaf)


def _tufts(spots: Floats, sizes: Floats, light: Floats, leaf: Colour) -> list[Tuft]:
    """Tufts of one kind of leaf; what is lit is a little yellower."""
    return [
        Tuft(
            float(x),
            float(y),
            float(size),
            (leaf[0] * up * (0.94 + 0.08 * up), leaf[1] * up, leaf[2] * up * (1.06 - 0.08 * up)),
        )
        for (x, y), size, up in zip(spots, sizes, light.tolist(), strict=True)
    ]


def scattered(canvas: Canvas, ground: BaseGeometry, *, per_m2: float) -> Floats:
    """Points by chance all over an area."""
    if ground.is_empty:
        return np.zeros((0, 2))
    west, south, east, north = ground.bounds
    count = int((east - west) * (north - south) * per_m2 * canvas.detail)
    spots = np.array([west, south]) + canvas.chance.random((count, 2)) * [
        east - west,
        north - south,
    ]
    inside: Floats = spots[shapely.contains_xy(ground, spots[:, 0], spots[:, 1])]
    return inside


def paint_tufts(canvas: Canvas, ground: BaseGeometry, tufts: Sequence[Tuft]) -> None:
    """Put rounds of leaves on the sheet in the order given, edges soft."""
    window = canvas.window(ground, around_m=1.2)
    rows, columns = window
    height, width = rows.stop - rows.start, columns.stop - columns.start
    if height <= 0 or width <= 0 or not tufts:
        return
    sheet = Image.new("RGBA", (width * _FINER, height * _FINER), (70, 84, 50, 0))
    pen = ImageDraw.Draw(sheet)
    spots = canvas.frame.to_pixels(np.array([[tuft.x, tuft.y] for tuft in tufts]))
    for tuft, (column, row) in zip(tufts, spots.tolist(), strict=True):
        x, y = (column - columns.start) * _FINER, (row - rows.start) * _FINER
        reach = max(tuft.radius * canvas.scale * _FINER, 0.8)
        ink = tuple(round(255 * min(max(share, 0.0), 1.0)) for share in tuft.colour)
        pen.ellipse((x - reach, y - reach, x + reach, y + reach), fill=(*ink, 255))
    _lay_sheet(canvas, sheet, window)


def _lay_sheet(canvas: Canvas, sheet: Image.Image, window: Window) -> None:
    rows, columns = window
    size = (columns.stop - columns.start, rows.stop - rows.start)
    leaves = np.asarray(sheet.resize(size, Image.Resampling.BOX), dtype=np.float32) / 255
    light = 1 + 0.10 * canvas.fine[window] + 0.05 * canvas.middling[window]
    canvas.lay(leaves[..., :3] * light[..., np.newaxis], leaves[..., 3], window)


def paint_bed(canvas: Canvas, thing: Thing) -> None:
    """Bark mulch with perennials in drifts, here and there in bloom."""
    edge = canvas.window(thing.geometry, around_m=0.5)
    rim = canvas.mask(thing.geometry.buffer(0.10), edge, soft_m=0.04)
    canvas.dim(rim, edge, to=(0.72, 0.70, 0.68))
    paint_patch(canvas, thing, rgb(108, 90, 74))
    inside = thing.geometry.buffer(-0.16)
    spots = scattered(canvas, inside, per_m2=8)
    drift = _drifts(canvas, spots)
    tufts = []
    for (x, y), patch in zip(spots, drift, strict=True):
        blooming = canvas.chance.random() < 0.34 and patch % 3 != 0
        tones = BLOOMS if blooming else PLANTING
        tone = tones[patch % len(tones)]
        up = 1 + 0.12 * canvas.chance.standard_normal()
        size = canvas.chance.uniform(0.06, 0.13) if blooming else canvas.chance.uniform(0.13, 0.30)
        tufts.append(Tuft(x, y, size, (tone[0] * up, tone[1] * up, tone[2] * up)))
    tufts.sort(key=lambda tuft: -tuft.radius)
    paint_tufts(canvas, thing.geometry, tufts)


def _drifts(canvas: Canvas, spots: Floats) -> list[int]:
    """Which drift of plants each spot belongs to: that of the nearest of some centres."""
    if not len(spots):
        return []
    centres = spots[canvas.chance.integers(0, len(spots), max(3, len(spots) // 22))]
    nearest = ((spots[:, np.newaxis] - centres[np.newaxis]) ** 2).sum(axis=2).argmin(axis=1)
    return [int(drift) for drift in nearest]


def paint_vegetables(canvas: Canvas, thing: Thing) -> None:
    """Dug soil with rows of green along its longer side."""
    paint_patch(canvas, thing, rgb(116, 94, 74))
    box = shapely.oriented_envelope(thing.geometry.buffer(-0.25))
    corners = shapely.get_coordinates(box)[:4]
    if np.linalg.norm(corners[1] - corners[0]) < np.linalg.norm(corners[2] - corners[1]):
        corners = np.roll(corners, -1, axis=0)
    start, end, far = corners[0], corners[1], corners[3]
    wide, long = float(np.linalg.norm(far - start)), float(np.linalg.norm(end - start))
    tufts = []
    for number, up in enumerate(np.arange(0.4, wide, 0.75)):
        tone = PLANTING[(number * 2) % len(PLANTING)]
        for along in np.arange(0.2, long, 0.28 + 0.06 * (number % 3)):
            spot = start + (end - start) * along / long + (far - start) * up / wide
            x, y = spot + canvas.chance.normal(0, 0.03, 2)
            if not thing.geometry.contains(Point(x, y)):
                continue
            shade = 1 + 0.1 * canvas.chance.standard_normal()
            size = canvas.chance.uniform(0.10, 0.2)
            tufts.append(Tuft(x, y, size, (tone[0] * shade, tone[1] * shade, tone[2] * shade)))
    paint_tufts(canvas, thing.geometry, tufts)
