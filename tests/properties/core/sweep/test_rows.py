"""Ground swept for many rows at once: it keeps its distances, and a slip of the engine shows."""

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import Point

from properties.core.batch import Place, measure_many
from properties.core.batch.gathering import gathered
from properties.core.features import Role
from properties.core.frame import frame_around
from properties.core.sweep import treatable_ground
from properties.core.sweep.engines import Engine
from properties.core.treatable import treat
from properties.core.zones import Setback
from tests.properties.core.anywhere import properties
from tests.properties.core.drawn import Json, area, box, drawing, feature
from tests.properties.core.engines import sweeping_by, with_each_engine


@with_each_engine
@given(place=properties(), seed=st.integers(0, 2**32 - 1))
@settings(max_examples=50)
def test_no_sampled_point_of_swept_ground_is_nearer_than_its_distance_nor_one_farther_left_out(
    engine: Engine, place: Place, seed: int
) -> None:
    whole, setbacks = place
    turf = whole.of_role(Role.TURF)
    if not turf:
        return
    ground = treatable_ground(gathered([place]).rows, engine=engine)
    frame = frame_around([shape.geometry for shape in turf])
    points = [Point(*xy) for xy in np.random.default_rng(seed).uniform(-45, 45, (800, 2))]

    near, on_turf, covered = (np.zeros(len(points), dtype=np.bool_) for _ in range(3))
    for shape in whole.shapes:
        away_m = shapely.distance(points, frame.to_plane(shape.geometry))
        if shape.kind.role is Role.TURF:
            on_turf |= away_m == 0
        elif shape.kind.role is Role.OBSTACLE:
            covered |= away_m == 0
        else:
            near |= away_m < setbacks[shape.ref].distance_m
            # Circumscribed arcs, 7 mm, and the frame's five in a million.
            covered |= away_m <= setbacks[shape.ref].distance_m + 0.01

    treatable = np.any([shapely.intersects(one, points) for one in ground.treatable], axis=0)
    assert not (treatable & near).any()
    assert treatable[on_turf & ~covered].all()


# Found among 15,000 drawings whose outlines share edges: GEOS's sweep loses all of the ground,
# without an error. The second lawn lies beside a bed that fills the first.
CORNERS = [
    (-89.99982710190567, 40.00002131858426),
    (-89.99989990100313, 40.00011555037556),
    (-90.00007927173417, 40.00006445404426),
    (-90.00019056136288, 39.999937649066794),
    (-89.99994894580152, 39.999905445690516),
]
BESIDE = [
    (-89.99998911487738, 39.999946620300115),
    (-89.99999312308502, 39.99995691199838),
    (-89.99999586244856, 39.99996508623196),
    (-90.00000099958834, 39.99997964646145),
    (-90.00000608961456, 39.99998818736544),
    (-90.00002835710893, 40.00000390230174),
    (-90.00005164858153, 40.00000474838279),
    (-90.00007186978377, 39.99999193472691),
    (-90.00007766344325, 39.99997907353038),
    (-90.00007741503661, 39.99996332629797),
    (-90.00007589875558, 39.99995011413713),
    (-90.00007812763386, 39.999945435812556),
    (-90.00008971343428, 39.99992855388411),
    (-90.00009223601096, 39.999914950933686),
    (-90.0000835108569, 39.999898145660445),
    (-90.00006530096123, 39.9998895310854),
    (-90.00005014071785, 39.9998885627963),
    (-90.00002469701558, 39.99989486575925),
    (-90.00001125091748, 39.99990180140893),
    (-89.99999954370949, 39.99991037369089),
    (-89.99999283463917, 39.99991764571243),
    (-89.99998701545955, 39.999931894485215),
]


def outline(corners: list[tuple[float, float]]) -> Json:
    return {"type": "Polygon", "coordinates": [[*corners, corners[0]]]}


@with_each_engine
def test_ground_that_an_engine_loses_is_missed_and_found(engine: Engine) -> None:
    whole = drawing(
        feature("one", "turf", outline(CORNERS)),
        feature("other", "turf", outline(BESIDE)),
        feature("corner", "flower_bed", outline([CORNERS[0], CORNERS[1], CORNERS[4]])),
        feature("all", "flower_bed", outline(CORNERS)),
    )
    place = (whole, {"corner": Setback(3.0, "as told"), "all": Setback(0.0, "as told")})

    swept = treatable_ground(gathered([place]).rows, engine=engine)

    with sweeping_by(engine):
        found_m2 = treat(*place).treatable_area_m2
        told = list(measure_many([place]))
    assert found_m2 == pytest.approx(19.7, abs=0.1)
    assert swept.is_sound.tolist() == [bool(abs(swept.area_m2[0] - found_m2) < 1e-6)]
    assert told == [pytest.approx(found_m2, rel=1e-9)]


@with_each_engine
def test_ground_beside_a_bed_traced_with_hundreds_of_corners_keeps_its_distance(
    engine: Engine,
) -> None:
    # A bed of forty metres whose upper edge goes in and out by half a metre at every step.
    steps = np.linspace(-20, 20, 300)
    edge = [(x, 3 + 0.5 * (number % 2)) for number, x in enumerate(steps.tolist())]
    whole = drawing(
        feature("lawn", "turf", area(box(-30, -30, 30, 30))),
        feature("bed", "flower_bed", area([*edge, (20, -3), (-20, -3)])),
    )

    with sweeping_by(engine):
        treatment = treat(whole, {"bed": Setback(2.0, "as told")})

    bed, lawn = treatment.site.plane["bed"], treatment.turf
    # The grid of the quick engine may take 10 nm.
    assert shapely.distance(bed, treatment.treatable) >= 2.0 - 1e-8
    farther = lawn.difference(bed.buffer(2.01, quad_segs=200))
    assert farther.difference(treatment.treatable.buffer(1e-3)).area < 1e-3
    parts_m2 = treatment.treatable_area_m2 + treatment.no_spray_area_m2
    assert parts_m2 == pytest.approx(treatment.turf_area_m2, abs=1e-5)
