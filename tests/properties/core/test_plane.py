"""Areas joined and cut, also where the engine miscounts without an error."""

import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st
from shapely import GeometryCollection, LineString, MultiPolygon, Point, Polygon, affinity, box

from properties.core.plane import NOWHERE, cut, polygons_of, union_of

SQUARE = box(0, 0, 10, 10)


def turned(shape: Polygon, angle_deg: float) -> Polygon:
    """The shape turned about the origin, and with that rounded."""
    return affinity.rotate(shape, angle_deg, origin=(0, 0))


def test_lines_and_points_of_a_result_are_no_ground() -> None:
    mixed = GeometryCollection([SQUARE, LineString([(0, 0), (20, 0)]), Point(30, 0)])

    assert polygons_of(mixed) == SQUARE
    assert polygons_of(GeometryCollection([mixed, MultiPolygon([box(20, 0, 21, 1)])])).area == 101
    for nothing in (Point(0, 0), Polygon(), GeometryCollection(), MultiPolygon()):
        assert polygons_of(nothing) == NOWHERE


def test_one_part_of_a_collection_is_an_area_of_its_own() -> None:
    assert polygons_of(MultiPolygon([SQUARE])) == SQUARE


def test_nothing_joined_is_nowhere_and_one_area_is_itself() -> None:
    assert union_of([]) == union_of([NOWHERE, Polygon()]) == NOWHERE
    assert union_of([SQUARE, NOWHERE]) == SQUARE


def test_ground_under_two_areas_counts_once() -> None:
    joined = union_of([SQUARE, box(5, 5, 15, 15), box(30, 30, 31, 31)])

    assert joined.area == pytest.approx(100 + 100 - 25 + 1, rel=1e-12)


# Worked by hand: a row of squares one in from the last overlaps it by half.
@pytest.mark.parametrize("count", [2, 150, 450])
def test_many_areas_are_joined_as_few_are(count: int) -> None:
    row = [box(step / 2, 0, step / 2 + 1, 1) for step in range(count)]

    assert union_of(row).area == pytest.approx((count + 1) / 2, rel=1e-12)


def test_an_area_inside_another_adds_nothing_where_one_engine_says_it_does() -> None:
    # Turned by 43 degrees the winding number and the overlay of GEOS 3.14 disagree here.
    tall, inside = turned(box(2, 2, 3, 6), 43), turned(box(2, 3, 3, 4), 43)

    assert union_of([inside, tall]).area == pytest.approx(4, rel=1e-9)


def test_cutting_with_nothing_leaves_the_area_and_cutting_nothing_leaves_nothing() -> None:
    assert cut(SQUARE, NOWHERE) == (NOWHERE, SQUARE)
    assert cut(NOWHERE, SQUARE) == (NOWHERE, NOWHERE)


def test_a_cut_gives_what_lies_under_and_what_does_not() -> None:
    under, beside = cut(SQUARE, box(5, 0, 20, 10))

    assert under.equals(box(5, 0, 10, 10))
    assert beside.equals(box(0, 0, 5, 10))
    assert under.area == beside.area == 50


# Outlines with a hole, round a path that crosses itself. GEOS 3.14 counted the ground of the
# hole to both sides of the cut, or twice, or took the whole outline for untouched: no error.
ONCE_WRONG = [
    [(-1, -14), (-16, 2), (7, -4), (3, -17)],
    [(-17, 8), (19, 7), (-2, -4), (-13, 18)],
    [(17, -13), (-17, -11), (-7, -11), (-9, 8), (9, -15)],
    [(18, -4), (2, 19), (-2, -19)],
]


@pytest.mark.parametrize("edges_per_quarter", range(1, 9))
@pytest.mark.parametrize("path", ONCE_WRONG)
def test_an_outline_cut_with_itself_leaves_nothing_even_after_rounding(
    path: list[tuple[float, float]], edges_per_quarter: int
) -> None:
    area = LineString(path).buffer(3, quad_segs=edges_per_quarter)

    for angle_deg in range(3, 90, 3):
        under, beside = cut(area, turned(turned(area, angle_deg), -angle_deg))

        assert under.area == pytest.approx(area.area, rel=1e-9)
        assert beside.area == pytest.approx(0, abs=1e-6)


lattice = st.integers(0, 9)
sizes = st.integers(1, 4)
rectangles = st.tuples(lattice, lattice, sizes, sizes).map(
    lambda sides: box(sides[0], sides[1], sides[0] + sides[2], sides[1] + sides[3])
)
beds = st.lists(rectangles, min_size=1, max_size=12)


@given(one=beds, other=beds, angle_deg=st.floats(0, 90))
def test_cut_and_union_hold_on_beds_in_rows_at_any_angle(
    one: list[Polygon], other: list[Polygon], angle_deg: float
) -> None:
    # Whole squares of a lattice can be counted: which unit squares does each set hold?
    held_one, held_other = (
        {(x, y) for x in range(13) for y in range(13)
         if any(bed.contains(Point(x + 0.5, y + 0.5)) for bed in some)}
        for some in (one, other)
    )  # fmt: skip

    ground = union_of([turned(bed, angle_deg) for bed in one])
    under, beside = cut(ground, union_of([turned(bed, angle_deg) for bed in other]))

    assert ground.area == pytest.approx(len(held_one), rel=1e-9)
    assert under.area == pytest.approx(len(held_one & held_other), rel=1e-9, abs=1e-9)
    assert beside.area == pytest.approx(len(held_one - held_other), rel=1e-9, abs=1e-9)
    assert all(shapely.is_valid([ground, under, beside]))


# Ground left beside a pond and a building: the lower part shares its right side with the cut, but
# for the last bits, and has a hairline spike along it. GEOS 3.14 laid all of it beside the cut.
LOWER = [
    (14.477999953362387, -18.2879865743469),
    (3.0061927054280253, -18.287985430369005),
    (3.26222863849469, -17.996032804983876),
    (3.6266885027344267, -17.521060117044073),
    (3.9593033220926768, -17.023267560979114),
    (4.258648788128307, -16.504786762015144),
    (4.523443056950805, -15.967837935655345),
    (4.752552238275388, -15.41472038037149),
    (4.944995250917723, -14.847802631649907),
    (5.099948023936319, -14.269512319553764),
    (5.216747025432591, -13.682325773233192),
    (5.294892103897753, -13.088757416898318),
    (5.334048629939446, -12.49134900266334),
    (5.334048779564522, -12.192031171446787),
    (14.477988373666701, -12.192032083290314),
    (14.477976793797271, -6.095986127442459),
]
UPPER = [
    (11.429945111500682, 18.288009302680365),
    (16.001923156093152, 18.28801750896468),
    (16.00197435104234, -6.09598339201749),
    (16.001942614442772, 9.020063888054205),
    (15.968285825371327, 9.026758634391866),
    (15.374718328514543, 9.104903237449857),
    (14.777310806921019, 9.144059404976865),
    (11.429958824357357, 9.1440597387786),
]
WEST = [
    (-16.001999948450276, -18.287983534856664),
    (14.477999953362387, -18.2879865743469),
    (14.477971003906653, -3.0479863632885333),
    (-16.00196795168341, -3.047983323796121),
]


def test_ground_with_a_hairline_spike_is_laid_on_its_own_side() -> None:
    lower, upper = Polygon(LOWER), Polygon(UPPER)

    under, beside = cut(MultiPolygon([upper, lower]), Polygon(WEST))

    # By eye all of the lower part lies under the cut and none of the upper; the spike is thinner
    # than 0.1 mm.
    assert under.area == pytest.approx(lower.area, rel=1e-4)
    assert beside.area == pytest.approx(upper.area, rel=1e-4)
