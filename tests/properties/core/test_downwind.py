"""The extra distance on the side the wind comes from."""

import math
from collections.abc import Callable

import numpy as np
import numpy.typing as npt
import pytest
import shapely
from hypothesis import example, given
from hypothesis import strategies as st
from shapely import LineString, MultiLineString, MultiPolygon, Point, Polygon, box
from shapely.geometry.base import BaseGeometry

from properties.core.downwind import Downwind, facing_zone, sector_zone, with_downwind
from properties.core.errors import Refused
from properties.core.no_spray import no_spray_zone
from properties.core.sectors import turns

Floats = npt.NDArray[np.float64]
Zone = Callable[..., BaseGeometry]
FOOT_M = 0.3048
L_BED = Polygon([(0, 0), (10, 0), (10, 3), (4, 3), (4, 9), (0, 9)])


def test_a_sprayer_upwind_of_a_well_is_in_its_zone_and_one_downwind_is_not() -> None:
    well = Point(0, 0)

    # The wind comes from the west, so spray from the west blows to the well.
    zone = sector_zone(well, downwind_m=10, wind_from_deg=270, half_angle_deg=45)

    assert zone.covers(Point(-9, 0))
    assert not zone.intersects(Point(9, 0))
    assert not zone.intersects(Point(0, 9))


def test_a_sector_zone_of_a_box_has_the_area_of_the_mixed_area_formula() -> None:
    # Wind from the north over a box w by h, half-angle a, radius r, worked by hand: the zone is
    # the box, a band w wide and r high above it, and beside it the halves of the sector, each
    # carried down along a side h: h * r sin a on either side.
    width_m, height_m, radius_m, half_deg = 8.0, 5.0, 7.0, 30.0
    zone = sector_zone(
        box(0, 0, width_m, height_m), downwind_m=radius_m, wind_from_deg=0, half_angle_deg=half_deg
    )

    half = math.radians(half_deg)
    by_hand = (
        width_m * height_m
        + width_m * radius_m
        + 2 * height_m * radius_m * math.sin(half)
        + half * radius_m**2
    )
    # The arc, 2 a r long, is drawn up to a centimetre outside.
    assert by_hand <= zone.area <= by_hand + 2 * half * radius_m * 0.01


def test_a_feature_with_no_downwind_distance_is_its_own_zone() -> None:
    for zone_of in (sector_zone, facing_zone):
        bed = zone_of(L_BED, downwind_m=0, wind_from_deg=10, half_angle_deg=45)
        well = zone_of(Point(1, 1), downwind_m=0, wind_from_deg=10, half_angle_deg=45)

        assert bed.equals(L_BED)
        assert well.is_empty


def test_nothing_has_no_zone() -> None:
    for zone_of in (sector_zone, facing_zone):
        assert zone_of(Polygon(), downwind_m=5, wind_from_deg=10, half_angle_deg=45).is_empty


def test_a_line_of_no_length_is_a_point() -> None:
    for zone_of in (sector_zone, facing_zone):
        rule = {"downwind_m": 5.0, "wind_from_deg": 75.0, "half_angle_deg": 40.0}
        drain = zone_of(LineString([(1, 2), (1, 2)]), **rule)

        assert drain.equals(zone_of(Point(1, 2), **rule))


millimetres = st.integers(500, 12_000).map(lambda value: value / 1000)
distances_m = st.integers(100, 60_000).map(lambda value: value / 1000)
winds = st.integers(0, 360).map(float)
half_angles = st.integers(1, 90).map(float)


@st.composite
def beds(draw: st.DrawFn) -> Polygon:
    """An area that is seen whole from its middle, with hollows, as beds are drawn."""
    radii = draw(st.lists(millimetres, min_size=3, max_size=10))
    angles = np.arange(len(radii)) * 2 * math.pi / len(radii)
    return Polygon(np.column_stack((radii * np.cos(angles), radii * np.sin(angles))))


@given(bed=beds(), distance_m=distances_m, wind=winds, half_angle=half_angles)
def test_a_sector_zone_holds_the_feature_and_the_sector_at_each_of_its_corners(
    bed: Polygon, distance_m: float, wind: float, half_angle: float
) -> None:
    zone = sector_zone(bed, downwind_m=distance_m, wind_from_deg=wind, half_angle_deg=half_angle)

    bearings = np.radians(wind + np.linspace(-half_angle, half_angle, 17))
    rim = distance_m * np.column_stack((np.sin(bearings), np.cos(bearings)))
    corners = shapely.get_coordinates(bed)
    met = shapely.points((corners[:, None, :] + rim[None, :, :]).reshape(-1, 2))
    # Only rounding may put a point of the rim outside.
    assert shapely.distance(met, zone).max() < 1e-9
    assert bed.difference(zone).area < 1e-9


@given(bed=beds(), distance_m=distances_m, half_angle=half_angles)
def test_north_is_0_and_360_degrees_alike(
    bed: Polygon, distance_m: float, half_angle: float
) -> None:
    for zone_of in (sector_zone, facing_zone):
        at_0, at_360 = (
            zone_of(bed, downwind_m=distance_m, wind_from_deg=wind, half_angle_deg=half_angle)
            for wind in (0, 360)
        )

        assert at_0.equals(at_360)


@given(
    bed=beds(),
    distance_m=distances_m,
    farther_m=distances_m,
    wind=winds,
    angles=st.tuples(half_angles, half_angles),
)
def test_a_longer_distance_or_a_wider_angle_never_frees_ground(
    bed: Polygon, distance_m: float, farther_m: float, wind: float, angles: tuple[float, float]
) -> None:
    for zone_of in (sector_zone, facing_zone):
        small = zone_of(bed, downwind_m=distance_m, wind_from_deg=wind, half_angle_deg=min(angles))
        large = zone_of(
            bed, downwind_m=distance_m + farther_m, wind_from_deg=wind, half_angle_deg=max(angles)
        )

        # Arcs and parabolas are drawn less than a centimetre outside, not always by as much.
        assert small.difference(large.buffer(0.01)).area < 1e-6


@given(bed=beds(), distance_m=distances_m, wind=st.integers(0, 180).map(float))
def test_wind_from_both_sides_at_a_right_angle_is_the_distance_all_round(
    bed: Polygon, distance_m: float, wind: float
) -> None:
    all_round = no_spray_zone(bed, setback_m=distance_m)
    for zone_of in (sector_zone, facing_zone):
        both = shapely.union_all(
            [
                zone_of(bed, downwind_m=distance_m, wind_from_deg=side, half_angle_deg=90)
                for side in (wind, wind + 180)
            ],
            grid_size=1e-6,
        )

        assert both.difference(all_round.buffer(0.01)).area < 1e-6
        assert all_round.difference(both.buffer(0.01)).area < 1e-6


@given(bed=beds(), distance_m=distances_m, wind=winds, half_angle=half_angles)
def test_ground_that_faces_the_feature_also_meets_it_downwind(
    bed: Polygon, distance_m: float, wind: float, half_angle: float
) -> None:
    rule = {"downwind_m": distance_m, "wind_from_deg": wind, "half_angle_deg": half_angle}

    # The nearest point of the feature lies in the sector, so the sector meets the feature.
    beyond = facing_zone(bed, **rule).difference(sector_zone(bed, **rule).buffer(0.01))
    assert beyond.area < 1e-6


@given(distance_m=distances_m, wind=winds, half_angle=half_angles)
@example(distance_m=0.1, wind=90.0, half_angle=1.0)
def test_an_arc_runs_outside_the_true_circle_by_less_than_a_centimetre(
    distance_m: float, wind: float, half_angle: float
) -> None:
    for zone_of in (sector_zone, facing_zone):
        zone = zone_of(
            Point(0, 0), downwind_m=distance_m, wind_from_deg=wind, half_angle_deg=half_angle
        )

        assert np.hypot(*shapely.get_coordinates(zone).T).max() < distance_m + 0.01
        # The area of a sector of a circle; an engine that slips rounds corners to a micrometre.
        sector_m2 = math.radians(half_angle) * distance_m**2
        assert zone.area >= sector_m2 * (1 - 1e-6) - 1e-6 * zone.length


@pytest.mark.parametrize("faces_deg", range(0, 360, 15))
@pytest.mark.parametrize("half_angle", [15.0, 33.3, 60.0])
def test_a_side_on_the_very_edge_of_the_angle_faces_the_wind(
    faces_deg: int, half_angle: float
) -> None:
    # A path so turned that one side faces a bearing; the wind comes from the half-angle beside it.
    turned = math.radians(faces_deg)
    end = (10 * math.cos(turned), -10 * math.sin(turned))
    zone = facing_zone(
        LineString([(0, 0), end]),
        downwind_m=5,
        wind_from_deg=(faces_deg + half_angle) % 360,
        half_angle_deg=half_angle,
    )

    before_it = Point(end[0] / 2 + 4 * math.sin(turned), end[1] / 2 + 4 * math.cos(turned))
    assert zone.covers(before_it)


def test_touching_and_doubled_features_are_judged_as_one() -> None:
    bed = box(0, 0, 6, 4)
    rule = {"downwind_m": 5.0, "wind_from_deg": 250.0, "half_angle_deg": 50.0}
    drawn_twice = MultiPolygon([bed, bed])
    in_two_lines = MultiLineString([[(0, 0), (4, 0)], [(4, 0), (8, 3)]])
    in_one = LineString([(0, 0), (4, 0), (8, 3)])

    for zone_of in (sector_zone, facing_zone):
        twice, once = zone_of(drawn_twice, **rule), zone_of(bed, **rule)
        assert twice.symmetric_difference(once).area < 1e-4
        two, one = zone_of(in_two_lines, **rule), zone_of(in_one, **rule)
        assert two.symmetric_difference(one).area < 1e-4


@pytest.mark.parametrize(
    ("wind_from", "garden_ft", "bed_ft", "area_sq_ft"),
    [(270, 25, 5, 11_875), (190, 5, 25, 10_875), (225, 25, 25, 9_375)],
)
def test_the_wind_decides_which_side_of_a_lawn_keeps_25_feet(
    wind_from: float, garden_ft: float, bed_ft: float, area_sq_ft: float
) -> None:
    # A lawn of 150 by 100 ft, a vegetable garden along its east side and a bed along its north
    # side: 25 ft where the wind blows to the feature within 60 degrees, 5 ft otherwise.
    lawn, garden, bed = (
        box(west * FOOT_M, south * FOOT_M, east * FOOT_M, north * FOOT_M)
        for west, south, east, north in [
            (0, 0, 150, 100), (150, 0, 180, 100), (0, 100, 150, 106),
        ]
    )  # fmt: skip
    rule = Downwind(distance_m=25 * FOOT_M, half_angle_deg=60, judged="facing")

    zones = [
        with_downwind(feature, setback_m=5 * FOOT_M, downwind=rule, wind_from_deg=wind_from)
        for feature in (garden, bed)
    ]

    left = lawn.difference(shapely.union_all(zones))
    # All borders are straight lines along the lawn, placed to a micrometre.
    assert left.area / FOOT_M**2 == pytest.approx((150 - garden_ft) * (100 - bed_ft), abs=0.01)
    assert left.area / FOOT_M**2 == pytest.approx(area_sq_ft, abs=0.01)


def test_the_plain_distance_holds_all_round_whatever_the_wind() -> None:
    bed = L_BED
    for judged in ("sector", "facing"):
        rule = Downwind(distance_m=8, judged=judged)
        zone = with_downwind(bed, setback_m=2, downwind=rule, wind_from_deg=300)

        assert no_spray_zone(bed, setback_m=2).difference(zone).area < 1e-6
        assert zone.area > no_spray_zone(bed, setback_m=2).area + 10


def test_without_a_rule_or_with_a_shorter_one_the_plain_distance_is_all() -> None:
    bed = L_BED
    plain = no_spray_zone(bed, setback_m=2)

    assert with_downwind(bed, setback_m=2, downwind=None, wind_from_deg=None).equals(plain)
    assert with_downwind(bed, setback_m=2, downwind=None, wind_from_deg=90).equals(plain)
    shorter = Downwind(distance_m=1.5)
    assert with_downwind(bed, setback_m=2, downwind=shorter, wind_from_deg=90).equals(plain)


def test_a_downwind_rule_without_a_wind_is_refused() -> None:
    with pytest.raises(Refused, match="Read the wind on the spot") as refused:
        with_downwind(Point(0, 0), setback_m=2, downwind=Downwind(8), wind_from_deg=None)

    assert refused.value.field == "wind_from_deg"


@pytest.mark.parametrize("zone_of", [sector_zone, facing_zone])
@pytest.mark.parametrize(
    ("field", "value"),
    [
        ("wind_from_deg", 400.0),
        ("wind_from_deg", -1.0),
        ("wind_from_deg", math.nan),
        ("downwind_m", -0.1),
        ("downwind_m", math.inf),
        ("half_angle_deg", 0.0),
        ("half_angle_deg", 90.1),
        ("half_angle_deg", math.nan),
    ],
)
def test_a_rule_out_of_range_is_refused_by_name(zone_of: Zone, field: str, value: float) -> None:
    rule = {"downwind_m": 5.0, "wind_from_deg": 90.0, "half_angle_deg": 45.0} | {field: value}

    with pytest.raises(Refused) as refused:
        zone_of(Point(0, 0), **rule)

    assert refused.value.field == field
    assert refused.value.problem
    assert refused.value.remedy


@pytest.mark.parametrize(
    ("field", "rule"),
    [
        ("distance_m", {"distance_m": -1}),
        ("half_angle_deg", {"distance_m": 1, "half_angle_deg": 0}),
        ("judged", {"distance_m": 1, "judged": "guess"}),
    ],
)
def test_a_downwind_rule_that_cannot_be_kept_is_refused(
    field: str, rule: dict[str, object]
) -> None:
    with pytest.raises(Refused) as refused:
        Downwind(**rule)  # type: ignore[arg-type]

    assert refused.value.field == field


def test_a_wind_of_400_degrees_is_refused_even_where_no_rule_needs_it() -> None:
    with pytest.raises(Refused, match="not a bearing"):
        with_downwind(Point(0, 0), setback_m=2, downwind=None, wind_from_deg=400)


def test_the_end_of_a_line_turns_right_round_on_either_side_of_rounding() -> None:
    there_and_back = np.array([[3.0, 1e-17], [-3.0, 0.0]])

    assert turns(there_and_back).tolist() == [math.pi, math.pi]
