"""The sheet a picture is painted on: metres to pixels, soft masks, grain, blending.

Pixels count east and south from the north-west corner. Colours are shares of
red, green and blue; masks are shares of cover, drawn twice as fine and averaged.
"""

from dataclasses import dataclass, field
from typing import Any

import numpy as np
import numpy.typing as npt
import shapely
from PIL import Image, ImageDraw, ImageFilter
from shapely import LineString, MultiPolygon, Polygon
from shapely.geometry.base import BaseGeometry

Pixels = npt.NDArray[np.float32]
Shares = npt.NDArray[np.floating[Any]]
Window = tuple[slice, slice]
Colour = tuple[float, float, float]
_FINER = 2


def rgb(red: int, green: int, blue: int) -> Colour:
    """A colour from the bytes it is usually given in."""
    return red / 255, green / 255, blue / 255


@dataclass(frozen=True)
class Frame:
    """The edges of the picture in local metres, and how fine it is."""

    west_m: float
    south_m: float
    east_m: float
    north_m: float
    pixels_per_m: float

    @property
    def size(self) -> tuple[int, int]:
        """Width and height in pixels."""
        return (
            round((self.east_m - self.west_m) * self.pixels_per_m),
            round((self.north_m - self.south_m) * self.pixels_per_m),
        )

    def to_pixels(self, xy: npt.NDArray[np.float64]) -> npt.NDArray[np.float64]:
        """Columns and rows of points in local metres."""
        return np.column_stack([xy[:, 0] - self.west_m, self.north_m - xy[:, 1]]) * float(
            self.pixels_per_m
        )


@dataclass
class Canvas:
    """A picture in the making, with fields of noise that all textures draw on."""

    frame: Frame
    chance: np.random.Generator
    paint: Pixels = field(init=False)
    broad: Pixels = field(init=False)
    middling: Pixels = field(init=False)
    fine: Pixels = field(init=False)

    def __post_init__(self) -> None:
        width, height = self.frame.size
        self.paint = np.zeros((height, width, 3), dtype=np.float32)
        self.broad = self._noise(7.0) * 0.65 + self._noise(2.6) * 0.35
        self.middling = self._noise(0.8) * 0.6 + self._noise(0.35) * 0.4
        grain = self.chance.standard_normal((height, width), dtype=np.float32)
        self.fine = self._noise(0.12) * 0.6 + grain * 0.4

    @property
    def scale(self) -> float:
        """Pixels in a metre."""
        return self.frame.pixels_per_m

    @property
    def detail(self) -> float:
        """The share of small things worth painting: all of them from 8 pixels in a metre on."""
        return min(1.0, self.scale / 8)

    def _noise(self, cell_m: float) -> Pixels:
        """Smooth noise around zero whose spots are about so large."""
        width, height = self.frame.size
        cell = max(1.0, cell_m * self.scale)
        coarse = self.chance.standard_normal(
            (int(height / cell) + 4, int(width / cell) + 4), dtype=np.float32
        )
        image = Image.fromarray(coarse).resize((width, height), Image.Resampling.BICUBIC)
        return np.asarray(image, dtype=np.float32)

    def window(self, geometry: BaseGeometry, *, around_m: float = 0.0) -> Window:
        """The part of the sheet that a shape lies in; empty if it lies outside."""
        width, height = self.frame.size
        west, south, east, north = geometry.bounds
        corners = self.frame.to_pixels(np.array([[west, north], [east, south]]))
        spare = around_m * self.scale + 3
        left, top = np.floor(corners[0] - spare).astype(int).tolist()
        right, bottom = np.ceil(corners[1] + spare).astype(int).tolist()
        return (
            slice(min(max(top, 0), height), min(max(bottom, 0), height)),
            slice(min(max(left, 0), width), min(max(right, 0), width)),
        )

    def mask(self, geometry: BaseGeometry, window: Window, *, soft_m: float = 0.0) -> Pixels:
        """How much of each pixel of a window the shape covers, its edge made soft."""
        rows, columns = window
        height, width = rows.stop - rows.start, columns.stop - columns.start
        if height <= 0 or width <= 0:
            return np.zeros((max(height, 0), max(width, 0)), dtype=np.float32)
        image = Image.new("L", (width * _FINER, height * _FINER))
        pen = ImageDraw.Draw(image)
        for ring, ink in _rings(geometry):
            xy = (self.frame.to_pixels(ring) - [columns.start, rows.start]) * _FINER
            pen.polygon([(float(x), float(y)) for x, y in xy], fill=ink)
        image = image.resize((width, height), Image.Resampling.BOX)
        if soft_m:
            image = image.filter(ImageFilter.GaussianBlur(soft_m * self.scale))
        return np.asarray(image, dtype=np.float32) / np.float32(255)

    def lay(self, colour: Shares | Colour, mask: Shares, window: Window) -> None:
        """Put a colour over a window, as far as the mask covers it."""
        cover = mask[..., np.newaxis]
        self.paint[window] += cover * (np.asarray(colour, dtype=np.float32) - self.paint[window])

    def dim(self, mask: Shares, window: Window, *, to: Colour) -> None:
        """Take light away, as a shadow does: less of the blue than of the rest."""
        share = 1 + mask[..., np.newaxis] * (np.asarray(to, dtype=np.float32) - 1)
        self.paint[window] *= share

    def metres(self, window: Window) -> tuple[Pixels, Pixels]:
        """Metres east and north of the anchor for every pixel of a window."""
        rows, columns = window
        x = self.frame.west_m + (np.arange(columns.start, columns.stop) + 0.5) / self.scale
        y = self.frame.north_m - (np.arange(rows.start, rows.stop) + 0.5) / self.scale
        east, north = np.meshgrid(x.astype(np.float32), y.astype(np.float32))
        return east, north


def _rings(geometry: BaseGeometry) -> list[tuple[npt.NDArray[np.float64], int]]:
    """Outer rings to fill, each followed by its holes to leave out."""
    rings = []
    for part in shapely.get_parts(geometry).tolist():
        if isinstance(part, Polygon):
            rings.append((shapely.get_coordinates(part.exterior), 255))
            rings += [(shapely.get_coordinates(hole), 0) for hole in part.interiors]
    return rings


def areas_of(geometry: BaseGeometry) -> list[Polygon]:
    """The areas that a shape is made of."""
    return [part for part in shapely.get_parts(geometry).tolist() if isinstance(part, Polygon)]


def textured(base: Colour, *grains: Shares) -> Pixels:
    """A colour with grains of light and dark laid over it."""
    light = sum(grains, 1.0)
    return np.asarray(base, dtype=np.float32) * np.asarray(light, dtype=np.float32)[..., np.newaxis]


def long_axis_deg(geometry: BaseGeometry) -> float:
    """The direction in which a shape is longest, from east to the left."""
    box = shapely.oriented_envelope(geometry)
    if isinstance(box, LineString | MultiPolygon) or box.is_empty:
        return 0.0
    corners = shapely.get_coordinates(box)
    sides = np.diff(corners[:3], axis=0)
    x, y = sides[np.argmax(np.hypot(sides[:, 0], sides[:, 1]))]
    return float(np.degrees(np.arctan2(y, x)))
