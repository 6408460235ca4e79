"""Ground on a slope against published factors, and where slopes overlap."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely import box

from properties.core.slopes import slope_factor, sloped_ground
from properties.core.units import parse_quantity


# sqrt(1 + s²) by hand, to the digits given.
@pytest.mark.parametrize(
    ("slope", "factor", "digits"),
    [
        ("0 %", 1, 9),
        ("5 %", 1.00125, 5),
        ("10 %", 1.00499, 5),
        ("20 %", 1.0198, 4),
        ("33.333333 %", 1.05409, 5),
        ("50 %", 1.11803, 5),
        ("100 %", math.sqrt(2), 9),
        # 1/cos: 0.38 %, 3.5 % and 15.5 % more ground.
        ("5 deg", 1.0038, 4),
        ("15 deg", 1.0353, 4),
        ("30 deg", 1.1547, 4),
        ("60 deg", 2, 9),
    ],
)
def test_a_slope_makes_ground_larger_by_its_factor(slope: str, factor: float, digits: int) -> None:
    assert slope_factor(parse_quantity(slope)) == pytest.approx(factor, abs=0.51 * 10**-digits)


def test_level_ground_is_as_large_as_its_map() -> None:
    assert slope_factor(None) == 1


@given(angle_deg=st.floats(0, 89))
def test_a_slope_in_percent_and_its_angle_are_the_same_slope(angle_deg: float) -> None:
    percent = 100 * math.tan(math.radians(angle_deg))

    assert slope_factor(parse_quantity(f"{percent!r} %")) == pytest.approx(
        slope_factor(parse_quantity(f"{angle_deg!r} deg")), rel=1e-12
    )


def test_where_two_slopes_overlap_the_gentler_counts() -> None:
    for turf in (
        [(1.0, box(0, 0, 10, 10)), (1.5, box(5, 0, 15, 10))],
        [(1.5, box(5, 0, 15, 10)), (1.0, box(0, 0, 10, 10))],
    ):
        ground, contested_m2 = sloped_ground(turf)

        assert ground.area_m2 == pytest.approx(100 + 1.5 * 50, rel=1e-12)
        assert contested_m2 == pytest.approx(50, rel=1e-12)
        assert ground.area_of(box(4, 0, 11, 1)) == pytest.approx(6 + 1.5, rel=1e-12)


def test_turf_of_one_slope_is_contested_by_nothing() -> None:
    ground, contested_m2 = sloped_ground([(1.2, box(0, 0, 10, 10)), (1.2, box(5, 0, 15, 10))])

    assert ground.area_m2 == pytest.approx(1.2 * 150)
    assert contested_m2 == 0


def test_no_turf_has_no_area() -> None:
    ground, contested_m2 = sloped_ground([])

    assert (ground.area_m2, contested_m2, ground.area_of(box(0, 0, 0, 0))) == (0, 0, 0)
