"""Coordinates that are none, with the path to the first that is wrong."""

import math

import pytest

from properties.core.errors import FaultsFound
from tests.properties.core.drawn import Json, area, box, drawing, feature, on_the_map

SQUARE = area(box(0, 0, 10, 10))["coordinates"][0]
HOLE = area(box(2, 2, 4, 4))["coordinates"][0]


def faults_of(geometry: object, kind: str = "other_protected") -> list[tuple[str, str]]:
    with pytest.raises(FaultsFound) as found:
        drawing(feature("a", kind, geometry))
    return [
        (fault.field.removeprefix('features[0] "a"'), str(fault)) for fault in found.value.faults
    ]


@pytest.mark.parametrize(
    "geometry",
    [
        None,
        7,
        "Polygon",
        [],
        {},
        {"type": "Polygon"},
        {"coordinates": [SQUARE]},
        {"type": "polygon", "coordinates": [SQUARE]},
        {"type": ["Polygon"], "coordinates": [SQUARE]},
        {"type": "Circle", "coordinates": [SQUARE]},
        {"type": "GeometryCollection", "geometries": []},
        {"type": "GeometryCollection", "coordinates": [SQUARE]},
    ],
)
def test_what_is_no_outline_is_refused_with_what_would_be_one(geometry: object) -> None:
    ((field, words),) = faults_of(geometry)

    assert field == ".geometry"
    assert "MultiLineString" in words


@pytest.mark.parametrize(
    ("drawn", "coordinates"),
    [
        ("MultiPoint", []),
        ("LineString", []),
        ("MultiLineString", []),
        ("MultiLineString", [[]]),
        ("Polygon", []),
        ("Polygon", [[]]),
        ("Polygon", [SQUARE, []]),
        ("MultiPolygon", []),
        ("MultiPolygon", [[]]),
        ("MultiPolygon", [[[]]]),
        ("MultiPolygon", [[SQUARE], []]),
        ("Polygon", None),
        ("Polygon", {"0": SQUARE}),
        ("Polygon", "ring"),
        ("MultiPolygon", [7]),
    ],
)
def test_an_empty_part_is_refused(drawn: str, coordinates: object) -> None:
    assert all(
        "empty" in words for _, words in faults_of({"type": drawn, "coordinates": coordinates})
    )


def broken(outline: list[list[float]], corner: int, position: object) -> list[object]:
    return [position if index == corner else kept for index, kept in enumerate(outline)]


@pytest.mark.parametrize(
    "position",
    [
        [math.nan, 40],
        [-90, math.inf],
        [-math.inf, 40],
        [10**400, 40],
        [-90, True],
        ["-90", "40"],
        [None, 40],
        [[-90], 40],
    ],
)
def test_a_corner_that_is_no_finite_number_is_refused_with_its_path(position: object) -> None:
    ring = broken(SQUARE, 2, position)

    ((field, words),) = faults_of({"type": "Polygon", "coordinates": [ring]})

    assert field == ".geometry.coordinates[0][2]"
    assert "not a finite number" in words


@pytest.mark.parametrize("position", [None, 7, "here", [], [-90], {"lon": -90, "lat": 40}])
def test_a_corner_that_is_no_pair_is_refused(position: object) -> None:
    ((_, words),) = faults_of({"type": "Polygon", "coordinates": [broken(SQUARE, 0, position)]})

    assert "not a pair of numbers" in words


PATHS: list[tuple[str, object, str]] = [
    ("Point", None, ""),
    ("MultiPoint", [SQUARE[0], None], "[1]"),
    ("LineString", broken(SQUARE, 3, None), "[3]"),
    ("MultiLineString", [SQUARE, broken(HOLE, 1, None)], "[1][1]"),
    ("Polygon", [SQUARE, broken(HOLE, 4, None)], "[1][4]"),
    ("MultiPolygon", [[HOLE], [SQUARE, broken(HOLE, 0, None)]], "[1][1][0]"),
]


@pytest.mark.parametrize(("drawn", "coordinates", "path"), PATHS)
def test_the_path_leads_to_the_corner(drawn: str, coordinates: object, path: str) -> None:
    ((field, _),) = faults_of({"type": drawn, "coordinates": coordinates})

    assert field == f".geometry.coordinates{path}"


def test_each_ring_tells_its_first_wrong_corner_and_how_many_more() -> None:
    outer = [None, *SQUARE[1:3], None, None]
    inner = broken(HOLE, 2, None)

    faults = faults_of({"type": "Polygon", "coordinates": [outer, inner]})

    assert [field for field, _ in faults] == [
        ".geometry.coordinates[0][0]",
        ".geometry.coordinates[1][2]",
    ]
    assert "So are 2 more" in faults[0][1]
    assert "more" not in faults[1][1]


def test_whole_numbers_are_degrees_too() -> None:
    well: Json = {"type": "Point", "coordinates": [-90, 40]}

    assert drawing(feature("a", "well", well)).shapes[0].geometry.coords[:] == [(-90.0, 40.0)]


def test_more_than_a_height_is_left_out_as_well() -> None:
    (corner,) = on_the_map([(1, 1)])

    whole = drawing(feature("a", "well", {"type": "Point", "coordinates": [*corner, 3, "fix"]}))

    assert whole.notes[0].code == "altitude_dropped"
