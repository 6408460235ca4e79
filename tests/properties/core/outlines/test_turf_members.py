"""What a drawn shape tells beside its outline: slope, gate, hand work, a downwind distance."""

import math
from typing import Any

import pytest

from properties.core.errors import FaultsFound
from properties.core.outlines import read_drawing, write_drawing
from properties.core.outlines.drawing import Shape
from properties.core.slopes import slope_factor
from tests.planner.core.asking import LAWN, area, corners_of, place

BED = area("bed", "flower_bed", corners_of(10, 10, 20, 20))


def turf(**members: Any) -> Any:
    return LAWN | {"properties": {"kind": "turf", **members}}


def read(feature: Any) -> Shape:
    return read_drawing(place(feature)).shapes[0]


def faults_of(feature: Any) -> dict[str, str]:
    with pytest.raises(FaultsFound) as found:
        read_drawing(place(feature))
    return {fault.field.rpartition(".")[2]: str(fault) for fault in found.value.faults}


@pytest.mark.parametrize(
    ("rise", "run"), [("2 ft", "20 ft"), ("24 in", "20 ft"), ("0.1 m", "1000 mm")]
)
def test_two_feet_up_over_twenty_are_ten_percent(rise: str, run: str) -> None:
    factor = slope_factor(read(turf(slope={"rise": rise, "run": run})).slope)

    assert factor == pytest.approx(slope_factor(read(turf(slope="10 %")).slope), rel=1e-12)
    # Pythagoras: 2 ft up and 20 ft along are sqrt(404) ft of turf.
    assert factor == pytest.approx(math.sqrt(404) / 20, rel=1e-12)


def test_turf_tells_its_gate_and_whether_it_is_hand_work() -> None:
    shape = read(turf(gate="4 ft", only="hand_tool"))

    assert (str(shape.gate), shape.by_hand_only) == ("4 ft", True)
    assert (read(turf()).gate, read(turf()).by_hand_only) == (None, False)


def test_what_was_told_is_written_and_reads_back() -> None:
    bed = BED | {"properties": {"kind": "flower_bed", "downwind_setback": "25 ft"}}
    grows = ["fine_fescue", "kentucky_bluegrass"]
    lawn = turf(gate="4 ft", only="hand_tool", slope="12.5 %", turfgrasses=grows)
    drawing = read_drawing(place(lawn, bed))

    again = read_drawing(write_drawing(drawing))

    assert again == drawing
    assert again.shapes[0].turfgrasses == ("fine_fescue", "kentucky_bluegrass")
    assert [str(shape.downwind_setback) for shape in again.shapes] == ["None", "25 ft"]


@pytest.mark.parametrize(
    ("members", "word", "words"),
    [
        ({"slope": {"rise": "2 ft"}}, "slope", "not a rise and a run"),
        ({"slope": {"rise": "2 ft", "run": "0 ft"}}, "slope", "0 ft is not above zero"),
        ({"slope": {"rise": "2", "run": "20 ft"}}, "slope", "has no unit"),
        ({"slope": {"rise": "-2 ft", "run": "20 ft"}}, "slope", "not a slope that ground can have"),
        ({"slope": "90 deg"}, "slope", "less than 90 deg"),
        ({"gate": "0 ft"}, "gate", "not the width of a gate"),
        ({"gate": "1 km"}, "gate", "not the width of a gate"),
        ({"only": "machine"}, "only", "Write hand_tool"),
        ({"turfgrasses": "fine_fescue"}, "turfgrasses", "not a list of turfgrasses"),
        ({"turfgrasses": ["moss"]}, "turfgrasses", "Write any of: kentucky_bluegrass"),
        ({"turfgrasses": [7]}, "turfgrasses", "not a list of turfgrasses"),
        ({"downwind_setback": "25 ft"}, "downwind_setback", "Turf has no setback"),
    ],
)
def test_a_slip_about_turf_is_told_at_its_member(
    members: dict[str, Any], word: str, words: str
) -> None:
    assert words in faults_of(turf(**members))[word]


@pytest.mark.parametrize(
    ("members", "word", "words"),
    [
        ({"gate": "4 ft"}, "gate", "Flower bed has no gate"),
        ({"only": "hand_tool"}, "only", "mark the turf around"),
        ({"turfgrasses": ["fine_fescue"]}, "turfgrasses", "tell it of the turf around"),
        ({"slope": "10 %"}, "slope", "give it to the turf around"),
        ({"downwind_setback": "-1 ft"}, "downwind_setback", "not a distance that can be kept"),
    ],
)
def test_a_bed_has_a_downwind_distance_and_no_gate(
    members: dict[str, Any], word: str, words: str
) -> None:
    assert words in faults_of(BED | {"properties": {"kind": "flower_bed", **members}})[word]
