"""What may be treated: worked scenarios, geodesics, and what must hold of any property."""

import math
from dataclasses import replace

import numpy as np
import numpy.typing as npt
import pyproj
import pytest
import shapely
from shapely import Point, Polygon

from properties.core.errors import Refused
from properties.core.frame import frame_around
from properties.core.outlines import Drawing
from properties.core.treatable import Treatment, treat
from properties.core.units import parse_quantity
from properties.core.zones import Setback
from tests.properties.core.drawn import (
    ACRE_M2,
    FOOT_M,
    SQ_FT_M2,
    Json,
    area,
    box,
    drawing,
    feature,
    in_feet,
    on_the_map,
    treated,
)

GEOD = pyproj.Geod(ellps="WGS84")


def feet_box(west: float, south: float, east: float, north: float) -> Json:
    return area(in_feet(box(west, south, east, north)))


# An estimate of an invented lawn with a bed of 24 by 10 ft, worked by hand: rectangles, and
# Steiner's formula for the bed with its strip.
FRONT = feature("front", "turf", feet_box(0, 0, 80, 45))
BACK = feature("back", "turf", feet_box(0, 100, 110, 170))
STRIP = feature("strip", "turf", feet_box(120, 0, 126, 60))
BED = feature("bed", "flower_bed", feet_box(40, 128, 64, 138))


def test_the_boom_keeps_six_feet_from_the_bed() -> None:
    site = treated(FRONT, BACK, BED, bed=6 * FOOT_M)

    assert site.treatable_area_m2 / SQ_FT_M2 == pytest.approx(10_538.9, rel=0.002)
    assert site.no_spray_area_m2 / SQ_FT_M2 == pytest.approx(761.10, rel=0.002)


def test_the_hand_gun_keeps_eighteen_inches_and_the_ring_between_is_its_own() -> None:
    near = treated(FRONT, BACK, BED, bed=1.5 * FOOT_M)
    far = treated(FRONT, BACK, BED, bed=6 * FOOT_M)

    assert near.no_spray_area_m2 / SQ_FT_M2 == pytest.approx(349.07, rel=0.002)
    ring_m2 = near.treatable_area_m2 - far.treatable_area_m2
    assert ring_m2 / SQ_FT_M2 == pytest.approx(412.0, rel=0.002)
    # 109.07 sq ft of turf are left untreated on purpose; the bed's own 240 are no turf left.
    (left,) = near.left_out
    assert left.strip_m2 / SQ_FT_M2 == pytest.approx(109.07, rel=0.002)
    assert left.own_ground_m2 / SQ_FT_M2 == pytest.approx(240, rel=0.002)


def test_shapes_tell_their_own_areas() -> None:
    site = treated(FRONT, STRIP, BED, bed=0)

    own_sq_ft = {ref: m2 / SQ_FT_M2 for ref, m2 in site.shape_areas_m2.items()}
    assert own_sq_ft == {
        "front": pytest.approx(3600, rel=1e-3),
        "strip": pytest.approx(360, rel=1e-3),
        "bed": pytest.approx(240, rel=1e-3),
    }


def field(acres: float, lat: float) -> list[tuple[float, float]]:
    """A convex field of seven corners."""
    radius_m = math.sqrt(acres * ACRE_M2 / (3.5 * math.sin(2 * math.pi / 7)))
    angles = [0.2 + 2 * math.pi * corner / 7 for corner in range(7)]
    return [(radius_m * math.cos(angle), radius_m * math.sin(angle)) for angle in angles]


@pytest.mark.parametrize("lat", [0.0, 10.0, 25.0, 40.0, 55.0, 70.0])
@pytest.mark.parametrize("acres", [1, 20, 200])
def test_treatable_ground_is_its_geodesic_area_to_one_in_a_million(
    acres: float, lat: float
) -> None:
    lawn = field(acres, lat)
    house = [(0.2 * x, 0.2 * y) for x, y in lawn]

    site = treated(
        feature("lawn", "turf", area(lawn, lat=lat)),
        feature("house", "building", area(house, lat=lat)),
    )

    # Karney (2013): the geodesic area of the lawn less that of the house.
    geodesic_m2 = math.fsum(
        sign * abs(GEOD.geometry_area_perimeter(Polygon(on_the_map(ring, lat=lat)))[0])
        for sign, ring in ((1, lawn), (-1, house))
    )
    assert site.treatable_area_m2 == pytest.approx(geodesic_m2, rel=1e-6)


def test_the_way_back_to_degrees_keeps_the_area() -> None:
    site = treated(
        feature("lawn", "turf", area(box(0, 0, 60, 40))),
        feature("well", "well", {"type": "Point", "coordinates": on_the_map([(30, 20)])[0]}),
        well=15.24,
    )

    drawn = site.treatable_degrees()
    assert drawn.geom_type == "MultiPolygon"
    assert abs(GEOD.geometry_area_perimeter(drawn)[0]) == pytest.approx(
        site.treatable_area_m2, rel=1e-6
    )
    assert away_from_well_m(site).max() < 15.24 + 0.01
    assert away_from_well_m(site).min() >= 15.24


def away_from_well_m(site: Treatment) -> npt.NDArray[np.float64]:
    """Geodesic distances of 4,000 points along the well's zone."""
    (zone,) = shapely.get_parts(site.zones_degrees()["well"])
    along = shapely.line_interpolate_point(zone.exterior, np.linspace(0, 1, 4000), normalized=True)
    lon, lat = shapely.get_coordinates(along).T
    west, south = on_the_map([(30, 20)])[0]
    distances_m: npt.NDArray[np.float64] = GEOD.inv(
        np.full_like(lon, west), np.full_like(lat, south), lon, lat
    )[2]
    return distances_m


def test_ground_under_an_obstacle_is_an_obstacle_even_in_a_zone() -> None:
    site = treated(
        feature("lawn", "turf", area(box(0, 0, 30, 20))),
        feature("walk", "walk", area(box(0, 8, 30, 10))),
        feature("bed", "bed", area(box(10, 8, 14, 10))),
        bed=1,
    )

    assert site.obstacle_area_m2 == pytest.approx(60, rel=1e-3)
    # The bed lies on the walk: only its strip is left, 4 m at either side and two round ends
    # less what of them lies on the walk.
    assert site.left_out[0].own_ground_m2 == pytest.approx(0, abs=1e-3)
    assert site.no_spray_area_m2 == pytest.approx(2 * 4 + math.pi, rel=5e-3)


def test_an_obstacle_may_keep_a_distance_too() -> None:
    shapes = [
        feature("lawn", "turf", area(box(0, 0, 30, 20))),
        feature("house", "building", area(box(10, 8, 14, 10))),
    ]

    site = treated(*shapes, house=0.3)

    assert site.obstacle_area_m2 == pytest.approx(8, rel=1e-3)
    assert site.no_spray_area_m2 == pytest.approx(12 * 0.3 + math.pi * 0.09, rel=5e-3)
    assert treated(*shapes).no_spray_area_m2 == 0


def test_overlapping_turf_counts_once_and_says_so() -> None:
    site = treated(
        feature("a", "turf", area(box(0, 0, 20, 20))),
        feature("b", "turf", area(box(10, 0, 30, 20))),
    )

    assert site.turf_area_m2 == pytest.approx(600, rel=1e-3)
    (note,) = site.notes
    assert note.code == "turf_overlaps"
    # 200 m² are 2,152.8 sq ft; the anchor's way to the map is good to 1e-4.
    overlap_m2 = float(note.message.split(" m²")[0].split()[-1])
    assert overlap_m2 == pytest.approx(200, rel=1e-3)


def test_a_slope_counts_on_the_ground_and_the_gentler_one_where_two_overlap() -> None:
    site = treated(
        feature("bank", "turf", area(box(0, 0, 20, 20)), slope="50 %"),
        feature("flat", "turf", area(box(10, 0, 30, 20))),
        feature("house", "building", area(box(0, 0, 5, 5))),
    )

    steep = math.sqrt(1.25)
    assert site.slope_factors == {"bank": pytest.approx(steep), "flat": 1}
    assert site.turf_area_m2 == pytest.approx(200 * steep + 400, rel=1e-3)
    assert site.obstacle_area_m2 == pytest.approx(25 * steep, rel=1e-3)
    assert site.shape_areas_m2["bank"] == pytest.approx(400 * steep, rel=1e-3)
    assert {note.code for note in site.notes} == {"turf_overlaps", "slopes_overlap"}
    assert site.area_of(site.treatable) == pytest.approx(site.treatable_area_m2, rel=1e-12)


def test_a_property_without_turf_has_no_area_and_still_shows_its_zones() -> None:
    pond = feature("pond", "pond", area(box(0, 0, 10, 10)))

    site = treated(pond, pond=3)

    assert (site.turf_area_m2, site.treatable_area_m2, site.no_spray_area_m2) == (0, 0, 0)
    assert site.zones[0].geometry.area == pytest.approx(100 + 120 + 9 * math.pi, rel=1e-3)
    assert site.left_out[0].area_m2 == 0
    assert list(site.zones_degrees()) == ["pond"]
    assert treated().treatable_degrees().is_empty


def test_turf_that_lies_wholly_in_a_zone_leaves_nothing_to_treat() -> None:
    site = treated(
        feature("lawn", "turf", area(box(0, 0, 10, 10))),
        feature("well", "well", {"type": "Point", "coordinates": on_the_map([(5, 5)])[0]}),
        well=30,
    )

    assert site.treatable_area_m2 == 0
    assert site.treatable.is_empty
    assert site.no_spray_area_m2 == pytest.approx(site.turf_area_m2, rel=1e-9)


def test_a_feature_far_from_the_turf_changes_nothing_but_has_its_zone() -> None:
    lawn = feature("lawn", "turf", area(box(0, 0, 10, 10)))
    far = feature("well", "well", {"type": "Point", "coordinates": on_the_map([(500, 5)])[0]})

    site = treated(lawn, far, well=30)

    assert site.treatable_area_m2 == treated(lawn).treatable_area_m2
    assert (len(site.zones), site.left_out[0].area_m2) == (1, 0)


def test_features_that_touch_the_edge_of_the_turf_leave_no_stray_lines() -> None:
    site = treated(
        feature("lawn", "turf", area(box(0, 0, 30, 20), box(5, 5, 9, 9))),
        feature("drive", "drive", area(box(30, 0, 33, 20))),
        feature("bed", "bed", area(box(5, 5, 9, 9))),
        feature("corner", "bed", area(box(-4, -4, 0, 0))),
        bed=0,
        corner=0,
    )

    assert site.treatable_area_m2 == pytest.approx(600 - 16, rel=1e-3)
    assert site.obstacle_area_m2 == pytest.approx(0, abs=1e-3)
    for ground in (site.turf, site.obstacles, site.no_spray, site.treatable):
        assert ground.geom_type in {"Polygon", "MultiPolygon"}


def test_a_decided_distance_is_asked_for_every_protected_shape() -> None:
    with pytest.raises(Refused, match="No distance has been decided for Rose bed") as refused:
        treated(FRONT, feature("roses", "bed", area(box(0, 0, 1, 1)), name="Rose bed"))

    assert refused.value.field == "roses"


@pytest.mark.parametrize(
    ("setbacks_m", "field", "words"),
    [
        ({"bed": 1, "lawn": 1}, "lawn", "not a shape that can have a setback"),
        ({"bed": 1, "pond": 1}, "pond", "not a shape that can have a setback"),
        ({"bed": -1}, "bed", "not a distance of zero or more"),
        ({"bed": math.nan}, "bed", "not a distance of zero or more"),
    ],
)
def test_a_setback_that_cannot_be_is_refused_at_its_shape(
    setbacks_m: dict[str, float], field: str, words: str
) -> None:
    lawn = feature("lawn", "turf", area(box(0, 0, 9, 9)))

    with pytest.raises(Refused, match=words) as refused:
        treated(lawn, feature("bed", "bed", area(box(0, 0, 1, 1))), **setbacks_m)

    assert refused.value.field == field


def test_feet_and_metres_of_the_same_distance_give_the_same_bits() -> None:
    whole = drawing(FRONT, BACK, BED)

    feet, metres = (
        treat(whole, {"bed": Setback(parse_quantity(text).si, "typed")})
        for text in ("10 ft", "3.048 m")
    )

    for told in (
        *("treatable", "no_spray", "obstacles", "zones", "left_out", "shape_areas_m2"),
        *(f"{part}_area_m2" for part in ("turf", "treatable", "no_spray", "obstacle")),
    ):
        assert getattr(feet, told) == getattr(metres, told)


def test_thousands_of_beds_are_counted_once_each() -> None:
    # Fifty rows of fifty beds of 2 by 3 m, 10 m apart, so that no zone meets another.
    lawn = drawing(feature("lawn", "turf", area(box(-5, -5, 505, 505))))
    pond = drawing(feature("pond", "pond", area(box(0, 0, 1, 1)))).shapes[0]
    frame = frame_around([lawn.shapes[0].geometry])
    starts = [(-245 + 10 * n, -245 + 10 * m) for n in range(50) for m in range(50)]
    beds = [
        replace(pond, ref=f"{x} {y}", geometry=frame.to_degrees(shapely.box(x, y, x + 2, y + 3)))
        for x, y in starts
    ]

    site = treat(Drawing((*lawn.shapes, *beds)), {bed.ref: Setback(0.9144, "3 ft") for bed in beds})

    # Steiner: 6 + 10 d + pi d² for each.
    each_m2 = 6 + 9.144 + math.pi * 0.9144**2
    assert site.no_spray_area_m2 == pytest.approx(2500 * each_m2, rel=1e-3)
    assert [left.own_ground_m2 for left in site.left_out] == pytest.approx([6] * 2500, rel=1e-6)


def test_a_point_is_on_the_plane_where_the_frame_puts_it() -> None:
    site = treated(FRONT)

    assert site.area_of(Point(0, 0).buffer(1)) == pytest.approx(math.pi, rel=0.01)
