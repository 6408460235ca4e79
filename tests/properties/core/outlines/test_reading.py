"""Reading a whole drawing: every fault at once, whatever comes in."""

import copy
import json
import math
from typing import Any

import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st

from properties.core.errors import FaultsFound, Refused
from properties.core.features import KINDS, Role
from properties.core.outlines import Drawing, ShapeFault, read_drawing, write_drawing
from tests.properties.core.drawn import Json, area, box, collection, drawing, feature, on_the_map

LAWN = feature("lawn", "turf", area(box(0, 0, 30, 20)), name="Back lawn")
ROSES = feature("roses", "flower_bed", area(box(5, 5, 9, 8)), setback="3 ft")


def faults_in(*features: object) -> list[Refused]:
    with pytest.raises(FaultsFound) as found:
        read_drawing(collection(*features))
    return list(found.value.faults)


def test_a_sound_drawing_is_read_without_a_note() -> None:
    read = drawing(LAWN, ROSES)

    assert [(shape.ref, shape.kind.token, shape.name) for shape in read.shapes] == [
        ("lawn", "turf", "Back lawn"),
        ("roses", "flower_bed", ""),
    ]
    assert str(read.shapes[1].setback) == "3 ft"
    assert read.notes == ()
    assert [shape.ref for shape in read.of_role(Role.PROTECTED)] == ["roses"]


def test_an_empty_drawing_is_a_drawing() -> None:
    assert read_drawing(collection()) == Drawing(())


@pytest.mark.parametrize(
    "whole",
    [
        None,
        [],
        "{}",
        7,
        {},
        {"type": "Feature"},
        {"type": "FeatureCollection"},
        {"type": "FeatureCollection", "features": None},
        {"type": "FeatureCollection", "features": {"0": LAWN}},
        {"type": "featurecollection", "features": []},
    ],
)
def test_what_is_no_feature_collection_is_refused(whole: object) -> None:
    with pytest.raises(FaultsFound, match="FeatureCollection"):
        read_drawing(whole)


def test_every_fault_is_told_none_hidden_behind_the_first() -> None:
    bow_tie = [(0, 0), (10, 10), (10, 0), (0, 10)]
    unplaced = {"type": "Point", "coordinates": [math.nan, 40]}

    faults = faults_in(
        feature("a", "turf", area(bow_tie), slope="steep"),
        feature("a", "lawn", area(box(0, 0, 5, 5))),
        feature("c", "pond", unplaced, setback="-3 ft"),
        "not a feature",
        feature("e", "turf", None, setback="3 ft"),
    )

    assert [fault.field for fault in faults] == [
        'features[0] "a".properties.slope',
        'features[0] "a".geometry',
        'features[1] "a".id',
        'features[1] "a".properties.kind',
        'features[2] "c".properties.setback',
        'features[2] "c".geometry.coordinates',
        "features[3]",
        'features[4] "e".properties.setback',
        'features[4] "e".geometry',
    ]
    assert all(isinstance(fault, ShapeFault) for fault in faults)
    assert all(fault.problem.endswith(".") and fault.remedy.endswith(".") for fault in faults)


def test_a_fault_keeps_its_place_on_the_map_under_another_name() -> None:
    fault = ShapeFault("geometry", "It crosses.", "Drag it.", shape="a", at_lonlat=(1.0, 2.0))

    moved = fault.at("property.features[0].geometry")

    assert (moved.field, moved.shape, moved.at_lonlat) == (
        "property.features[0].geometry",
        "a",
        (1.0, 2.0),
    )
    assert str(moved) == "It crosses. Drag it."


def circle(corners: int) -> Json:
    angles = [2 * math.pi * corner / corners for corner in range(corners)]
    return area([(200 * math.cos(angle), 200 * math.sin(angle)) for angle in angles])


def test_twenty_thousand_corners_are_read_and_one_more_is_refused() -> None:
    assert len(drawing(feature("a", "turf", circle(19_999))).shapes) == 1

    faults = faults_in(feature("a", "turf", circle(20_000)), feature("b", "lawn", None))
    assert "20,001 corners" in str(faults[0])
    assert [fault.field for fault in faults] == ["features", 'features[1] "b".properties.kind']


def test_corners_are_counted_before_anything_is_built() -> None:
    deep: Any = 0
    for _ in range(100_000):
        deep = [deep]

    with pytest.raises(FaultsFound):
        read_drawing(collection(feature("a", "turf", {"type": "Polygon", "coordinates": deep})))


def test_more_features_than_corners_could_fill_are_refused_as_one_fault() -> None:
    assert len(faults_in(*[None] * 20_001)) == 1


def test_outlines_that_cross_one_another_everywhere_are_refused() -> None:
    def comb(*, upright: bool) -> Json:
        teeth = [(tooth, side) for tooth in range(700) for side in (0, 400)]
        corners = [(0.5 * tooth + 0.1 * (side > 0), float(side)) for tooth, side in teeth]
        closed = [*corners, (400.0, -5.0), (0.0, -5.0)]
        return area([(y, x) for x, y in closed] if upright else closed)

    (fault,) = faults_in(
        feature("a", "pond", comb(upright=False)), feature("b", "pond", comb(upright=True))
    )

    assert "very many places" in fault.problem


# Fuzz: any JSON at all, and drawings with any JSON put somewhere inside.

texts = st.text(max_size=8) | st.sampled_from(
    ["turf", "pond", "Polygon", "Point", "Feature", "FeatureCollection", "6 ft", "12 %", "\ud800"]
)
numbers = st.integers() | st.floats() | st.sampled_from([10**400, -(10**400), 1e308, 180, -85])
anything = st.recursive(
    st.none() | st.booleans() | numbers | texts,
    lambda inner: (
        st.lists(inner, max_size=5)
        | st.dictionaries(
            st.sampled_from(
                ["type", "features", "properties", "geometry", "coordinates", "id", "kind"]
            )
            | texts,
            inner,
            max_size=5,
        )
    ),
    max_leaves=25,
)


def assert_read_or_explained(whole: object) -> None:
    """A drawing that writes and reads back, or faults that can be printed."""
    try:
        read = read_drawing(whole)
    except FaultsFound as found:
        "".join(f"{fault.field}{fault}" for fault in found.faults).encode()
        return
    assert all(shape.geometry.is_valid and not shape.geometry.is_empty for shape in read.shapes)
    "".join(note.message for note in read.notes).encode()
    # A second reading finds nothing left to mend, and changes nothing.
    again = read_drawing(json.loads(json.dumps(write_drawing(read))))
    assert again.shapes == read.shapes


@given(whole=anything)
def test_any_json_is_a_drawing_or_is_explained(whole: object) -> None:
    assert_read_or_explained(whole)


@given(features=st.lists(anything, max_size=4))
def test_any_json_as_features_is_a_drawing_or_is_explained(features: list[object]) -> None:
    assert_read_or_explained(collection(*features))


def _paths(value: object, path: tuple[Any, ...] = ()) -> list[tuple[Any, ...]]:
    pairs = (
        value.items()
        if isinstance(value, dict)
        else enumerate(value)
        if isinstance(value, list)
        else ()
    )
    return [path] + [deeper for key, inner in pairs for deeper in _paths(inner, (*path, key))]


WHOLE = collection(
    LAWN,
    ROSES,
    feature("brook", "stream", {"type": "LineString", "coordinates": on_the_map([(0, 0), (9, 9)])}),
    feature("house", "building", {
        "type": "MultiPolygon",
        "coordinates": [area(box(10, 10, 15, 15))["coordinates"]],
    }),
)  # fmt: skip


@given(where=st.sampled_from(_paths(WHOLE)[1:]), instead=anything)
def test_a_drawing_with_anything_put_inside_is_read_or_explained(
    where: tuple[Any, ...], instead: object
) -> None:
    whole = copy.deepcopy(WHOLE)
    inner: Any = whole
    for key in where[:-1]:
        inner = inner[key]
    inner[where[-1]] = instead

    assert_read_or_explained(whole)


on_a_lawn_m = st.integers(0, 30_000).map(lambda millimetres: millimetres / 1000)
corners_m = st.tuples(on_a_lawn_m, on_a_lawn_m)
coarse_m = st.tuples(st.integers(0, 6).map(float), st.integers(0, 6).map(float))
rings_m = st.lists(corners_m, min_size=1, max_size=12) | st.lists(coarse_m, min_size=1, max_size=9)


@given(
    rings=st.lists(rings_m, min_size=1, max_size=3),
    kind=st.sampled_from(["turf", "building", "pond"]),
)
def test_a_scrawled_outline_is_mended_for_good_or_explained(
    rings: list[list[tuple[float, float]]], kind: str
) -> None:
    assert_read_or_explained(collection(feature("a", kind, area(*rings))))


@given(parts=st.lists(rings_m, min_size=1, max_size=4), kind=st.sampled_from(["patio", "well"]))
def test_scrawled_parts_are_mended_for_good(
    parts: list[list[tuple[float, float]]], kind: str
) -> None:
    coordinates = [area(part)["coordinates"] for part in parts]
    outline = {"type": "MultiPolygon", "coordinates": coordinates}

    assert_read_or_explained(collection(feature("a", kind, outline)))


@given(corners=rings_m)
def test_no_corner_of_a_protected_outline_is_left_unprotected(
    corners: list[tuple[float, float]],
) -> None:
    kept = drawing(feature("a", "pond", area(corners))).shapes[0].geometry

    # A tenth of a millimetre on the map.
    drawn = shapely.points(on_the_map(corners))
    assert shapely.distance(drawn, kept).max() < 1e-9


def test_every_kind_can_be_drawn_as_an_area() -> None:
    shapes = [feature(token, token, area(box(0, 0, 9, 9))) for token in KINDS]

    assert [shape.ref for shape in drawing(*shapes).shapes] == list(KINDS)
