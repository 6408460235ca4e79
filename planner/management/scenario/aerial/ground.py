"""What lies flat: meadow, mown turf, roads, paving, gravel, painted lines."""

import math

import numpy as np

from planner.management.scenario.aerial.canvas import (
    Canvas,
    Colour,
    Pixels,
    Window,
    long_axis_deg,
    rgb,
    textured,
)
from planner.management.scenario.scene import Thing

SURFACES = {
    "asphalt": (rgb(126, 126, 125), 0.05, 0.06),
    "street": (rgb(122, 122, 122), 0.05, 0.05),
    "lane": (rgb(128, 127, 124), 0.06, 0.06),
    "gravel": (rgb(190, 177, 152), 0.05, 0.13),
    "concrete": (rgb(188, 185, 177), 0.03, 0.04),
    "sidewalk": (rgb(182, 179, 171), 0.03, 0.04),
    "bridge": (rgb(122, 122, 122), 0.05, 0.05),
    "stone": (rgb(186, 181, 168), 0.04, 0.07),
    "wall": (rgb(158, 150, 136), 0.08, 0.12),
    "drive_or_walk": (rgb(176, 170, 160), 0.04, 0.06),
    "other_obstacle": (rgb(160, 156, 148), 0.04, 0.06),
}
#: Slabs or boards: their colour, their length and width in metres, the share of light in a joint.
LAID = {
    "flags": (rgb(186, 174, 156), 0.9, 0.6, 0.82),
    "patio": (rgb(186, 174, 156), 0.9, 0.6, 0.82),
    "brick": (rgb(156, 108, 90), 0.42, 0.21, 0.84),
    "boards": (rgb(152, 126, 98), 4.0, 0.28, 0.74),
    "joints": (rgb(1, 1, 1), 1.5, 50.0, 0.9),
}


def paint_meadow(canvas: Canvas) -> None:
    """Cover the whole sheet with unmown meadow."""
    blend = np.clip(0.5 + 0.32 * canvas.broad, 0, 1)[..., np.newaxis]
    green, straw = rgb(104, 116, 72), rgb(142, 136, 92)
    colour = np.asarray(green, np.float32) * (1 - blend) + np.asarray(straw, np.float32) * blend
    light = 1 + 0.05 * canvas.middling + 0.05 * canvas.fine
    canvas.paint[:] = colour * light[..., np.newaxis]


def paint_rough(canvas: Canvas, thing: Thing) -> None:
    """Grass that is cut now and then."""
    window = canvas.window(thing.geometry, around_m=1)
    grass = textured(
        rgb(112, 122, 76),
        0.07 * canvas.broad[window],
        0.05 * canvas.middling[window],
        0.05 * canvas.fine[window],
    )
    canvas.lay(grass, canvas.mask(thing.geometry, window, soft_m=0.5), window)


def paint_crop(canvas: Canvas, thing: Thing) -> None:
    """A field with its rows."""
    window = canvas.window(thing.geometry)
    rows = np.sin(2 * math.pi / 0.9 * _across(canvas, window, thing.stripes_deg or 0.0))
    field = textured(
        rgb(150, 142, 98),
        0.07 * rows.astype(np.float32),
        0.05 * canvas.broad[window],
        0.04 * canvas.fine[window],
    )
    canvas.lay(field, canvas.mask(thing.geometry, window, soft_m=0.4), window)


def paint_turf(canvas: Canvas, thing: Thing) -> None:
    """Mown turf: light and dark stripes back and forth, a little patchy, worn at the edge."""
    window = canvas.window(thing.geometry)
    mask = canvas.mask(thing.geometry, window, soft_m=0.04)
    if not mask.size:
        return
    angle = long_axis_deg(thing.geometry) if thing.stripes_deg is None else thing.stripes_deg
    bold = thing.geometry.area > 5000
    across = _across(canvas, window, angle) + 0.03 * canvas.middling[window]
    wave = np.sin(math.pi / (5.5 if bold else 1.1) * across)
    stripes = np.tanh(4 * wave)
    kept = 1.0 if thing.look == "turf" else 0.5
    grass = textured(
        rgb(104, 128, 72) if thing.look == "turf" else rgb(110, 126, 80),
        (0.055 if bold else 0.042) * kept * stripes.astype(np.float32),
        0.035 * canvas.broad[window],
        0.03 * canvas.middling[window],
        0.04 * canvas.fine[window],
    )
    dry = np.clip(0.35 * canvas.broad[window] - 0.2, 0, 0.3)[..., np.newaxis]
    grass += dry * (np.asarray(rgb(148, 146, 92), np.float32) - grass)
    canvas.lay(grass, mask, window)


def paint_paving(canvas: Canvas, thing: Thing) -> None:
    """Asphalt, concrete, gravel, stone: a tone, its patches, its grain, a darker rim."""
    tone, patches, grain = SURFACES[thing.look.split()[-1]]
    window = canvas.window(thing.geometry, around_m=0.3)
    mask = canvas.mask(thing.geometry, window, soft_m=0.12 if thing.look == "gravel" else 0.02)
    if not mask.size:
        return
    rim = canvas.mask(thing.geometry.buffer(0.12, join_style="mitre"), window, soft_m=0.05)
    if thing.look == "street":
        canvas.lay(rgb(184, 181, 172), rim, window)
    else:
        canvas.dim(rim, window, to=(0.82, 0.82, 0.82))
    surface = textured(
        tone,
        patches * canvas.broad[window],
        0.5 * patches * canvas.middling[window],
        grain * canvas.fine[window],
    )
    if thing.look in {"concrete", "sidewalk"}:
        surface *= _joints(canvas, window, thing, length_m=1.6, width_m=60.0, joint=0.87)
    canvas.lay(surface, mask, window)


def paint_laid(canvas: Canvas, thing: Thing) -> None:
    """Flags, bricks and boards, each a little different from the next."""
    tone, length_m, width_m, joint = LAID[thing.look.split()[-1]]
    window = canvas.window(thing.geometry, around_m=0.3)
    mask = canvas.mask(thing.geometry, window, soft_m=0.02)
    if not mask.size:
        return
    rim = canvas.mask(thing.geometry.buffer(0.12, join_style="mitre"), window, soft_m=0.05)
    canvas.dim(rim, window, to=(0.78, 0.78, 0.78))
    surface = textured(tone, 0.03 * canvas.middling[window], 0.03 * canvas.fine[window])
    surface *= _joints(canvas, window, thing, length_m=length_m, width_m=width_m, joint=joint)
    canvas.lay(surface, mask, window)


def paint_patch(canvas: Canvas, thing: Thing, tone: Colour) -> None:
    """Bare ground of one tone: soil, bark, sand."""
    window = canvas.window(thing.geometry, around_m=0.5)
    ground = textured(
        tone,
        0.08 * canvas.middling[window],
        0.08 * canvas.fine[window],
        0.04 * canvas.broad[window],
    )
    canvas.lay(ground, canvas.mask(thing.geometry, window, soft_m=0.06), window)


def _across(canvas: Canvas, window: Window, angle_deg: float) -> Pixels:
    """Metres across the direction of the stripes."""
    east, north = canvas.metres(window)
    turn = math.radians(angle_deg)
    across: Pixels = north * np.float32(math.cos(turn)) - east * np.float32(math.sin(turn))
    return across


def _joints(
    canvas: Canvas, window: Window, thing: Thing, *, length_m: float, width_m: float, joint: float
) -> Pixels:
    """The light that slabs give back: each its own shade, joints darker, rows staggered."""
    turn = long_axis_deg(thing.geometry)
    up = _across(canvas, window, turn) / np.float32(width_m)
    row = np.floor(up)
    along = -_across(canvas, window, turn + 90) / np.float32(length_m) + 0.5 * (row % 2)
    slab = np.floor(along)
    shade = 0.94 + 0.12 * np.modf(np.abs(np.sin(slab * 12.99 + row * 78.23)) * 437.5)[0]
    gap = 0.022
    open_joint = (np.abs(along - np.round(along)) * length_m < gap) | (
        np.abs(up - np.round(up)) * width_m < gap
    )
    light: Pixels = np.where(open_joint, shade * joint, shade).astype(np.float32)
    return light[..., np.newaxis]
