"""Invented properties to measure speed with: the same ones each time for the same seed.

A property has two lawns on average, one in ten of them traced with hundreds of
corners, a house, a drive, six or seven beds, gardens and places to play, now and then a
pond and a well: eleven outlines with 260 corners or so, strewn over 60 by 60 km.
"""

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt
import shapely

from properties.core.features import KINDS
from properties.core.outlines import Drawing, Shape
from properties.core.zones import Setback

Floats = npt.NDArray[np.float64]
Whole = npt.NDArray[np.int64]

SEED = 1977
AT_ONCE = 5_000
_FOOT_M = 0.3048

#: Invented distances. An obstacle keeps none.
SETBACKS_FT = {
    "flower_bed": 3,
    "vegetable_garden": 10,
    "play_area": 10,
    "pond": 25,
    "well": 50,
}
SETBACKS = {
    kind: Setback(feet * _FOOT_M, "invented for the benchmark")
    for kind, feet in SETBACKS_FT.items()
}
#: Metres in a degree at 40° N, near enough to strew properties.
_METRES_PER_DEGREE = np.array([85_390.0, 111_030.0])
_MIDDLE = np.array([-90.0, 40.0])

Place = tuple[Drawing, dict[str, Setback]]


def places(number: int, *, seed: int = SEED) -> Iterator[Place]:
    """Make so many properties, a few thousand at once."""
    for start in range(0, number, AT_ONCE):
        random = np.random.default_rng([seed, start])
        yield from _some(min(AT_ONCE, number - start), random)


@dataclass(frozen=True)
class _Outlines:
    """Rows of outlines still to be drawn: whose they are, where, how large, how many corners."""

    owner: Whole
    kind: npt.NDArray[np.str_]
    middle_m: Floats
    radii_m: Floats
    corners: Whole
    waviness: Floats


def _some(number: int, random: np.random.Generator) -> Iterator[Place]:
    rows = _together(
        [
            *_lawns(number, random),
            _house(number, random),
            _drive(number, random),
            *_features(number, random),
        ]
    )
    home = _MIDDLE + random.uniform(-30_000, 30_000, (number, 2)) / _METRES_PER_DEGREE
    geometries = _drawn(rows, home[rows.owner], random)
    yield from _as_places(number, rows, geometries)


def _as_places(
    number: int, rows: _Outlines, geometries: npt.NDArray[np.object_]
) -> Iterator[Place]:
    order = np.argsort(rows.owner, kind="stable")
    ends = np.cumsum(np.bincount(rows.owner, minlength=number))
    kinds, shapes = rows.kind[order].tolist(), geometries[order].tolist()
    start = 0
    for end in ends.tolist():
        here = [
            Shape(f"s{index - start}", KINDS[kinds[index]], "", shapes[index])
            for index in range(start, end)
        ]
        start = end
        yield (
            Drawing(tuple(here)),
            {
                shape.ref: SETBACKS[shape.kind.token]
                for shape in here
                if shape.kind.token in SETBACKS
            },
        )


def _together(groups: list[_Outlines]) -> _Outlines:
    return _Outlines(
        *(
            np.concatenate([getattr(group, name) for group in groups])
            for name in _Outlines.__dataclass_fields__
        )
    )


def _lawns(number: int, random: np.random.Generator) -> Iterator[_Outlines]:
    """A lawn before the house and one behind it, and at one property in ten a third."""
    for middle, radii, share in (
        ((0, -14), (15, 9), 1.0),
        ((0, 14), (16, 11), 1.0),
        ((24, 0), (4, 20), 0.1),
    ):
        owner = np.flatnonzero(random.random(number) < share)
        traced = random.random(len(owner)) < 0.1
        corners = np.where(
            traced, random.integers(100, 401, len(owner)), random.integers(6, 31, len(owner))
        )
        yield _outlines("turf", owner, random, middle=middle, radii=radii, corners=corners)


def _house(number: int, random: np.random.Generator) -> _Outlines:
    corners = 2 * random.integers(2, 6, number)
    return _outlines(
        "building", np.arange(number), random, middle=(0, 0), radii=(8, 6), corners=corners
    )


def _drive(number: int, random: np.random.Generator) -> _Outlines:
    corners = random.integers(4, 9, number)
    return _outlines(
        "drive_or_walk", np.arange(number), random, middle=(12, -12), radii=(3, 13), corners=corners
    )


def _features(number: int, random: np.random.Generator) -> Iterator[_Outlines]:
    for kind, mean, radii, most in (
        ("flower_bed", 4.5, (2.2, 1.6), 40),
        ("vegetable_garden", 1.0, (3, 2.2), 24),
        ("play_area", 1.0, (3, 3), 24),
        ("pond", 0.3, (5, 3.5), 40),
        ("well", 0.1, (0, 0), 4),
    ):
        owner = np.repeat(np.arange(number), random.poisson(mean, number))
        corners = random.integers(4, most + 1, len(owner))
        made = _outlines(kind, owner, random, middle=(0, 0), radii=radii, corners=corners)
        made.middle_m[:] = random.uniform(-1, 1, (len(owner), 2)) * (19, 26)
        yield made


def _outlines(
    kind: str,
    owner: Whole,
    random: np.random.Generator,
    *,
    middle: tuple[float, float],
    radii: tuple[float, float],
    corners: Whole,
) -> _Outlines:
    size = random.uniform(0.7, 1.3, (len(owner), 1))
    return _Outlines(
        owner,
        np.full(len(owner), kind),
        middle + random.normal(0, 1.0, (len(owner), 2)),
        np.array(radii) * size,
        corners,
        random.uniform(0, 1, (len(owner), 3)) * (0.3, 0.25, 0.15),
    )


def _drawn(rows: _Outlines, home: Floats, random: np.random.Generator) -> npt.NDArray[np.object_]:
    """Wavy outlines round their middles in degrees; a well is a point."""
    number = np.arange(len(rows.owner))
    which = np.repeat(number, rows.corners)
    step = np.arange(len(which)) - np.repeat(np.cumsum(rows.corners) - rows.corners, rows.corners)
    # Corners a little out of step, never past one another.
    angle = 2 * np.pi * (step + random.uniform(-0.3, 0.3, len(which))) / rows.corners[which]
    phase = random.uniform(0, 2 * np.pi, (len(number), 3))
    reach = 1 + np.sum(
        rows.waviness[which] * np.cos(np.array([2, 3, 5]) * angle[:, None] + phase[which]), axis=1
    )
    # A hand is not steady: a tenth of the way out; a traced edge is a hundredth off.
    unsteady = np.where(rows.corners < 100, 0.1, 0.01)[which]
    reach *= 1 + unsteady * random.uniform(-1, 1, len(which))
    turn = random.uniform(0, np.pi, len(number)) * (rows.kind != "turf")
    along = rows.radii_m[which] * np.column_stack((np.cos(angle), np.sin(angle))) * reach[:, None]
    cos, sin = np.cos(turn[which]), np.sin(turn[which])
    turned = np.column_stack(
        (along[:, 0] * cos - along[:, 1] * sin, along[:, 0] * sin + along[:, 1] * cos)
    )
    degrees = home[which] + (rows.middle_m[which] + turned) / _METRES_PER_DEGREE
    # As drawn on a map: eight decimals, a millimetre.
    geometries = shapely.polygons(shapely.linearrings(degrees.round(8), indices=which))
    wells = rows.kind == "well"
    geometries[wells] = shapely.points((home + rows.middle_m / _METRES_PER_DEGREE)[wells].round(8))
    made: npt.NDArray[np.object_] = geometries
    return made
