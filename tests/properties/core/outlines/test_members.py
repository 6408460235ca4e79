"""Ids, names, kinds and distances of drawn features."""

import math

import pytest

from properties.core.errors import FaultsFound
from properties.core.outlines import Drawing, Note, read_drawing
from tests.properties.core.drawn import Json, area, box, collection, drawing, feature

SQUARE = area(box(0, 0, 10, 10))


def faults_of(*features: object) -> dict[str, str]:
    with pytest.raises(FaultsFound) as found:
        drawing(*features)
    return {fault.field: str(fault) for fault in found.value.faults}


def with_id(ref: object) -> Json:
    return {**feature(None, "turf", SQUARE), "id": ref}


@pytest.mark.parametrize("ref", [None, ""])
def test_a_shape_without_an_id_is_numbered_by_its_place(ref: object) -> None:
    whole = drawing(with_id("a"), with_id(ref), feature(None, "turf", SQUARE))

    assert [shape.ref for shape in whole.shapes] == ["a", "shape-2", "shape-3"]
    assert whole.notes[0] == Note(
        "shape-2", "A shape without an id is called “shape-2”.", "id_given"
    )


def test_a_given_id_never_meets_one_that_was_drawn() -> None:
    whole = drawing(with_id("shape-2"), with_id(None), with_id("shape-2-1"))

    assert [shape.ref for shape in whole.shapes] == ["shape-2", "shape-2-2", "shape-2-1"]


def test_a_number_as_an_id_is_read_as_text() -> None:
    whole = drawing(with_id(7))

    assert (whole.shapes[0].ref, whole.notes[0].code) == ("7", "id_read_as_text")


@pytest.mark.parametrize(
    "ref", [True, 7.5, 10**30, [], {}, "x" * 201, "line\nbreak", "\ud800", math.inf]
)
def test_an_id_that_cannot_be_printed_or_kept_is_refused(ref: object) -> None:
    assert "cannot be used" in faults_of(with_id(ref))["features[0].id"]


def test_an_id_used_twice_is_refused_with_the_first_use() -> None:
    faults = faults_of(with_id("a"), with_id("b"), with_id("a"), with_id(1), with_id("1"))

    assert "first by features[0]" in faults['features[2] "a".id']
    assert "first by features[3]" in faults['features[4] "1".id']


@pytest.mark.parametrize("name", [7, True, [], "x" * 201, "two\nlines", "\ud800"])
def test_a_name_that_cannot_be_printed_is_refused(name: object) -> None:
    (field,) = faults_of(feature("a", "turf", SQUARE, name=name))

    assert field == 'features[0] "a".properties.name'


@pytest.mark.parametrize("name", [None, ""])
def test_a_shape_needs_no_name(name: object) -> None:
    assert drawing(feature("a", "turf", SQUARE, name=name)).shapes[0].name == ""


@pytest.mark.parametrize("properties", [None, [], "turf", 7])
def test_a_feature_without_properties_is_refused(properties: object) -> None:
    broken = {**feature("a", "turf", SQUARE), "properties": properties}

    assert "properties of this shape are missing" in faults_of(broken)['features[0] "a".properties']


@pytest.mark.parametrize(
    "broken", [None, 7, "turf", [], {}, {**feature("a", "turf", SQUARE), "type": "feature"}]
)
def test_what_is_no_feature_is_refused(broken: object) -> None:
    faults = faults_of(broken)

    assert any("not a GeoJSON Feature" in words for words in faults.values())


@pytest.mark.parametrize(
    ("kind", "word", "text", "words"),
    [
        ("pond", "setback", "25", "has no unit"),
        ("pond", "setback", 25, "has no unit"),
        ("pond", "setback", "25 gal", "volume, not a length"),
        ("pond", "setback", "-1 ft", "not a distance that can be kept"),
        ("pond", "setback", "5001 m", "not a distance that can be kept"),
        ("turf", "setback", "6 ft", "Turf has no setback"),
        ("turf", "slope", "12", "has no unit"),
        ("turf", "slope", "12 ft", "length, not a share or angle"),
        ("turf", "slope", "-5 %", "not a slope that ground can have"),
        ("turf", "slope", "90 deg", "not a slope that ground can have"),
        ("turf", "slope", "1e300 %", "not a slope that ground can have"),
        ("pond", "slope", "5 %", "Pond has no slope here"),
        ("patio", "slope", "5 deg", "Patio has no slope here"),
        ("pond", "setback", "\ud800 ft", "cannot be shown"),
    ],
)
def test_a_distance_or_slope_that_cannot_be_is_refused_at_its_member(
    kind: str, word: str, text: object, words: str
) -> None:
    faults = faults_of(feature("a", kind, SQUARE, **{word: text}))

    assert words in faults[f'features[0] "a".properties.{word}']
    "".join(faults.values()).encode()


@pytest.mark.parametrize(
    ("kind", "word", "text"),
    [
        ("pond", "setback", "0 ft"),
        ("building", "setback", "18 in"),
        ("turf", "slope", "0 %"),
        ("turf", "slope", "89 deg"),
    ],
)
def test_a_distance_or_slope_is_kept_as_it_was_typed(kind: str, word: str, text: str) -> None:
    shape = drawing(feature("a", kind, SQUARE, **{word: text})).shapes[0]

    assert str(getattr(shape, word)) == text


def test_a_kind_that_is_unknown_is_told_beside_a_corner_that_is_wrong() -> None:
    broken = feature("a", "lawn", {"type": "Point", "coordinates": [0, "north"]})

    assert set(faults_of(broken)) == {
        'features[0] "a".properties.kind',
        'features[0] "a".geometry.coordinates',
    }


def test_a_tuple_does_as_well_as_a_list() -> None:
    rings = tuple(tuple((lon, lat) for lon, lat in ring) for ring in SQUARE["coordinates"])
    whole = collection(feature("a", "turf", {"type": "Polygon", "coordinates": rings}))

    assert isinstance(read_drawing({**whole, "features": tuple(whole["features"])}), Drawing)
