"""How far corners may be out, by the way they were measured."""

from typing import Any

import pytest

from planner.core.request import read_request
from properties.core.units import Quantity
from tests.planner.core.asking import LAWN, area, asking, corners_of, place
from tests.planner.core.request.test_whole import faults_of


def lawn(**told: Any) -> Any:
    return LAWN | {"properties": {"kind": "turf", **told}}


BED = area("bed", "bed", corners_of(10, 10, 20, 20), name="Roses", measured_by="walked")


def test_a_shape_has_its_own_error_before_that_of_its_way_of_measuring() -> None:
    request = read_request(
        asking(
            property=place(lawn(measured_by="tape", position_error="2 in"), BED),
            position_errors={"walked": "3 m", "tape": "0.1 m"},
        )
    )

    errors = [request.placing.error_of(shape) for shape in request.drawing.shapes]
    assert errors == [Quantity(2, "in"), Quantity(3, "m")]


def test_nobody_s_error_is_unknown() -> None:
    request = read_request(asking(position_errors={"imagery": "1 m"}))

    assert [request.placing.error_of(shape) for shape in request.drawing.shapes] == [None]
    assert request.placing.better is None


@pytest.mark.parametrize(
    ("told", "better"),
    [
        ({"position_errors": {"tape": "0.1 m"}}, "0.1 m"),
        ({"position_errors": {"tape": "0.1 m"}, "better_error": "0.3 m"}, "0.3 m"),
        ({"better_error": "1 ft"}, "1 ft"),
    ],
)
def test_measured_again_is_by_tape_unless_told(told: Any, better: str) -> None:
    assert str(read_request(asking(**told)).placing.better) == better


@pytest.mark.parametrize("errors", [{}, {"position_errors": {"tape": "0.1 m"}}])
def test_a_way_of_measuring_without_its_error_is_a_fault(errors: Any) -> None:
    faults = faults_of(asking(property=place(lawn(measured_by="walked"), BED), **errors))

    assert set(faults) == {"position_errors.walked"}
    assert "measured by “walked” is out (lawn and Roses)" in faults["position_errors.walked"]


@pytest.mark.parametrize(
    ("told", "where", "words"),
    [
        ({"position_errors": {"eye": "1 m"}}, "position_errors.eye", "not part of a plan request"),
        ({"position_errors": {"walked": 3}}, "position_errors.walked", "has no unit"),
        ({"position_errors": {"walked": "0 m"}}, "position_errors.walked", "not above zero"),
        ({"position_errors": []}, "position_errors", "not an object"),
        ({"better_error": "1 km"}, "better_error", "cannot be right"),
    ],
)
def test_a_slip_is_told_once_at_its_member(told: Any, where: str, words: str) -> None:
    measured = {"walked": place(LAWN, BED)}.get(where.rpartition(".")[2], place(LAWN))

    faults = faults_of(asking(property=measured, **told))

    assert set(faults) == {where}
    assert words in faults[where]


def test_a_drawing_with_faults_of_its_own_tells_only_those() -> None:
    assert set(faults_of(asking(property=place(lawn(measured_by="eye"))))) == {
        'property.features[0] "lawn".properties.measured_by'
    }
