"""What differs between two drawings, on lawns whose areas are known by hand."""

import math
from dataclasses import replace

import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st
from shapely import LineString, MultiPolygon, Point, Polygon, affinity, box
from shapely.geometry.base import BaseGeometry

from properties.core.changes import Fate, Redrawn, ShapeChange, compare
from properties.core.features import KINDS
from properties.core.frame import Frame
from properties.core.outlines import Drawing, Shape
from properties.core.units import Quantity

FRAME = Frame(-92.0, 41.0)


def drawn(ref: str, kind: str, plane: BaseGeometry, name: str = "") -> Shape:
    """A shape from its outline in metres east and north of 41° N, 92° W."""
    return Shape(ref, KINDS[kind], name, FRAME.to_degrees(plane))


LAWN = drawn("lawn", "turf", box(0, 0, 30, 20), "Lawn")
BED = drawn("bed", "flower_bed", box(5, 5, 8, 7), "Rose bed")
WELL = drawn("well", "well", Point(12, 12))
GARDEN = drawn("garden", "vegetable_garden", box(20, 12, 24, 16))
PATH = drawn("brook", "stream", LineString([(0, 0), (30, 1)]))


def only_change(before: Shape, after: Shape) -> ShapeChange:
    """What differs when one shape of a drawing is replaced by another."""
    changes = compare(Drawing((before, GARDEN)), Drawing((after, GARDEN))).changes
    assert len(changes) == 1
    return changes[0]


def test_the_same_drawing_twice_has_no_change() -> None:
    once, again = Drawing((LAWN, BED, WELL)), Drawing((replace(LAWN), replace(BED), replace(WELL)))

    comparison = compare(once, again)

    assert comparison.changes == ()
    assert comparison.unchanged == ("lawn", "bed", "well")
    assert not comparison.reordered


def test_what_came_and_what_went_are_told_with_their_areas() -> None:
    comparison = compare(Drawing((LAWN, BED)), Drawing((LAWN, PATH, WELL)))

    fates = [(change.ref, change.fate) for change in comparison.changes]
    assert fates == [("brook", Fate.ADDED), ("well", Fate.ADDED), ("bed", Fate.REMOVED)]
    assert comparison.unchanged == ("lawn",)
    (bed,) = comparison.of_fate(Fate.REMOVED)
    assert bed.shape is BED
    assert bed.area_before_m2 == pytest.approx(6, rel=1e-9)
    assert bed.area_after_m2 is None
    assert [change.area_after_m2 for change in comparison.of_fate(Fate.ADDED)] == [None, None]


def test_everything_of_the_first_drawing_was_added() -> None:
    comparison = compare(Drawing(()), Drawing((LAWN,)))

    assert [change.fate for change in comparison.changes] == [Fate.ADDED]
    # 30 m by 20 m.
    assert comparison.changes[0].area_after_m2 == pytest.approx(600, rel=1e-9)


def test_two_empty_drawings_have_nothing_to_tell() -> None:
    assert compare(Drawing(()), Drawing(())).changes == ()


@given(east_m=st.floats(0.02, 80), north_m=st.floats(-80, 80))
def test_a_shape_that_was_dragged_is_moved_by_as_far_as_it_went(
    east_m: float, north_m: float
) -> None:
    dragged = affinity.translate(box(5, 5, 8, 7), east_m, north_m)

    change = only_change(BED, drawn("bed", "flower_bed", dragged, "Rose bed"))

    assert change.outline is Redrawn.MOVED
    # The frame is true to 3 parts in a million.
    assert change.moved_m == pytest.approx(math.hypot(east_m, north_m), rel=1e-5)
    assert change.area_after_m2 == pytest.approx(6, rel=1e-7)


def test_a_dragged_point_and_a_dragged_line_are_moved_too() -> None:
    well = only_change(WELL, drawn("well", "well", Point(15, 16)))
    brook = only_change(PATH, drawn("brook", "stream", LineString([(0, 2), (30, 3)])))

    assert {well.outline, brook.outline} == {Redrawn.MOVED}
    assert well.moved_m == pytest.approx(5)  # 3 and 4
    assert brook.moved_m == pytest.approx(2)
    assert well.area_before_m2 is None


@pytest.mark.parametrize(
    "outline",
    [
        pytest.param(box(0, 0, 33, 20), id="one side dragged"),
        pytest.param(Polygon([(0, 0), (30, 0), (30, 20), (15, 26), (0, 20)]), id="a corner more"),
        pytest.param(box(0, 0, 30, 20) - box(10, 8, 12, 10), id="a hole cut"),
        pytest.param(MultiPolygon([box(0, 0, 10, 20), box(12, 0, 30, 20)]), id="cut in two"),
        pytest.param(affinity.rotate(box(0, 0, 30, 20), 90), id="turned"),
        pytest.param(LineString([(0, 0), (30, 20)]), id="a line now"),
        pytest.param(Point(3, 3), id="a point now"),
    ],
)
def test_an_outline_of_another_shape_is_reshaped(outline: BaseGeometry) -> None:
    change = only_change(LAWN, drawn("lawn", "turf", outline, "Lawn"))

    assert (change.fate, change.outline, change.moved_m) == (Fate.CHANGED, Redrawn.RESHAPED, 0)
    assert change.area_before_m2 == pytest.approx(600, rel=1e-9)
    assert change.area_after_m2 == (pytest.approx(outline.area, rel=1e-9) if outline.area else None)


@pytest.mark.parametrize(
    "outline",
    [
        pytest.param(Polygon([(0, 0), (15, 0), (30, 0), (30, 20), (0, 20)]), id="corner on a side"),
        pytest.param(Polygon([(0, 20), (0, 0), (30, 0), (30, 20)]), id="begun elsewhere"),
        pytest.param(box(0, 0, 30, 20).reverse(), id="drawn the other way round"),
        pytest.param(box(0.004, 0, 30, 20), id="a corner nudged by 4 mm"),
    ],
)
def test_the_same_ground_drawn_with_other_corners_is_retraced(outline: Polygon) -> None:
    change = only_change(LAWN, drawn("lawn", "turf", outline, "Lawn"))

    assert (change.outline, change.moved_m) == (Redrawn.RETRACED, 0)


@pytest.mark.parametrize(
    ("fact", "value"),
    [
        ("kind", KINDS["pond"]),
        ("name", "Pond by the gate"),
        ("setback", Quantity(10.0, "ft")),
        ("downwind_setback", Quantity(30.0, "ft")),
        ("slope", Quantity(12.0, "%")),
        ("gate", Quantity(48.0, "in")),
        ("by_hand_only", True),
        ("turfgrasses", ("fine_fescue",)),
        ("measured_by", "tape"),
        ("position_error", Quantity(0.5, "ft")),
    ],
)
def test_each_fact_that_differs_is_named_and_the_outline_is_not(fact: str, value: object) -> None:
    change = only_change(BED, replace(BED, **{fact: value}))  # type: ignore[arg-type]

    assert change.facts == (fact,)
    assert change.outline is Redrawn.NOT
    assert getattr(change.shape, fact) == value


def test_a_slope_makes_turf_larger_on_the_ground_and_nothing_else() -> None:
    steep = Quantity(75.0, "%")
    lawn = only_change(LAWN, replace(LAWN, slope=steep))
    bed = only_change(BED, replace(BED, slope=steep))

    # A rise of 3 over a run of 4 makes a slope of 5: a quarter more ground.
    assert lawn.area_after_m2 == pytest.approx(750, rel=1e-9)
    assert bed.area_after_m2 == pytest.approx(6, rel=1e-9)


def test_only_the_order_of_shapes_kept_in_both_counts_as_another_order() -> None:
    swapped = compare(Drawing((LAWN, BED)), Drawing((BED, LAWN)))
    joined = compare(Drawing((LAWN, BED)), Drawing((WELL, LAWN, BED)))

    assert (swapped.changes, swapped.reordered) == ((), True)
    assert not joined.reordered


def test_a_shape_across_the_180th_meridian_moves_metres_and_not_round_the_earth() -> None:
    def at(lon: float) -> Shape:
        return Shape("w", KINDS["well"], "", Point(lon, 0.0))

    change = compare(Drawing((at(179.9999),)), Drawing((at(-179.9999),))).changes[0]

    # 0.0002° of the equator, 6,378,137 m round.
    assert change.moved_m == pytest.approx(math.radians(0.0002) * 6_378_137, rel=1e-6)


refs = st.lists(st.sampled_from("abcdef"), unique=True)


@given(before=refs, after=refs)
def test_every_shape_is_told_once_and_what_came_and_went_changes_places_backwards(
    before: list[str], after: list[str]
) -> None:
    def drawing(names: list[str]) -> Drawing:
        return Drawing(tuple(drawn(name, "well", Point(ord(name), 0)) for name in names))

    there = compare(drawing(before), drawing(after))
    back = compare(drawing(after), drawing(before))

    assert sorted([*there.unchanged, *(change.ref for change in there.changes)]) == sorted(
        {*before, *after}
    )
    assert [c.ref for c in there.of_fate(Fate.ADDED)] == [c.ref for c in back.of_fate(Fate.REMOVED)]
    assert there.of_fate(Fate.CHANGED) == ()
    assert there.reordered == back.reordered


def test_a_long_shore_is_compared_without_a_wait() -> None:
    # 10,000 corners against as many: half of all that a property may have.
    round_pond = [
        (90 * math.cos(turn / 1592), 90 * math.sin(turn / 1592)) for turn in range(10_000)
    ]
    pond = drawn("pond", "pond", Polygon(round_pond))
    again = drawn("pond", "pond", shapely.segmentize(Polygon(round_pond), 0.03))

    assert only_change(pond, again).outline is Redrawn.RETRACED
