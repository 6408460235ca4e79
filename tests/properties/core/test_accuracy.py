"""The error bar of an area, against simulation and against rectangles worked by hand."""

import math
from collections.abc import Callable

import numpy as np
import numpy.typing as npt
import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st
from shapely import MultiPolygon, Polygon, affinity, box
from shapely.geometry.base import BaseGeometry

from properties.core.accuracy import (
    Measured,
    Position,
    area_gradient_m,
    area_sigma_m2,
    corners_of,
    treatable_spread,
)
from properties.core.errors import Refused

Floats = npt.NDArray[np.float64]

FOOT_M = 0.3048
SQ_FT_M2 = FOOT_M**2
DRAWS = 40_000


def lawn(area_sq_ft: float) -> Polygon:
    """A rectangle half as long again as it is wide."""
    width_m = math.sqrt(area_sq_ft * SQ_FT_M2 / 1.5)
    return box(0, 0, 1.5 * width_m, width_m)


def l_shape(area_sq_ft: float) -> Polygon:
    """A square without its north-east quarter."""
    half_m = math.sqrt(area_sq_ft * SQ_FT_M2 / 3)
    return Polygon(
        half_m * np.array([(0, 0), (2, 0), (2, 1), (1, 1), (1, 2), (0, 2)], dtype=np.float64)
    )


def with_points_on_its_sides(area: Polygon, on_each: int) -> Polygon:
    return Polygon(
        [
            start + (end - start) * step / on_each
            for start, end in zip(
                shapely.get_coordinates(area)[:-1], shapely.get_coordinates(area)[1:], strict=True
            )
            for step in range(on_each)
        ]
    )


def moved_areas(area: Polygon, sigma_m: float, draws: int = DRAWS) -> Floats:
    """Areas of an outline whose corners were each moved by chance, by the shoelace."""
    corners = shapely.get_coordinates(area)[:-1]
    chance = np.random.default_rng(7)
    x, y = np.moveaxis(corners + chance.normal(0, sigma_m, (draws, *corners.shape)), 2, 0)
    areas: Floats = (x * np.roll(y, -1, axis=1) - np.roll(x, -1, axis=1) * y).sum(axis=1) / 2
    return areas


def test_a_rectangle_with_corners_good_to_a_foot_is_good_to_128_square_feet() -> None:
    # Worked by hand: each corner sees the diagonal, so s/2 * sqrt(4 * (100² + 80²)) = 128.06.
    sigma_m2 = area_sigma_m2(box(0, 0, 100 * FOOT_M, 80 * FOOT_M), sigma_m=FOOT_M)

    assert sigma_m2 / SQ_FT_M2 == pytest.approx(math.sqrt(100**2 + 80**2), rel=1e-12)
    assert round(sigma_m2 / SQ_FT_M2) == 128


@pytest.mark.parametrize("shape", [lawn, l_shape], ids=["rectangle", "L"])
@pytest.mark.parametrize("area_sq_ft", [5_000, 20_000])
@pytest.mark.parametrize("sigma_m", [0.3, 0.5, 1.0])
def test_the_closed_form_is_the_spread_of_a_simulation(
    shape: Callable[[float], Polygon], area_sq_ft: float, sigma_m: float
) -> None:
    area = shape(area_sq_ft)

    sigma_m2 = area_sigma_m2(area, sigma_m=sigma_m)

    # 40,000 draws know a standard deviation to 0.4 %; the terms of second order add up to 2 %.
    assert sigma_m2 == pytest.approx(moved_areas(area, sigma_m).std(), rel=0.03)


def test_a_hole_and_a_second_lawn_add_their_own_spread() -> None:
    hole = box(5, 5, 9, 8)
    holed = Polygon(box(0, 0, 30, 20).exterior.coords, [hole.exterior.coords])
    both = MultiPolygon([holed, box(40, 0, 55, 9)])

    sigma_m2 = area_sigma_m2(both, sigma_m=0.4)

    # A rectangle a by b has the variance s² (a² + b²), worked by hand.
    by_hand = 0.4 * math.sqrt(30**2 + 20**2 + 4**2 + 3**2 + 15**2 + 9**2)
    assert sigma_m2 == pytest.approx(by_hand, rel=1e-12)


@pytest.mark.parametrize("on_each", [3, 10])
def test_points_along_a_side_do_not_make_an_outline_look_better_placed(on_each: int) -> None:
    traced = with_points_on_its_sides(l_shape(5_000), on_each)

    sigma_m2 = area_sigma_m2(traced, sigma_m=0.5)

    assert sigma_m2 == pytest.approx(area_sigma_m2(l_shape(5_000), sigma_m=0.5), rel=1e-9)
    # If each point had an error of its own, the spread would shrink as points are added.
    assert sigma_m2 > 1.3 * moved_areas(traced, 0.5).std()


def test_a_wobble_smaller_than_the_error_is_no_corner() -> None:
    chance = np.random.default_rng(2)
    points = shapely.get_coordinates(with_points_on_its_sides(lawn(20_000), 12))[:-1]
    wobbly = Polygon(points + chance.uniform(-0.1, 0.1, points.shape))

    (corners,) = corners_of(wobbly, sigma_m=0.5)

    assert len(corners) == 4


sigmas_m = st.integers(10, 1_000).map(lambda millimetres: millimetres / 1000)
sides_m = st.integers(6, 80).map(float)


@given(width=sides_m, height=sides_m, sigma_m=sigmas_m, times=st.floats(0.2, 5))
def test_the_spread_goes_with_the_error_and_with_the_length(
    width: float, height: float, sigma_m: float, times: float
) -> None:
    once = area_sigma_m2(box(0, 0, width, height), sigma_m=sigma_m)

    # A side shorter than the error would be no side, so both are kept apart.
    more = area_sigma_m2(box(0, 0, width, height), sigma_m=sigma_m * min(times, 1))
    longer = area_sigma_m2(box(0, 0, width * 3, height * 3), sigma_m=sigma_m)
    assert more == pytest.approx(once * min(times, 1), rel=1e-9)
    assert longer == pytest.approx(once * 3, rel=1e-9)


@st.composite
def outlines(draw: st.DrawFn) -> Polygon:
    radii = draw(st.lists(st.integers(4, 30).map(float), min_size=3, max_size=12))
    angles = np.arange(len(radii)) * 2 * math.pi / len(radii)
    return Polygon(np.column_stack((radii * np.cos(angles), radii * np.sin(angles))))


@given(outline=outlines())
def test_a_shift_of_the_whole_outline_changes_no_area(outline: Polygon) -> None:
    for corners in corners_of(outline, sigma_m=0.3):
        assert np.abs(area_gradient_m(corners).sum(axis=0)).max() < 1e-12


@given(outline=outlines())
def test_the_gradient_is_the_change_of_area_of_a_moved_corner(outline: Polygon) -> None:
    (corners,) = corners_of(outline, sigma_m=0)
    gradient = area_gradient_m(corners)
    for number in range(len(corners)):
        for axis in (0, 1):
            moved = corners.copy()
            moved[number, axis] += 1e-3
            # The shoelace is linear in any one coordinate, so the difference is exact.
            change = Polygon(moved).area - Polygon(corners).area
            assert change / 1e-3 == pytest.approx(gradient[number, axis], abs=1e-8)


@given(
    outline=outlines(),
    begin=st.integers(1, 40),
    seed=st.integers(0, 1000),
    around=st.sampled_from([1, -1]),
)
def test_it_matters_not_where_or_which_way_round_an_outline_was_drawn(
    outline: Polygon, begin: int, seed: int, around: int
) -> None:
    points = shapely.get_coordinates(with_points_on_its_sides(outline, 4))[:-1]
    ring = points + np.random.default_rng(seed).uniform(-0.2, 0.2, points.shape)
    once = area_sigma_m2(Polygon(ring), sigma_m=0.15)

    again = area_sigma_m2(Polygon(np.roll(ring, begin, axis=0)[::around]), sigma_m=0.15)

    assert again == pytest.approx(once, rel=1e-9)


def test_a_scale_that_is_out_adds_twice_its_share_of_the_area() -> None:
    field = box(0, 0, 30, 20)

    by_scale = area_sigma_m2(field, sigma_m=0, scale_share=0.01)
    by_both = area_sigma_m2(field, sigma_m=0.5, scale_share=0.01)

    # 1 % on each length is 2 % on 600 m², to first order.
    assert by_scale == pytest.approx(12.0, rel=1e-12)
    assert affinity.scale(field, 1.01, 1.01).area - field.area == pytest.approx(by_scale, rel=0.01)
    by_corners = area_sigma_m2(field, sigma_m=0.5)
    assert by_both == pytest.approx(math.sqrt(by_corners**2 + by_scale**2), rel=1e-12)


TURF = Measured("lawn", l_shape(20_000), Position(sigma_m=0.5))
SHED = Measured("shed", box(8, 8, 13, 12), Position(sigma_m=0.3))
#: Its east half lies beyond the edge of the lawn.
DRIVE = Measured("drive", box(40, 3, 60, 10), Position(sigma_m=0.4))


def test_what_is_taken_out_adds_its_variance_by_the_border_inside_the_turf() -> None:
    turf = Measured("lawn", box(0, 0, 50, 30), Position(sigma_m=0.5, bias_m=0.2))
    inside = Measured("bed", box(10, 10, 14, 13), Position(sigma_m=0.3))
    across = Measured("drive", box(40, 3, 60, 10), Position(sigma_m=0.4, bias_m=0.1))
    beyond = Measured("well", box(90, 3, 95, 10), Position(sigma_m=2.0, bias_m=1.0))

    spread = treatable_spread([turf], [inside, across, beyond])

    # By hand: s² (a² + b²) for a rectangle; of the drive's border of 54 m, 27 m lie inside.
    by_hand = [
        0.5**2 * (50**2 + 30**2),
        0.3**2 * (4**2 + 3**2),
        0.5 * 0.4**2 * (20**2 + 7**2),
        0,
    ]
    assert [part.ref for part in spread.parts] == ["lawn", "bed", "drive", "well"]
    assert [part.corner_variance_m4 for part in spread.parts] == pytest.approx(by_hand, rel=1e-9)
    assert [part.bias_m2 for part in spread.parts] == pytest.approx([0.2 * 160, 0, 2.7, 0])
    assert spread.sigma_m2 == pytest.approx(math.sqrt(sum(by_hand)), rel=1e-9)
    # The 97.5th percentile of the normal distribution, as in any table of it.
    half_width = 1.96 * math.sqrt(sum(by_hand)) + 34.7
    assert spread.half_width_m2 == pytest.approx(half_width, rel=1e-9)


def test_the_scale_of_a_part_counts_for_the_area_it_takes() -> None:
    turf = Measured("lawn", box(0, 0, 50, 30), Position(sigma_m=0, scale_share=0.01))
    drive = Measured("drive", box(40, 3, 60, 10), Position(sigma_m=0, scale_share=0.01))

    spread = treatable_spread([turf], [drive])

    assert spread.sigma_m2 == pytest.approx(math.hypot(0.02 * 1500, 0.02 * 70), rel=1e-12)


def test_nothing_measured_has_no_spread() -> None:
    spread = treatable_spread([], [Measured("bed", Polygon(), Position(sigma_m=1))])

    assert spread.half_width_m2 == 0


def test_a_bias_is_the_ground_between_the_drawn_and_the_true_border() -> None:
    field = box(0, 0, 30, 20)
    spread = treatable_spread([Measured("field", field, Position(sigma_m=0, bias_m=0.1))], [])

    grown = field.buffer(0.1, join_style="mitre").area - field.area
    # The four corners, 0.1 m square each, are of second order.
    assert spread.bias_m2 == pytest.approx(grown - 4 * 0.1**2, rel=1e-9)
    assert spread.half_width_m2 == spread.bias_m2


def moved(shape: Measured, draws: int, chance: np.random.Generator) -> npt.NDArray[np.object_]:
    corners = shapely.get_coordinates(shape.outline)[:-1]
    offsets = chance.normal(0, shape.position.sigma_m, (draws, *corners.shape))
    return np.array(shapely.polygons(corners + offsets), dtype=object)


@pytest.mark.parametrize(
    "removed",
    [
        [],
        [SHED],
        [DRIVE],
        [SHED, DRIVE],
        [SHED, Measured("beside", box(11, 10, 20, 14), Position(sigma_m=0.4))],
    ],
    ids=["none", "inside", "across the edge", "two", "overlapping"],
)
def test_the_spread_of_treatable_ground_is_never_less_than_a_simulation(
    removed: list[Measured],
) -> None:
    chance = np.random.default_rng(11)
    draws = 4_000
    left = moved(TURF, draws, chance)
    for shape in removed:
        left = shapely.difference(left, moved(shape, draws, chance))

    sigma_m2 = treatable_spread([TURF], removed).sigma_m2

    # 4,000 draws know a standard deviation to 1.1 %; safe, but by no more than a fifth.
    simulated = shapely.area(left).std()
    assert 0.97 * simulated < sigma_m2 < 1.2 * simulated


@pytest.mark.parametrize("field", ["sigma_m", "bias_m", "scale_share"])
@pytest.mark.parametrize("value", [-0.1, math.nan, math.inf])
def test_an_error_below_nought_is_refused_by_name(field: str, value: float) -> None:
    with pytest.raises(Refused, match="not a number of zero or more") as refused:
        Position(**{"sigma_m": 0.3} | {field: value})

    assert refused.value.field == field
    assert refused.value.remedy


def test_every_way_in_refuses_an_error_below_nought() -> None:
    bed: BaseGeometry = box(0, 0, 3, 4)

    with pytest.raises(Refused):
        area_sigma_m2(bed, sigma_m=-1)
    with pytest.raises(Refused):
        area_sigma_m2(bed, sigma_m=1, scale_share=-1)
    with pytest.raises(Refused):
        corners_of(bed, sigma_m=-1)
