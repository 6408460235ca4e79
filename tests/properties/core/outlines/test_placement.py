"""What a drawn shape tells about how well it is placed."""

import json
from typing import Any

import pytest

from properties.core.errors import FaultsFound
from properties.core.outlines import read_drawing, write_drawing
from tests.properties.core.drawn import area, box, collection, drawing, feature

LAWN = area(box(0, 0, 30, 20))


@pytest.mark.parametrize("kind", ["turf", "building", "flower_bed"])
@pytest.mark.parametrize(
    "told",
    [
        {"position_error": "1.5 ft"},
        {"measured_by": "imagery"},
        {"measured_by": "tape", "position_error": "0.05 m"},
    ],
)
def test_what_was_told_of_any_kind_is_written_and_reads_back(
    kind: str, told: dict[str, str]
) -> None:
    whole = drawing(feature("a", kind, LAWN, **told))

    written = json.loads(json.dumps(write_drawing(whole)))

    assert written["features"][0]["properties"] == {"kind": kind, **told}
    assert read_drawing(written) == whole
    (shape,) = whole.shapes
    assert shape.measured_by == told.get("measured_by")
    assert (shape.position_error and str(shape.position_error)) == told.get("position_error")


def test_what_nobody_told_is_unknown() -> None:
    (shape,) = drawing(feature("a", "turf", LAWN)).shapes

    assert (shape.position_error, shape.measured_by) == (None, None)


@pytest.mark.parametrize(
    ("told", "word", "words"),
    [
        ({"position_error": "0 ft"}, "position_error", "0 ft is not how far"),
        ({"position_error": "-1 ft"}, "position_error", "leave it out where nobody knows"),
        ({"position_error": "101 m"}, "position_error", "to 100 m"),
        ({"position_error": "1.5"}, "position_error", "has no unit"),
        ({"position_error": "2 sq ft"}, "position_error", "is a area, not a length"),
        ({"measured_by": "guessed"}, "measured_by", "Write one of: imagery, walked, tape."),
        ({"measured_by": ["tape"]}, "measured_by", "not one of the words"),
    ],
)
def test_a_slip_is_told_at_its_member(told: dict[str, Any], word: str, words: str) -> None:
    with pytest.raises(FaultsFound) as found:
        read_drawing(collection(feature("a", "turf", LAWN, **told)))

    (fault,) = found.value.faults
    assert fault.field == f'features[0] "a".properties.{word}'
    assert words in str(fault)
