"""Parts, lines and points: joined, kept, widened, or refused where an area is meant."""

from typing import Any

import pytest
import shapely

from properties.core.frame import Frame
from tests.properties.core.drawn import area, box, on_the_map
from tests.properties.core.outlines.alone import SQUARE, area_m2, fault, line, read


def test_parts_that_overlap_or_share_an_edge_become_one() -> None:
    halves = [area(box(0, 0, 6, 10)), area(box(5, 0, 10, 10)), area(box(10, 0, 12, 10))]
    outline = {"type": "MultiPolygon", "coordinates": [half["coordinates"] for half in halves]}

    shape, codes = read("turf", outline)

    assert codes == ["parts_joined"]
    assert shape.geometry.geom_type == "Polygon"
    assert area_m2(shape) == pytest.approx(120, rel=1e-4)


def test_parts_that_lie_apart_stay_as_they_were_drawn() -> None:
    parts = [area(box(0, 0, 6, 10))["coordinates"], area(box(7, 0, 10, 10))["coordinates"]]

    shape, codes = read("turf", {"type": "MultiPolygon", "coordinates": parts})

    assert codes == []
    assert [
        [shapely.get_coordinates(part).tolist()] for part in shapely.get_parts(shape.geometry)
    ] == parts


def test_one_part_alone_is_still_a_collection_of_parts() -> None:
    shape, _ = read("turf", {"type": "MultiPolygon", "coordinates": [area(SQUARE)["coordinates"]]})

    assert shape.geometry.geom_type == "MultiPolygon"


def test_a_part_without_area_beside_others_is_protected_as_a_thread() -> None:
    parts = [area(SQUARE)["coordinates"], area([(20, 0), (25, 0)])["coordinates"]]

    shape, codes = read("pond", {"type": "MultiPolygon", "coordinates": parts})

    assert codes == ["flat_kept"]
    ends = shapely.points(on_the_map([(20, 0), (25, 0)]))
    assert shape.geometry.geom_type == "MultiPolygon"
    assert shapely.covers(shape.geometry, ends).all()
    assert area_m2(shape) == pytest.approx(100.01, abs=0.02)


def test_of_an_obstacle_only_the_part_without_area_is_ignored() -> None:
    parts = [area([(20, 0), (25, 0)])["coordinates"], area(SQUARE)["coordinates"]]

    shape, codes = read("patio", {"type": "MultiPolygon", "coordinates": parts})

    assert codes == ["flat_ignored"]
    assert area_m2(shape) == pytest.approx(100, rel=1e-4)


@pytest.mark.parametrize("drawn", ["Point", "MultiPoint", "LineString", "MultiLineString"])
@pytest.mark.parametrize("kind", ["turf", "patio"])
def test_turf_and_obstacles_must_have_an_area(kind: str, drawn: str) -> None:
    point, two = on_the_map([(0, 0)])[0], on_the_map([(0, 0), (5, 5)])
    coordinates: Any = {
        "Point": point, "MultiPoint": two, "LineString": two, "MultiLineString": [two]
    }[drawn]  # fmt: skip

    only = fault(kind, {"type": drawn, "coordinates": coordinates})

    assert only.field == 'features[0] "a".geometry.type'
    assert f"drawn as a {drawn}" in only.problem


def test_lines_and_points_that_are_protected_are_kept_as_drawn() -> None:
    brook = [(0, 0), (5, 5), (9, 4)]
    for drawn, coordinates in (
        ("Point", on_the_map(brook)[0]),
        ("MultiPoint", on_the_map(brook)),
        ("MultiPoint", on_the_map(brook[:1])),
        ("LineString", on_the_map(brook)),
        ("MultiLineString", [on_the_map(brook), on_the_map([(20, 0), (21, 0)])]),
    ):
        shape, codes = read("stream", {"type": drawn, "coordinates": coordinates})
        assert (codes, shape.geometry.geom_type) == ([], drawn)


def test_a_line_without_length_is_kept_as_a_point() -> None:
    shape, codes = read("stream", line("LineString", [(3, 3), (3, 3)]))

    assert codes == ["duplicates_dropped", "line_kept_as_point"]
    assert shape.geometry.geom_type == "Point"


@pytest.mark.parametrize("lat", [40.0, -40.0])
def test_a_line_without_length_beside_others_is_kept_as_a_line_of_a_millimetre(lat: float) -> None:
    lines = [on_the_map([(3, 3)], lat=lat), on_the_map([(9, 9), (20, 9)], lat=lat)]

    shape, _ = read("stream", {"type": "MultiLineString", "coordinates": lines})

    short = shapely.get_parts(shape.geometry)[0]
    assert shape.geometry.geom_type == "MultiLineString"
    assert Frame(-90, lat).to_plane(short).length == pytest.approx(0.001, rel=0.2)
