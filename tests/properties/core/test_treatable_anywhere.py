"""What must hold of any property: the partition, the distances, the order, more and less."""

import math
from dataclasses import replace

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import MultiPolygon
from shapely.geometry.base import BaseGeometry

from properties.core.features import Role
from properties.core.outlines import Drawing, read_drawing, write_drawing
from properties.core.treatable import Treatment, treat
from properties.core.zones import Setback
from tests.properties.core.anywhere import areas, properties
from tests.properties.core.drawn import Json, drawing, feature


def in_plane(site: Treatment, whole: Drawing) -> dict[str, BaseGeometry]:
    return {shape.ref: site.frame.to_plane(shape.geometry) for shape in whole.shapes}


@given(place=properties())
def test_turf_is_what_is_treated_covered_and_left(
    place: tuple[Drawing, dict[str, Setback]],
) -> None:
    site = treat(*place)

    parts_m2 = [site.treatable_area_m2, site.obstacle_area_m2, site.no_spray_area_m2]
    # The sweep's grid moves the outline of what is treated by 10 nm at most.
    slack_m2 = 1e-8 * site.treatable.length + 1e-9
    assert math.fsum(parts_m2) == pytest.approx(site.turf_area_m2, rel=1e-9, abs=slack_m2)
    assert min(parts_m2) >= 0
    left_m2 = math.fsum(left.area_m2 for left in site.left_out)
    assert left_m2 == pytest.approx(site.no_spray_area_m2, rel=1e-9, abs=1e-6)
    assert [left.ref for left in site.left_out] == [zone.ref for zone in site.zones]
    assert all(min(left.own_ground_m2, left.strip_m2) >= 0 for left in site.left_out)
    for ground in (site.turf, site.obstacles, site.no_spray, site.treatable):
        assert ground.is_valid
        assert ground.geom_type in {"Polygon", "MultiPolygon"}


@given(place=properties(), seed=st.integers(0, 2**32 - 1))
@settings(max_examples=50)
def test_no_sampled_point_is_treated_nearer_than_its_distance_nor_left_farther(
    place: tuple[Drawing, dict[str, Setback]], seed: int
) -> None:
    whole, setbacks = place
    site = treat(whole, setbacks)
    plane = in_plane(site, whole)
    xy = np.random.default_rng(seed).uniform(-15, 75, (800, 2)) - 30
    points = shapely.points(xy)

    on_turf = np.zeros(len(xy), dtype=bool)
    free = np.ones(len(xy), dtype=bool)
    near_something = np.zeros(len(xy), dtype=bool)
    for shape in whole.shapes:
        away_m = shapely.distance(points, plane[shape.ref])
        if shape.kind.role is Role.TURF:
            on_turf |= away_m == 0
        elif shape.kind.role is Role.OBSTACLE:
            free &= away_m > 0
        else:
            distance_m = setbacks[shape.ref].distance_m
            near = away_m < distance_m
            near_something |= near
            # A hair on the far side: circumscribed arcs, 7 mm, and the frame's five in a million.
            free &= away_m > distance_m + 0.01
            assert not (shapely.contains_xy(site.treatable, xy) & near).any()

    treated_points = shapely.contains_xy(site.treatable, xy)
    assert not (treated_points & (~on_turf | near_something)).any()
    assert treated_points[on_turf & free].all()


@given(place=properties(), data=st.data())
def test_the_order_of_shapes_changes_no_area(
    place: tuple[Drawing, dict[str, Setback]], data: st.DataObject
) -> None:
    whole, setbacks = place
    shuffled = replace(whole, shapes=tuple(data.draw(st.permutations(whole.shapes))))

    one, other = treat(whole, setbacks), treat(shuffled, setbacks)

    for name in ("turf", "obstacle", "no_spray", "treatable"):
        assert getattr(other, f"{name}_area_m2") == pytest.approx(
            getattr(one, f"{name}_area_m2"), rel=1e-9, abs=1e-7
        )


@given(place=properties(), outline=areas(), more_m=st.floats(0.1, 10))
def test_more_to_protect_or_to_cover_never_leaves_more_and_more_turf_never_less(
    place: tuple[Drawing, dict[str, Setback]], outline: Json, more_m: float
) -> None:
    whole, setbacks = place
    before_m2 = treat(whole, setbacks).treatable_area_m2

    def with_one_more(kind: str) -> Drawing:
        added = drawing(feature("more", kind, outline)).shapes[0]
        return replace(whole, shapes=(*whole.shapes, added))

    farther = {ref: Setback(one.distance_m + more_m, "") for ref, one in setbacks.items()}
    protecting = treat(with_one_more("pond"), setbacks | {"more": Setback(more_m, "")})

    # The frame moves with the turf: a hundredth of a square centimetre is its rounding.
    assert treat(whole, farther).treatable_area_m2 <= before_m2 + 1e-6
    assert protecting.treatable_area_m2 <= before_m2 + 1e-6
    assert treat(with_one_more("patio"), setbacks).treatable_area_m2 <= before_m2 + 1e-6
    if all(shape.slope is None for shape in whole.shapes):
        assert treat(with_one_more("turf"), setbacks).treatable_area_m2 >= before_m2 - 1e-4


@given(place=properties())
def test_what_is_treatable_stays_treatable_when_it_is_drawn_as_turf(
    place: tuple[Drawing, dict[str, Setback]],
) -> None:
    whole, setbacks = place
    level = Drawing(tuple(replace(shape, slope=None) for shape in whole.shapes))
    first = treat(level, setbacks)
    # Turf of less than a hand's breadth squared is refused when it is drawn.
    large = [
        part
        for part in shapely.get_parts(first.treatable_degrees())
        if first.frame.to_plane(part).area > 0.02
    ]
    if not large:
        return
    redrawn = read_drawing(
        {
            "type": "FeatureCollection",
            "features": [
                feature("again", "turf", shapely.geometry.mapping(MultiPolygon(large))),
                *(
                    one
                    for one in write_drawing(level)["features"]
                    if one["properties"]["kind"] != "turf"
                ),
            ],
        }
    )

    again = treat(redrawn, setbacks)

    # A slip of a nanometre or of the mending's micrometre along some hundred metres of edge.
    large_m2 = first.frame.to_plane(MultiPolygon(large)).area
    assert again.treatable_area_m2 == pytest.approx(large_m2, rel=1e-6, abs=5e-4)


@given(place=properties())
def test_with_nothing_but_turf_all_of_it_is_treatable(
    place: tuple[Drawing, dict[str, Setback]],
) -> None:
    turf_only = Drawing(place[0].of_role(Role.TURF))

    site = treat(turf_only, {})

    assert site.treatable_area_m2 == pytest.approx(site.turf_area_m2, rel=1e-9, abs=1e-9)
    assert (site.obstacle_area_m2, site.no_spray_area_m2, site.left_out) == (0, 0, ())
