"""Many properties at once have the areas that each has alone."""

from collections.abc import Iterator, Mapping
from concurrent.futures import ProcessPoolExecutor, ThreadPoolExecutor
from dataclasses import replace
from multiprocessing import get_context

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import MultiPolygon, Polygon

from planner.management.scenario.scene import all_scenes
from properties.core.batch import Place, measure_many
from properties.core.downwind import Downwind
from properties.core.errors import Refused
from properties.core.features import Role
from properties.core.free_ground import Site, site_of
from properties.core.outlines import Drawing, read_drawing
from properties.core.plane import cut
from properties.core.sweep.engines import Engine
from properties.core.treatable import treat
from properties.core.zones import Setback
from tests.properties.core.anywhere import areas, properties
from tests.properties.core.drawn import Json, area, box, drawing, feature, on_the_map
from tests.properties.core.engines import sweeping_by, with_each_engine

LAWN = feature("lawn", "turf", area(box(0, 0, 30, 20)))
FAR_LAWN = feature("lawn", "turf", area(box(0, 0, 30, 20), lon=20, lat=-35))
BED = feature("bed", "flower_bed", area(box(10, 8, 14, 10)))
HOUSE = feature("house", "building", area(box(2, 2, 6, 6)))
BED_WITH_A_LAWN = feature("bed", "flower_bed", area(box(5, 5, 25, 15), box(8, 8, 22, 12)))


def with_setbacks(*features: Json, distance_m: float = 1.0) -> Place:
    whole = drawing(*features)
    kept = [shape.ref for shape in whole.of_role(Role.PROTECTED)]
    return whole, {ref: Setback(distance_m, "as told") for ref in kept}


def alone_m2(place: Place) -> float:
    """The treatable area by overlays, which share nothing with the sweep but the zones' curves."""
    return overlaid_m2(site_of(place[0]), place[1])


def overlaid_m2(site: Site, setbacks: Mapping[str, Setback]) -> float:
    return site.area_of(cut(site.free, site.kept_by(site.zones(setbacks)))[1])


def agrees(place: Place) -> object:
    """The area that it has alone, to a billionth of its turf and what rounding moves its edge."""
    site = site_of(place[0])
    # Half the gap between neighbouring doubles is up to 1.4e-14 degrees, a nanometre and a half:
    # so far may either way of working move a corner, and its edges with it.
    # The grid of the quick engine moves it by up to ten.
    slack_m2 = 1e-9 * site.ground.area_m2 + (2 * 1.6e-9 + 1e-8) * site.turf.length
    return pytest.approx(overlaid_m2(site, place[1]), rel=1e-9, abs=slack_m2)


@with_each_engine
@given(places=st.lists(properties(), max_size=5))
def test_any_properties_have_together_the_areas_they_have_alone(
    engine: Engine, places: list[Place]
) -> None:
    with sweeping_by(engine):
        together = list(measure_many(places, at_once=2))

    assert together == [agrees(place) for place in places]


@st.composite
def snapped(draw: st.DrawFn) -> Place:
    """A property whose outlines share edges and corners, exactly or to a rounding error."""
    lawn = np.array(draw(areas())["coordinates"][0][:-1])
    slips = st.sampled_from([0.0, 1e-15, 1e-14, 1e-13, 1e-12])
    shapes = [feature("s0", "turf", one_area(lawn))]
    for number in range(1, draw(st.integers(2, 4))):
        first = draw(st.integers(0, len(lawn) - 1))
        shared = np.roll(lawn, first, axis=0)[: draw(st.integers(2, len(lawn)))]
        middle = draw(areas())["coordinates"][0][0]
        corners = np.vstack((shared + draw(slips), middle))
        kind = draw(st.sampled_from(["turf", "building", "pond"]))
        if Polygon(corners).is_valid and Polygon(corners).area > 1e-10:
            shapes.append(feature(f"s{number}", kind, one_area(corners)))
    return with_setbacks(*shapes, distance_m=draw(st.sampled_from([0.0, 0.9144, 3.0])))


def one_area(corners: np.ndarray[tuple[int, int], np.dtype[np.float64]]) -> Json:
    return {"type": "Polygon", "coordinates": [[*corners.tolist(), corners[0].tolist()]]}


@with_each_engine
@given(places=st.lists(snapped(), min_size=1, max_size=3))
def test_outlines_that_share_edges_have_the_areas_they_have_alone(
    engine: Engine, places: list[Place]
) -> None:
    told = [agrees(place) for place in places]

    with sweeping_by(engine):
        assert list(measure_many(places)) == told
        assert [treat(*place).treatable_area_m2 for place in places] == told


def test_the_places_of_the_demo_have_the_areas_they_have_alone() -> None:
    drawings = [read_drawing(scene.collection()) for scene in all_scenes()]
    places = [
        (whole, {shape.ref: Setback(1.8288, "6 ft") for shape in whole.of_role(Role.PROTECTED)})
        for whole in drawings
    ]

    assert len(places) > 2
    assert list(measure_many(places)) == [agrees(place) for place in places]


@given(places=st.lists(properties(), min_size=2, max_size=5), data=st.data())
@settings(max_examples=50)
def test_neither_the_order_nor_the_company_of_a_property_changes_its_area(
    places: list[Place], data: st.DataObject
) -> None:
    order = data.draw(st.permutations(range(len(places))))
    at_once = data.draw(st.integers(1, 5))
    one = list(measure_many(places))

    other = list(measure_many([places[number] for number in order], at_once=at_once))

    # Sums over more rows round differently by the last bits of a coordinate.
    assert other == [pytest.approx(one[number], rel=1e-12, abs=1e-7) for number in order]


@pytest.mark.parametrize(
    "kept",
    [
        pytest.param(BED, id="an outline"),
        pytest.param(BED_WITH_A_LAWN, id="an outline with a hole"),
        pytest.param(
            feature(
                "s", "stream", {"type": "LineString", "coordinates": on_the_map([(1, 1), (9, 25)])}
            ),
            id="a line",
        ),
        pytest.param(
            feature(
                "w", "well", {"type": "MultiPoint", "coordinates": on_the_map([(5, 5), (20, 9)])}
            ),
            id="two points",
        ),
        pytest.param(
            feature("w", "well", {"type": "Point", "coordinates": on_the_map([(5, 5)])[0]}),
            id="a point",
        ),
        pytest.param(
            feature("h", "building", area(box(5, 5, 25, 15), box(8, 8, 22, 12))), id="a yard"
        ),
    ],
)
@pytest.mark.parametrize("distance_m", [0.0, 1.0, 2.5])
@with_each_engine
def test_every_kind_of_shape_is_kept_from_as_it_is_alone(
    engine: Engine, kept: Json, distance_m: float
) -> None:
    place = with_setbacks(LAWN, kept, distance_m=distance_m)

    with sweeping_by(engine):
        together = list(measure_many([place, with_setbacks(FAR_LAWN)]))

    assert together == [agrees(place), agrees(with_setbacks(FAR_LAWN))]


def test_lawns_of_two_slopes_that_overlap_count_as_they_do_alone() -> None:
    place = with_setbacks(
        feature("bank", "turf", area(box(0, 0, 20, 20)), slope="50 %"),
        feature("flat", "turf", area(box(10, 0, 30, 20))),
        BED,
    )

    assert list(measure_many([place])) == [agrees(place)]


def test_the_wind_widens_a_zone_as_it_does_alone() -> None:
    whole, _ = with_setbacks(LAWN, BED)
    windy = Setback(1, "rule", downwind=Downwind(5), wind_from_deg=200)
    place = (whole, {"bed": windy})

    assert list(measure_many([place])) == [agrees(place)]
    assert alone_m2(place) < alone_m2(with_setbacks(LAWN, BED))


def test_a_pool_finds_the_same_areas_in_the_same_order() -> None:
    distances_m = [0.5 * number for number in range(12)]
    places = [with_setbacks(LAWN, BED, distance_m=distance_m) for distance_m in distances_m]
    one_by_one = list(measure_many(places))

    with ProcessPoolExecutor(2, mp_context=get_context("forkserver")) as processes:
        assert list(measure_many(places, pool=processes, at_once=2)) == one_by_one
    with ThreadPoolExecutor(2) as threads:
        assert list(measure_many(places, pool=threads, under_way=1, at_once=5)) == one_by_one
    assert one_by_one == [agrees(place) for place in places]


def test_properties_are_taken_as_they_are_needed() -> None:
    taken = 0

    def source() -> Iterator[Place]:
        nonlocal taken
        while True:
            taken += 1
            yield with_setbacks(LAWN)

    with ThreadPoolExecutor(2) as threads:
        for pool, at_most in ((None, 3), (threads, 6)):
            taken = 0
            answers = measure_many(source(), pool=pool, under_way=2, at_once=3)
            assert next(answers) == agrees(with_setbacks(LAWN))
            assert taken <= at_most


def test_a_property_without_turf_has_no_area() -> None:
    assert list(measure_many([with_setbacks(BED), (Drawing(()), {})])) == [0, 0]
    assert list(measure_many([])) == []


def test_a_property_that_is_refused_stops_no_other() -> None:
    lawn, none = with_setbacks(LAWN)
    whole, _ = with_setbacks(LAWN, BED)

    first, second, third, fourth, last = measure_many(
        [
            (whole, {}),
            (whole, {"bed": Setback(-1, "typed")}),
            (whole, {"bed": Setback(float("nan"), "typed")}),
            (whole, {"bed": Setback(1, "rule", downwind=Downwind(5))}),
            (lawn, none),
        ]
    )

    assert [str(one) for one in (first, second, third, fourth)] == [
        str(why_refused(whole, setbacks))
        for setbacks in (
            {},
            {"bed": Setback(-1, "typed")},
            {"bed": Setback(float("nan"), "typed")},
            {"bed": Setback(1, "rule", downwind=Downwind(5))},
        )
    ]
    assert last == agrees((lawn, none))


def why_refused(whole: Drawing, setbacks: dict[str, Setback]) -> Refused:
    with pytest.raises(Refused) as refused:
        treat(whole, setbacks)
    return refused.value


@with_each_engine
def test_an_outline_that_is_not_valid_is_mended_as_it_is_alone(engine: Engine) -> None:
    lawn, _ = with_setbacks(LAWN)
    bow_tie = Polygon(on_the_map([(0, 0), (30, 20), (30, 0), (0, 20)]))
    broken = Drawing((replace(lawn.shapes[0], geometry=bow_tie),))

    house = Drawing((*broken.shapes, *with_setbacks(HOUSE)[0].shapes))

    with sweeping_by(engine):
        assert list(measure_many([(broken, {}), (house, {})])) == [
            agrees((broken, {})),
            agrees((house, {})),
        ]
    # Two triangles of 150 m², where the winding number would have one turn and its opposite.
    assert alone_m2((broken, {})) == pytest.approx(300, rel=1e-3)


def test_turf_without_a_corner_has_no_area() -> None:
    lawn, _ = with_setbacks(LAWN)
    nothing = Drawing((replace(lawn.shapes[0], geometry=MultiPolygon()),))

    assert list(measure_many([(nothing, {}), (lawn, {})])) == [0, agrees((lawn, {}))]


@pytest.mark.parametrize("wrong", [{"under_way": 0}, {"at_once": 0}])
def test_it_takes_one_at_least(wrong: dict[str, int]) -> None:
    with pytest.raises(Refused, match="above zero"):
        measure_many([], pool=None, **wrong)
