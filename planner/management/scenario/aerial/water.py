"""Water: ponds, streams, a swimming pool, and the sand of a play corner."""

import numpy as np
import shapely
from shapely.affinity import translate

from planner.management.scenario.aerial.built import cast_shadow
from planner.management.scenario.aerial.canvas import Canvas, rgb, textured
from planner.management.scenario.aerial.ground import paint_patch
from planner.management.scenario.scene import Thing


def paint_open_water(canvas: Canvas, thing: Thing) -> None:
    """Still, dark water with a muddy margin and a little of the sky in the middle."""
    window = canvas.window(thing.geometry, around_m=1.5)
    mask = canvas.mask(thing.geometry, window, soft_m=0.08)
    if not mask.size:
        return
    margin = canvas.mask(thing.geometry.buffer(0.55), window, soft_m=0.25)
    mud = textured(rgb(98, 96, 66), 0.10 * canvas.middling[window], 0.06 * canvas.fine[window])
    canvas.lay(mud, margin, window)
    reach = 0.9 if thing.look == "stream" else 2.4
    depth = canvas.mask(thing.geometry.buffer(-reach * 0.6), window, soft_m=reach * 0.5)
    edge, deep = (np.asarray(tone, np.float32) for tone in (rgb(52, 62, 52), rgb(84, 104, 108)))
    water = edge + depth[..., np.newaxis] * (deep - edge)
    ripple = 0.05 * canvas.broad[window] + 0.025 * canvas.middling[window]
    canvas.lay(water * (1 + ripple)[..., np.newaxis], mask, window)


def paint_pool(canvas: Canvas, thing: Thing) -> None:
    """A swimming pool: pale coping, clear water, wavering light on its floor."""
    rim = thing.geometry.buffer(0.35, join_style="mitre")
    window = canvas.window(rim, around_m=0.5)
    canvas.lay(rgb(216, 210, 198), canvas.mask(rim, window), window)
    east, north = canvas.metres(window)
    sway = canvas.middling[window]
    net = np.sin(5.2 * east + 2.2 * sway) * np.sin(4.6 * north - 2.0 * sway)
    water = textured(rgb(104, 172, 184), 0.05 * np.abs(net) ** 0.5, 0.03 * sway)
    mask = canvas.mask(thing.geometry, window)
    canvas.lay(water, mask, window)
    lip = np.clip(mask - canvas.mask(translate(thing.geometry, -0.18, 0.3), window), 0, 1)
    canvas.dim(lip, window, to=(0.62, 0.68, 0.74))


def paint_play_area(canvas: Canvas, thing: Thing) -> None:
    """Bark under a frame with swings, and a sand box beside it."""
    window = canvas.window(thing.geometry, around_m=0.5)
    canvas.dim(canvas.mask(thing.geometry.buffer(0.1), window), window, to=(0.7, 0.68, 0.66))
    paint_patch(canvas, thing, rgb(172, 140, 104))
    x, y = shapely.maximum_inscribed_circle(thing.outline).coords[0]
    sand = shapely.box(x + 0.35, y - 1.25, x + 1.55, y - 0.05)
    beam = shapely.box(x - 1.5, y + 0.5, x + 1.2, y + 0.64)
    legs = [
        shapely.LineString([(x + side - 0.1, y - 0.35), (x + side + 0.1, y + 1.5)]).buffer(0.05)
        for side in (-1.45, 1.15)
    ]
    seats = [shapely.box(x + at, y + 0.42, x + at + 0.42, y + 0.6) for at in (-1.05, 0.05)]
    cast_shadow(canvas, [(beam, 2.0), *((leg, 1.0) for leg in legs)], soft_m=0.06)
    painted = [(sand, rgb(222, 204, 160)), (sand.exterior.buffer(0.07), rgb(146, 106, 78))]
    painted += [(leg, rgb(178, 78, 62)) for leg in legs]
    painted += [(seat, rgb(52, 70, 96)) for seat in seats] + [(beam, rgb(196, 92, 70))]
    for part, tone in painted:
        box = canvas.window(part)
        canvas.lay(tone, canvas.mask(part, box), box)
