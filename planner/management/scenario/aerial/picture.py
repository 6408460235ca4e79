"""A whole picture: what is painted in which order, how large, and where it lies."""

import io
from collections.abc import Callable
from dataclasses import dataclass, replace

import numpy as np
import shapely
from PIL import Image, ImageFilter
from shapely import Polygon

from planner.management.scenario.aerial import built, ground, painted_lines, plants, water
from planner.management.scenario.aerial.canvas import Canvas, Frame, areas_of
from planner.management.scenario.scene import Scene, Thing
from properties.services.places import Bounds

LONG_SIDE_PX = 1700
CREDIT = "Invented picture, drawn from the demo shapes"

Brush = Callable[[Canvas, Thing], None]
#: From the ground up: the last word of a look, and the brush for it.
FLAT: tuple[dict[str, Brush], ...] = (
    {"rough": ground.paint_rough, "crop": ground.paint_crop},
    {"street": ground.paint_paving},
    {"lawn": ground.paint_turf, "turf": ground.paint_turf},
    {"stream": water.paint_open_water, "pond": water.paint_open_water},
    {
        **dict.fromkeys(ground.SURFACES, ground.paint_paving),
        **dict.fromkeys(("flags", "patio", "brick", "boards"), ground.paint_laid),
        "lines": painted_lines.paint_pitch_lines,
    },
    {
        "bays": painted_lines.paint_bays,
        "pool": water.paint_pool,
        "flower_bed": plants.paint_bed,
        "vegetable_garden": plants.paint_vegetables,
        "play_area": water.paint_play_area,
        "grate": built.paint_grate,
        "well": built.paint_round_cover,
        "headstones": built.paint_headstones,
        "hives": built.paint_hives,
    },
)
STANDING: tuple[dict[str, Brush], ...] = (
    {
        "roof": built.paint_roof,
        **dict.fromkeys(built.CARS, built.paint_car),
        "wall": ground.paint_paving,
        "stone": ground.paint_paving,
    },
    dict.fromkeys(("hedge", "shrubs", "reeds", "tree", "trees"), plants.paint_crown),
)


@dataclass(frozen=True)
class Picture:
    """A finished picture as a WebP file, and the edges it is laid between."""

    content: bytes
    bounds: Bounds


def picture_of(scene: Scene, *, long_side_px: int = LONG_SIDE_PX) -> Picture:
    """Draw the picture of a place. The same place gives the same picture."""
    frame = frame_of(scene, long_side_px=long_side_px)
    image = painted(scene, frame)
    file = io.BytesIO()
    image.save(file, "WEBP", quality=80, method=4)
    return Picture(file.getvalue(), _bounds(scene, frame))


def frame_of(scene: Scene, *, long_side_px: int) -> Frame:
    """The drawn shapes with a margin around them, in whole pixels."""
    edges = shapely.total_bounds([thing.geometry for thing in scene.drawn])
    west, south = edges[:2] - scene.margin_m
    east, north = edges[2:] + scene.margin_m
    scale = long_side_px / float(max(east - west, north - south))
    width, height = np.ceil(np.array([east - west, north - south]) * scale - 1e-6) / scale
    return Frame(float(west), float(south), float(west + width), float(south + height), scale)


def _bounds(scene: Scene, frame: Frame) -> Bounds:
    lon, lat = scene.anchor.degrees_per_metre
    return Bounds(
        west=scene.anchor.lon + frame.west_m * lon,
        south=scene.anchor.lat + frame.south_m * lat,
        east=scene.anchor.lon + frame.east_m * lon,
        north=scene.anchor.lat + frame.north_m * lat,
    )


def painted(scene: Scene, frame: Frame) -> Image.Image:
    """Paint a place from the ground up."""
    chance = np.random.default_rng(list(scene.facts["name"].encode()))
    canvas = Canvas(frame, chance)
    ground.paint_meadow(canvas)
    for layer in FLAT:
        _paint_layer(canvas, scene, layer)
    for layer in STANDING:
        built.cast_shadow(canvas, _standing(scene, layer))
        _paint_layer(canvas, scene, layer)
    light = 1.07 + 0.012 * canvas.fine
    finished = np.clip(canvas.paint * light[..., np.newaxis] * 255, 0, 255).astype(np.uint8)
    return Image.fromarray(finished).filter(ImageFilter.GaussianBlur(0.45))


def _paint_layer(canvas: Canvas, scene: Scene, layer: dict[str, Brush]) -> None:
    things = _one_stream(scene.things) if "stream" in layer else scene.things
    for thing in sorted(things, key=lambda thing: thing.height_m):
        brush = layer.get(thing.look.split()[-1])
        if brush is not None:
            brush(canvas, thing)


def _one_stream(things: tuple[Thing, ...]) -> list[Thing]:
    """The things with all streams as one, so that no bank shows where two pieces meet."""
    streams = [thing for thing in things if thing.look == "stream"]
    others = [thing for thing in things if thing.look != "stream"]
    joined = shapely.union_all([thing.geometry for thing in streams])
    return [*others, *(replace(thing, geometry=joined) for thing in streams[:1])]


def _standing(scene: Scene, layer: dict[str, Brush]) -> list[tuple[Polygon, float]]:
    """The outlines that throw shadows in a layer, with their heights."""
    return [
        (outline, thing.height_m * (0.5 if thing.crown_m else 1.0))
        for thing in scene.things
        if thing.height_m and thing.look.split()[-1] in layer
        for outline in (plants.crowns_of(thing) if thing.crown_m else areas_of(thing.geometry))
    ]
