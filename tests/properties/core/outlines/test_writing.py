"""A drawing as GeoJSON again."""

import json

import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st
from shapely import MultiPolygon, Polygon

from properties.core.outlines import read_drawing, write_areas, write_drawing
from tests.properties.core.drawn import area, box, collection, drawing, feature

decimals = st.floats(-0.01, 0.01)


@given(lon=st.floats(-179.9, 179.9), lat=st.floats(-84, 84), west=decimals, south=decimals)
def test_every_coordinate_is_written_to_its_last_bit(
    lon: float, lat: float, west: float, south: float
) -> None:
    line = [[lon, lat], [lon + 0.02 + west, lat + south], [lon - 0.001, lat]]
    whole = drawing(
        feature("a", "stream", {"type": "LineString", "coordinates": line}),
        feature("b", "well", {"type": "Point", "coordinates": line[0]}),
    )

    written = json.loads(json.dumps(write_drawing(whole)))

    assert read_drawing(written) == whole
    assert written["features"][1]["geometry"]["coordinates"] == line[0]


@pytest.mark.parametrize("setback", ["6 ft", "0.1 m", "2.5400000000000005 cm", "3 ft"])
def test_a_drawing_reads_back_as_itself(setback: str) -> None:
    whole = drawing(
        feature("lawn", "turf", area(box(0, 0, 30, 20), box(3, 3, 5, 5)), name="Front lawn"),
        feature("slope", "turf", area(box(30, 0, 40, 20)), slope="12.5 %"),
        feature("roses", "flower_bed", area(box(5, 5, 9, 8)), setback=setback),
        feature("house", "building", {
            "type": "MultiPolygon",
            "coordinates": [area(box(10, 10, 15, 15))["coordinates"]],
        }),
        feature("trees", "tree_or_shrub", {
            "type": "MultiPoint", "coordinates": [[-90.0001, 40.0001], [-90.0002, 40.0001]],
        }),
    )  # fmt: skip

    assert read_drawing(json.loads(json.dumps(write_drawing(whole)))) == whole


def test_what_was_not_said_is_not_written() -> None:
    written = write_drawing(drawing(feature("a", "turf", area(box(0, 0, 9, 9)))))

    assert written["features"][0]["properties"] == {"kind": "turf"}


def test_an_empty_drawing_is_written_as_an_empty_collection() -> None:
    assert write_drawing(read_drawing(collection())) == collection()


@pytest.mark.parametrize("many", [0, 1, 3])
def test_areas_are_written_as_the_library_writes_them(many: int) -> None:
    holes = [shapely.box(1, 1, 2, 2).exterior, shapely.box(4, 4, 5, 7).exterior]
    yard = Polygon(shapely.box(0, 0, 9, 9).exterior, holes)
    areas = MultiPolygon([yard, shapely.box(20, 0, 21, 1), shapely.box(30.1, 0, 31, 1)][:many])

    written = write_areas(areas)

    assert written == json.loads(shapely.to_geojson(areas))
