"""The places of the demo: drawn without a fault, of true sizes, and the pictures under them."""

import io
from itertools import pairwise
from typing import Any

import numpy as np
import pytest
import shapely
from geographiclib.geodesic import Geodesic
from PIL import Image

from planner.management.scenario.aerial.painted_lines import pitch_lines
from planner.management.scenario.aerial.picture import Picture as AerialPicture
from planner.management.scenario.aerial.picture import frame_of, picture_of
from planner.management.scenario.scene import Scene, all_scenes
from properties.core.outlines import Drawing, read_drawing, write_drawing
from properties.core.passable import split_by_swath

SCENES = {scene.facts["name"]: scene for scene in all_scenes()}
EVERY_SCENE = pytest.mark.parametrize("scene", SCENES.values(), ids=list(SCENES))
SMALL_PX = 120
YARD_M = 0.9144


def drawn(scene: Scene) -> Drawing:
    return read_drawing(scene.collection())


@EVERY_SCENE
def test_a_drawing_reads_without_a_note_and_as_it_was_placed(scene: Scene) -> None:
    drawing = drawn(scene)

    assert drawing.notes == ()
    assert len(drawing.shapes) == len(scene.drawn)
    assert all(shape.name for shape in drawing.shapes)
    assert len({shape.ref for shape in drawing.shapes}) == len(drawing.shapes)
    assert drawn_corners(write_drawing(drawing)) == drawn_corners(scene.collection())


def drawn_corners(collection: dict[str, Any]) -> dict[str, set[tuple[float, ...]]]:
    return {
        feature["id"]: {
            tuple(corner)
            for corner in shapely.get_coordinates(
                shapely.geometry.shape(feature["geometry"])
            ).tolist()
        }
        for feature in collection["features"]
    }


@EVERY_SCENE
def test_turf_is_drawn_once_and_buildings_stand_apart(scene: Scene) -> None:
    for kind in ("turf", "building"):
        outlines = [t.geometry for t in scene.drawn if t.properties["kind"] == kind]
        together = shapely.union_all(outlines).area
        assert together == pytest.approx(sum(outline.area for outline in outlines), rel=1e-9)


@pytest.mark.parametrize("ref", ["west-side-yard", "east-side-yard"])
def test_the_side_yards_are_too_narrow_for_the_ride_on(ref: str) -> None:
    yard = next(thing for thing in SCENES["Ashgrove house"].drawn if thing.ref == ref)
    corners = shapely.get_coordinates(shapely.oriented_envelope(yard.geometry))
    sides_m = np.hypot(*np.diff(corners[:3], axis=0).T)
    swath_m = 10 * 0.3048

    assert sides_m.min() < swath_m < 60 * 0.3048 < sides_m.max()
    machine, hand = split_by_swath(shapely.MultiPolygon([yard.outline]), swath_m=swath_m)
    assert machine.area == 0
    assert hand.area == pytest.approx(yard.geometry.area)


def pitch_in_degrees() -> shapely.Polygon:
    scene = SCENES["Ferry Meadow sports ground"]
    pitch = next(thing for thing in scene.drawn if thing.ref == "pitch")
    placed = scene.anchor.placed(pitch.geometry)
    assert isinstance(placed, shapely.Polygon)
    return placed


def test_the_pitch_has_a_size_that_the_laws_of_the_game_allow() -> None:
    """International Football Association Board, Laws of the Game, Law 1, sections 3 and 4.

    International matches: touchline 110 to 120 yd (100 to 110 m), goal line 70 to
    80 yd (64 to 75 m). Measured on the ellipsoid by geographiclib.
    """
    corners = list(pitch_in_degrees().exterior.coords)
    sides_yd = [
        Geodesic.WGS84.Inverse(a[1], a[0], b[1], b[0])["s12"] / YARD_M for a, b in pairwise(corners)
    ]
    ring = Geodesic.WGS84.Polygon()
    for lon, lat in corners[:-1]:
        ring.AddPoint(lat, lon)
    area_m2 = ring.Compute()[2]

    assert all(110 <= side <= 120 for side in sides_yd[0::2])
    assert all(70 <= side <= 80 for side in sides_yd[1::2])
    assert 6400 <= area_m2 <= 8250
    # Drawn as 115 by 75 yd; one length of a degree over 100 m is true to a few parts in a million.
    assert area_m2 == pytest.approx(115 * 75 * YARD_M**2, rel=2e-5)


def test_the_painted_lines_of_the_pitch_are_those_of_law_1() -> None:
    """IFAB, Laws of the Game, Law 1, in yards: 44 by 18, 20 by 6, circle of 10, goal of 8."""
    length_m, width_m = 115 * YARD_M, 75 * YARD_M
    lines = shapely.union_all(pitch_lines(length_m=length_m, width_m=width_m))
    on_a_line = {
        "corner of the penalty area": (18, 37.5 + 22),
        "corner of the goal area": (6, 37.5 - 10),
        "circle": (57.5, 47.5),
        "halfway line": (57.5, 3),
        "top of the arc": (12 + 10, 37.5),
        "far penalty area": (115 - 18, 37.5),
        "post": (0, 37.5 + 4),
    }
    off_a_line = {"inside the arc": (12 + 3, 37.5 + 9), "midfield": (40, 60)}

    for name, (x, y) in on_a_line.items():
        assert lines.distance(shapely.Point(x * YARD_M, y * YARD_M)) < 0.03, name
    for name, (x, y) in off_a_line.items():
        assert lines.distance(shapely.Point(x * YARD_M, y * YARD_M)) > 0.3, name


@EVERY_SCENE
def test_a_picture_reaches_beyond_every_shape_and_lies_true(scene: Scene) -> None:
    picture = picture_of(scene, long_side_px=SMALL_PX)
    bounds, image = picture.bounds, Image.open(io.BytesIO(picture.content))
    shapes = [shape.geometry for shape in drawn(scene).shapes]
    west, south, east, north = shapely.total_bounds(shapes)

    assert image.format == "WEBP"
    assert bounds.west < west < east < bounds.east
    assert bounds.south < south < north < bounds.north
    # A pixel is as long as it is wide, measured on the ellipsoid.
    middle = (bounds.south + bounds.north) / 2
    wide_m = Geodesic.WGS84.Inverse(middle, bounds.west, middle, bounds.east)["s12"]
    high_m = Geodesic.WGS84.Inverse(bounds.south, bounds.west, bounds.north, bounds.west)["s12"]
    assert wide_m / image.width == pytest.approx(high_m / image.height, rel=1e-4)


def test_a_picture_shows_the_pool_where_the_pool_is_drawn() -> None:
    scene = SCENES["Coldwater House"]
    picture = picture_of(scene, long_side_px=900)
    pool = next(thing for thing in scene.drawn if thing.ref == "pool").outline

    # A pixel is 0.12 m; the coping is 0.35 m wide and pale.
    assert all(is_water(picture, lonlat) for lonlat in along(scene, pool.buffer(-0.6)))
    assert not any(is_water(picture, lonlat) for lonlat in along(scene, pool.buffer(0.6)))


def along(scene: Scene, outline: shapely.Polygon) -> list[tuple[float, float]]:
    """Places round an outline, in degrees."""
    shares = np.arange(0, 1, 0.02)
    places = shapely.line_interpolate_point(outline.exterior, shares, normalized=True)
    placed = scene.anchor.placed(shapely.MultiPoint(places.tolist()))
    return [(lon, lat) for lon, lat in shapely.get_coordinates(placed).tolist()]


def is_water(picture: AerialPicture, lonlat: tuple[float, float]) -> bool:
    """Whether the pixel at a place is blue, the picture being laid between its bounds."""
    image = Image.open(io.BytesIO(picture.content)).convert("RGB")
    bounds = picture.bounds
    column = (lonlat[0] - bounds.west) / (bounds.east - bounds.west) * image.width
    row = (bounds.north - lonlat[1]) / (bounds.north - bounds.south) * image.height
    red, _, blue = np.asarray(image)[int(row), int(column)].astype(int)
    return bool(blue > red + 35)


def test_the_same_place_gives_the_same_picture() -> None:
    scene = SCENES["Calloway corner"]

    once, again = (picture_of(scene, long_side_px=SMALL_PX) for _ in range(2))

    assert once == again


@EVERY_SCENE
def test_the_frame_is_as_long_as_asked(scene: Scene) -> None:
    assert max(frame_of(scene, long_side_px=1700).size) == 1700
