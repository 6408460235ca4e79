"""Where a swath fits, against shapes whose hand work is known by hand."""

import math

import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st
from shapely import MultiPolygon, Point, Polygon, affinity, box
from shapely.geometry.base import BaseGeometry

from properties.core.errors import Refused
from properties.core.passable import split_by_swath
from properties.core.plane import NOWHERE

SWATH_M = 8 * 0.3048


def mouth_m2(width_m: float) -> float:
    """What a disk as wide as the swath covers of a strip when it stands in its mouth.

    The segment of a circle over a chord as wide as the strip: r² a - c h / 2.
    """
    radius_m = SWATH_M / 2
    angle = math.asin(width_m / 2 / radius_m)
    return radius_m**2 * angle - width_m / 2 * radius_m * math.cos(angle)


# What is narrower than the swath, by hand.
KNOWN = [
    pytest.param(box(0, 0, 30, 20), 0, 0.01, id="rectangle"),
    pytest.param(
        Polygon([(0, 0), (30, 0), (30, 16), (12, 16), (12, 28), (0, 28)]), 0, 0.01, id="L"
    ),
    pytest.param(
        box(0, 0, 20, 15).union(box(20, 6, 40, 7.5)), 30 - mouth_m2(1.5), 0.02,
        id="side yard of 1.5 by 20 m",
    ),
    pytest.param(
        box(0, 0, 15, 20).union(box(15, 9, 27, 11)).union(box(27, 0, 42, 20)),
        24 - 2 * mouth_m2(2), 0.02, id="two yards and a strip of 2 by 12 m",
    ),
    pytest.param(
        box(0, 0, 30, 40).difference(box(9, 13, 21, 27)), 0, 0.01, id="round a house"
    ),
    pytest.param(
        box(0, 0, 20, 15).union(box(20, 7, 35, 7.3)), 4.5 - mouth_m2(0.3), 0.02,
        id="sliver of 0.3 by 15 m",
    ),
    # The corner (1 - pi/4) r² hangs together with the sliver and stays with it.
    pytest.param(
        box(0, 0, 20, 15).union(box(20, 0, 35, 0.3)),
        4.5 + (1 - math.pi / 4) * (SWATH_M / 2) ** 2, 0.02,
        id="sliver out of a corner",
    ),
    pytest.param(Point(0, 0).buffer(8, quad_segs=64), 0, 0.01, id="circle"),
    # Each of the tips of a triangle leaves r² (cot(a/2) - (pi - a)/2), the right angle nothing.
    pytest.param(
        Polygon([(0, 0), (30, 0), (0, 30 / math.sqrt(3))]),
        sum(
            (SWATH_M / 2) ** 2 * (1 / math.tan(tip / 2) - (math.pi - tip) / 2)
            for tip in (math.pi / 6, math.pi / 3)
        ),
        0.05,
        id="triangle 30, 60, 90",
    ),
]  # fmt: skip


@pytest.mark.parametrize("turn_deg", [0.0, 17.3, 45.0])
@pytest.mark.parametrize(("treatable", "hand_m2", "allowed_m2"), KNOWN)
def test_hand_work_is_what_is_narrower_than_the_swath(
    treatable: Polygon, hand_m2: float, allowed_m2: float, turn_deg: float
) -> None:
    _, hand = split_by_swath(affinity.rotate(treatable, turn_deg), swath_m=SWATH_M)

    assert hand.area == pytest.approx(hand_m2, abs=allowed_m2)


@given(
    long_m=st.floats(1, 40),
    wide=st.floats(1, 3),
    swath_m=st.floats(0.5, 6),
    turn_deg=st.floats(0, 90),
)
def test_a_rectangle_no_narrower_than_the_swath_has_no_hand_work(
    long_m: float, wide: float, swath_m: float, turn_deg: float
) -> None:
    lawn = affinity.rotate(box(0, 0, swath_m + long_m, swath_m * wide), turn_deg)

    machine, hand = split_by_swath(lawn, swath_m=swath_m)

    assert hand.area == pytest.approx(0, abs=1e-6)
    assert machine.area == pytest.approx(lawn.area, rel=1e-9)


@given(short=st.floats(0.2, 0.995), swath_m=st.floats(0.5, 6))
def test_a_strip_narrower_than_the_swath_is_all_hand_work(short: float, swath_m: float) -> None:
    strip = box(0, 0, 20, swath_m * short)

    machine, hand = split_by_swath(strip, swath_m=swath_m)

    assert (machine.area, hand.area) == (0, strip.area)


corner_m = st.tuples(st.integers(0, 40), st.integers(0, 40), st.integers(1, 20), st.integers(1, 20))
lawns = st.lists(corner_m, min_size=1, max_size=6).map(
    lambda sides: shapely.union_all([box(x, y, x + w, y + h) for x, y, w, h in sides])
)


@given(lawn=lawns, swath_m=st.floats(0.5, 6), turn_deg=st.floats(0, 90))
def test_machine_and_hand_ground_are_the_whole_and_share_nothing(
    lawn: BaseGeometry, swath_m: float, turn_deg: float
) -> None:
    lawn = affinity.rotate(lawn, turn_deg, origin=(0, 0))

    machine, hand = split_by_swath(lawn, swath_m=swath_m)

    assert machine.area + hand.area == pytest.approx(lawn.area, rel=1e-9)
    assert shapely.intersection(machine, hand, grid_size=1e-7).area == pytest.approx(0, abs=1e-4)
    assert {machine.geom_type, hand.geom_type} <= {"Polygon", "MultiPolygon"}


@given(lawn=lawns, swath_m=st.floats(0.5, 4), wider=st.floats(1, 2))
def test_a_wider_swath_leaves_no_less_hand_work_but_for_corners(
    lawn: BaseGeometry, swath_m: float, wider: float
) -> None:
    _, hand = split_by_swath(lawn, swath_m=swath_m)
    _, more = split_by_swath(lawn, swath_m=swath_m * wider)

    # A corner that is given back has at most 1.15 (1 - pi/4) r², and a lawn of six
    # rectangles has at most 60 corners.
    corner_m2 = 1.15 * (1 - math.pi / 4) * (swath_m * wider / 2) ** 2
    assert more.area >= hand.area - 60 * corner_m2 - 1e-6


def test_a_small_patch_by_itself_is_hand_work_however_small() -> None:
    machine, hand = split_by_swath(
        MultiPolygon([box(0, 0, 20, 20), box(30, 0, 30.3, 0.3)]), swath_m=SWATH_M
    )

    assert (machine.area, hand.area) == (pytest.approx(400), pytest.approx(0.09))  # type: ignore[comparison-overlap]


def test_nothing_splits_into_nothing() -> None:
    assert split_by_swath(NOWHERE, swath_m=2) == (NOWHERE, NOWHERE)


@pytest.mark.parametrize("swath_m", [0, -1, math.nan, math.inf])
def test_a_swath_that_is_no_width_is_refused(swath_m: float) -> None:
    with pytest.raises(Refused, match="above zero"):
        split_by_swath(box(0, 0, 1, 1), swath_m=swath_m)
