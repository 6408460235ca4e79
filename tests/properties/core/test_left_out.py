"""Ground under overlapping zones, shared out once each."""

import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st
from shapely import Point, Polygon, affinity, box
from shapely.geometry.base import BaseGeometry

from properties.core.left_out import first_come, share_of
from properties.core.plane import NOWHERE, Area, cut, union_of
from properties.core.slopes import sloped_ground

whole_m = st.integers(0, 14)
sizes_m = st.integers(1, 5)
rectangles = st.tuples(whole_m, whole_m, sizes_m, sizes_m)
LAWN = (2, 2, 14, 12)


def areas_m2(zones: list[Polygon], ground: Area) -> list[float]:
    shares = first_come(zones, ground, clusters=union_of(zones))
    assert all(shapely.is_valid(piece) for pieces in shares for piece in pieces)
    return [sum(piece.area for piece in pieces) for pieces in shares]


@given(sides=st.lists(rectangles, min_size=1, max_size=60), angle_deg=st.floats(0, 90))
def test_each_square_metre_goes_to_the_first_zone_that_covers_it(
    sides: list[tuple[int, int, int, int]], angle_deg: float
) -> None:
    # On a lattice it can be counted which zone is the first over each unit square.
    expected = [0] * len(sides)
    west, south, width, height = LAWN
    for x in range(west, west + width):
        for y in range(south, south + height):
            first = next(
                (n for n, (left, low, w, h) in enumerate(sides)
                 if left <= x < left + w and low <= y < low + h), None
            )  # fmt: skip
            if first is not None:
                expected[first] += 1

    lawn, *zones = (
        affinity.rotate(box(x, y, x + w, y + h), angle_deg, origin=(0, 0))
        for x, y, w, h in [LAWN, *sides]
    )

    assert areas_m2(zones, lawn) == pytest.approx(expected, rel=1e-9, abs=1e-7)


@pytest.mark.parametrize("turn_deg", [0, 90])
def test_many_zones_in_one_heap_are_shared_out_as_one_after_the_other(turn_deg: float) -> None:
    lawn, *circles = (
        affinity.rotate(shape, turn_deg, origin=(0, 0))
        for shape in (
            box(-5, -5, 120, 3),
            *(Point(step * 0.9, (step * 7) % 5).buffer(2) for step in range(120)),
        )
    )

    expected = []
    left: BaseGeometry = lawn
    for circle in circles:
        expected.append(left.intersection(circle).area)
        left = left.difference(circle)

    assert areas_m2(circles, lawn) == pytest.approx(expected, rel=1e-9, abs=1e-7)


def test_no_zones_and_no_ground_share_nothing() -> None:
    assert first_come([], box(0, 0, 1, 1), clusters=NOWHERE) == []
    assert areas_m2([box(0, 0, 1, 1)], NOWHERE) == [0]


def test_a_share_is_told_as_own_ground_and_strip_on_the_slope() -> None:
    ground, _ = sloped_ground([(1.25, box(0, 0, 20, 20))])

    share = share_of("bed", [box(3, 3, 9, 9)], box(4, 4, 8, 8), ground)

    assert share.ref == "bed"
    assert share.own_ground_m2 == pytest.approx(1.25 * 16)
    assert share.strip_m2 == pytest.approx(1.25 * 20)
    assert share.area_m2 == pytest.approx(1.25 * 36)


def test_a_zone_on_the_edge_is_cut_against_the_ground_beside_it_and_no_other(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    zones = [box(3 * x, 3 * y, 3 * x + 2, 3 * y + 2) for x in range(30) for y in range(30)]
    lawn = box(1, 1, 88, 88)
    ground = union_of([zone.intersection(lawn) for zone in zones])
    pieces_of_ground: list[int] = []

    def counted(area: Area, by: Area) -> tuple[Area, Area]:
        pieces_of_ground.append(len(shapely.get_parts(by)))
        return cut(area, by)

    monkeypatch.setattr("properties.core.left_out.cut", counted)
    areas = areas_m2(zones, ground)

    assert sum(areas) == pytest.approx(ground.area, rel=1e-9)
    # Four sides of 30 zones lie across the edge of the lawn, each beside one piece of ground.
    assert len(pieces_of_ground) >= 116
    assert max(pieces_of_ground) == 1
