"""How far the figures of a plan may be off: by hand, and against corners moved by chance."""

import copy
import math
from typing import Any
from unittest.mock import ANY

import numpy as np
import pytest
import shapely

from planner.core.amounts.output_band import Joined
from planner.core.calibration.spread import StandardError, standard_error_of
from planner.core.plan import plan_from_json
from planner.core.report import plan_as_json
from tests.planner.core.asking import (
    FOOT_M,
    HERBICIDE,
    LAWN,
    MACHINE,
    area,
    asking,
    corners_of,
    lonlat,
    place,
    point,
    with_output,
)
from tests.planner.core.scenarios import QUILLBROOK

# The plane of the tests and the plane of true areas differ by some millionths.
NEARLY = 1e-4


def planned(request: Any) -> Any:
    return plan_as_json(plan_from_json(request))


def placed(feature: Any, error: str = "1 ft", **told: Any) -> Any:
    members = feature["properties"] | {"position_error": error, **told}
    return feature | {"properties": members}


def uncertainty_of(*features: Any, **more: Any) -> Any:
    return planned(asking(property=place(*features), passes=False, **more))["uncertainty"]


RECTANGLE = area("lawn", "turf", corners_of(0, 0, 100, 80))
#: Worked by hand: 1/2 √(4 (100² + 80²)) for a foot, 1.6 % of 8,000 sq ft.
RECTANGLE_SIGMA = 128.06


def test_a_rectangle_with_corners_good_to_a_foot_is_good_to_128_square_feet() -> None:
    told = uncertainty_of(placed(RECTANGLE))

    plus_minus = told["treatable_area"]["plus_minus"]
    assert plus_minus == {
        "value": pytest.approx(1.96 * RECTANGLE_SIGMA, rel=NEARLY),
        "unit": "sq ft",
    }
    assert told["share_percent"] == pytest.approx(1.96 * 1.6008, rel=NEARLY)
    assert told["confidence_percent"] == 95
    # 1 gal and 1.2 fl oz on 1,000 sq ft.
    assert told["carrier_volume"]["plus_minus"]["value"] == pytest.approx(0.25100, rel=1e-3)
    assert told["products"] == [
        {
            "name": HERBICIDE["name"],
            "plus_minus": {"value": pytest.approx(0.30120, rel=1e-3), "unit": "fl oz"},
            "with_output": ANY,
        }
    ]
    assert told["by_shape"] == [
        {
            "feature": "lawn",
            "deviation": {"value": pytest.approx(RECTANGLE_SIGMA, rel=NEARLY), "unit": "sq ft"},
            "variance_percent": pytest.approx(100),
        }
    ]


def test_a_slope_counts_as_it_does_for_the_area() -> None:
    steep = placed(RECTANGLE, slope="30 %")

    told = uncertainty_of(steep, better_error="0.5 ft")

    # sqrt(1 + 0.3²), and to the last digit the same share.
    level = uncertainty_of(placed(RECTANGLE), better_error="0.5 ft")
    assert told["treatable_area"]["plus_minus"]["value"] == pytest.approx(
        1.96 * RECTANGLE_SIGMA * math.sqrt(1.09), rel=NEARLY
    )
    assert told["share_percent"] == pytest.approx(level["share_percent"], rel=1e-9)
    again, level_again = told["remeasure"], level["remeasure"]
    assert again["half_width_after"]["value"] == pytest.approx(
        level_again["half_width_after"]["value"] * math.sqrt(1.09), rel=1e-9
    )


def test_on_two_slopes_a_new_measurement_is_never_taken_for_better_than_it_is() -> None:
    flat = placed(area("flat", "turf", corners_of(200, 0, 210, 10)))

    both = uncertainty_of(placed(RECTANGLE, slope="30 %"), flat, better_error="0.5 ft")

    # All again at half the error is half the band; the flat lawn's gain is understated a little.
    half = both["treatable_area"]["plus_minus"]["value"] / 2
    assert both["remeasure"]["half_width_after"]["value"] == pytest.approx(half, rel=0.01)
    assert both["remeasure"]["half_width_after"]["value"] > half * (1 + 1e-6)


# 1 ft each: 1/2 √(4 (w² + h²)) = √(w² + h²).
BY_HAND = {
    "back": math.hypot(110, 70),
    "front": math.hypot(80, 45),
    "side": math.hypot(6, 60),
}
PLACED = QUILLBROOK | {
    "property": place(*map(placed, QUILLBROOK["property"]["features"])),
    "passes": False,
}


def test_the_lawns_of_quillbrook_add_what_the_formula_says() -> None:
    told = planned(PLACED)["uncertainty"]

    deviations = {each["feature"]: each["deviation"]["value"] for each in told["by_shape"]}
    assert list(deviations) == ["back", "front", "side", "bed"]
    bed = deviations.pop("bed")
    assert deviations == pytest.approx(BY_HAND, rel=NEARLY)
    # The zone is the bed with 1.5 ft all round, its corners cut short by the arcs.
    assert math.hypot(24, 10) < bed < math.hypot(27, 13)
    variance = sum(each**2 for each in (*BY_HAND.values(), bed))
    assert told["treatable_area"]["plus_minus"]["value"] == pytest.approx(
        1.96 * math.sqrt(variance), rel=NEARLY
    )
    assert told["by_shape"][0]["variance_percent"] == pytest.approx(
        100 * (110**2 + 70**2) / variance, rel=NEARLY
    )
    assert sum(each["variance_percent"] for each in told["by_shape"]) == pytest.approx(100)


def moved(request: Any, chance: np.random.Generator) -> Any:
    """The request with every corner moved by chance, a foot along either axis."""
    request = copy.deepcopy(request)
    east, north = np.subtract(lonlat(FOOT_M, FOOT_M), lonlat(0, 0))
    for feature in request["property"]["features"]:
        (ring,) = feature["geometry"]["coordinates"]
        corners = np.array(ring[:-1])
        corners += chance.normal(size=corners.shape) * (east, north)
        feature["geometry"]["coordinates"] = [[*corners.tolist(), corners[0].tolist()]]
    return request


def test_the_band_of_quillbrook_is_that_of_corners_moved_by_chance() -> None:
    told = planned(PLACED)["uncertainty"]
    chance = np.random.default_rng(1402)

    plans = [plan_from_json(moved(PLACED, chance)) for _ in range(400)]

    drawn = {
        "treatable_area": [
            plan.shown.area_of(plan.ground.treatment.treatable_area_m2).value for plan in plans
        ],
        "carrier_volume": [plan.shown.spray_of(plan.carrier_l).value for plan in plans],
    }
    for name, values in drawn.items():
        band = told[name]["plus_minus"]["value"]
        # The spread of 400 draws is itself within 1/√800 of the true one, three times over. The
        # band may be wider, since what is kept from a feature is counted on the safe side.
        assert 1.96 * np.std(values) * (1 - 3 / math.sqrt(800)) < band
        assert band < 1.96 * np.std(values) * 1.2


def test_two_tools_alike_are_as_uncertain_as_one() -> None:
    gun = with_output("0.90 gal/1000 sq ft", kind="hand_gun", swath="3 ft", tanks=["5 gal"])

    told = planned(PLACED | {"hand_tool": gun})["uncertainty"]

    assert told["carrier_volume"]["plus_minus"]["value"] == pytest.approx(
        told["treatable_area"]["plus_minus"]["value"] * 0.9 / 1000, rel=1e-3
    )


RUNS = MACHINE | {
    "calibration": MACHINE["calibration"] | {"volumes_used": ["1.02 gal", "0.98 gal", "1.00 gal"]}
}


def test_how_well_the_output_is_known_comes_on_top_of_the_area() -> None:
    told = uncertainty_of(placed(RECTANGLE), machine=RUNS)

    # By hand: s = 0.02 of 1 gal over √3 is 1.1547 %, with the 1.6008 % of the area 1.9738 %.
    # Degrees: 1.9738⁴ / (1.1547⁴ / 2) = 17.07, so t of 17, which NIST prints as 2.110: 4.165 %.
    for figure, amount in ((told["carrier_volume"], 8.0), (told["products"][0], 9.6)):
        assert figure["with_output"]["value"] == pytest.approx(0.04165 * amount, rel=1e-3)
        assert figure["with_output"]["unit"] == figure["plus_minus"]["unit"]


def test_an_output_that_was_only_stated_leaves_the_whole_band_unknown() -> None:
    stated = uncertainty_of(placed(RECTANGLE), machine=with_output("0.9 gal/1000 sq ft"))
    two = uncertainty_of(
        placed(RECTANGLE),
        machine=RUNS,
        hand_tool=with_output("2 gal/1000 sq ft", kind="hand_gun", swath="3 ft"),
    )

    assert stated["carrier_volume"]["with_output"] is None
    assert stated["products"][0]["with_output"] is None
    # The hand tool has no ground of its own here, so that its output does not matter.
    assert two["carrier_volume"]["with_output"] is not None


def test_the_whole_band_holds_the_true_use_95_times_in_100() -> None:
    """Corners out by chance, and each time three new runs of a machine whose output varies."""
    chance = np.random.default_rng(817)
    sigma_share = 1.6008 / 100  # of a foot at the corners, by hand above
    held = 0
    trials = 4_000
    for _ in range(trials):
        runs = chance.normal(1.0, 0.02, 3)
        area_share = chance.normal(1.0, sigma_share)
        measured = float(runs.mean())
        error = standard_error_of([float(run) for run in runs])
        band = Joined(sigma_share, (error,)).half_width * measured
        # Planned: the area as drawn × the measured output. Used: the true area × the true output.
        held += abs(area_share * 1.0 - measured) <= band

    # Three standard deviations of such a count are 1.03 %; G.2b is known to be near, not exact.
    assert held / trials == pytest.approx(0.95, abs=0.0154)


def test_without_doubt_of_the_output_the_band_is_that_of_the_areas() -> None:
    joined = Joined(2.0, (StandardError(0.0, 2),))

    assert joined.half_width == pytest.approx(1.96 * 2.0)


def test_turf_of_unknown_error_leaves_the_whole_unknown() -> None:
    other = area("back", "turf", corners_of(0, 100, 50, 150), name="Back")

    plan = planned(asking(property=place(placed(RECTANGLE), other)))

    assert plan["uncertainty"] is None
    assert "the corners of Back (turf) may be out" in plan["uncertainty_unknown"]
    assert "unknown is not zero" in plan["uncertainty_unknown"]
    assert not [each for each in plan["working"] if "uncertainty" in each["figure"]]
    assert plan["warnings"] == planned(asking(property=place(RECTANGLE, other)))["warnings"]


def test_turf_that_nobody_enters_need_not_be_known() -> None:
    closed = area("closed", "turf", corners_of(0, 100, 50, 150), only="hand_tool")

    told = uncertainty_of(placed(RECTANGLE), closed)

    assert [each["feature"] for each in told["by_shape"]] == ["lawn"]


def test_where_nothing_is_left_nothing_can_be_off() -> None:
    house = area("house", "building", corners_of(-1, -1, 101, 81))

    plan = planned(asking(property=place(placed(RECTANGLE), placed(house))))

    assert plan["uncertainty"] is None
    assert "No ground is left" in plan["uncertainty_unknown"]


def test_what_is_taken_out_adds_its_own_spread_once() -> None:
    patio = placed(area("patio", "patio", corners_of(20, 20, 50, 60)), "2 ft")
    pool = placed(area("pool", "pool", corners_of(60, 20, 70, 30), setback="0 ft"))

    told = uncertainty_of(placed(RECTANGLE), patio, pool)

    deviations = {each["feature"]: each["deviation"]["value"] for each in told["by_shape"]}
    assert deviations == pytest.approx(
        {"lawn": RECTANGLE_SIGMA, "patio": 2 * math.hypot(30, 40), "pool": math.hypot(10, 10)},
        rel=NEARLY,
    )


def test_a_feature_of_unknown_error_is_told_where_it_is_beside_the_turf() -> None:
    near = area("bed", "bed", corners_of(10, 10, 20, 20), setback="3 ft")
    far = area("pond", "pond", corners_of(500, 10, 520, 20), setback="3 ft")

    told = uncertainty_of(placed(RECTANGLE), near, far)

    assert told["not_counted"] == ["bed"]
    assert "tell how each was measured" in told["note"]
    assert "tell how" not in uncertainty_of(placed(RECTANGLE), far)["note"]


def test_a_feature_that_only_the_machine_keeps_from_counts_for_the_spray() -> None:
    rules = [
        {"kind": "pond", "distance": distance, "method": method, "source": "Invented firm"}
        for distance, method in (("30 ft", "boom"), ("5 ft", "hand_gun"))
    ]
    pond = placed(area("pond", "pond", corners_of(0, 90, 100, 120)))
    gun = with_output("3 gal/1000 sq ft", kind="hand_gun", swath="3 ft")

    told = uncertainty_of(placed(RECTANGLE), pond, hand_tool=gun, setback_rules=rules)
    lawn_alone = uncertainty_of(placed(RECTANGLE), hand_tool=gun, setback_rules=rules)

    assert told["treatable_area"] == lawn_alone["treatable_area"]
    assert (
        told["carrier_volume"]["plus_minus"]["value"]
        > lawn_alone["carrier_volume"]["plus_minus"]["value"]
    )


def test_a_lawn_that_is_sprayed_nowhere_along_its_outline_still_counts() -> None:
    inner = shapely.box(5, 5, 95, 75).exterior.coords
    frame = shapely.Polygon(shapely.box(-5, -5, 105, 85).exterior.coords, [inner])
    rings = (frame.exterior, *frame.interiors)
    drive = area("drive", "drive", corners_of(0, 0, 1, 1))
    drive["geometry"]["coordinates"] = [
        [lonlat(x * FOOT_M, y * FOOT_M) for x, y in ring.coords] for ring in rings
    ]
    gun = with_output("3 gal/1000 sq ft", kind="hand_gun", swath="3 ft")

    told = uncertainty_of(placed(RECTANGLE), placed(drive), hand_tool=gun)

    assert told["by_shape"][0]["deviation"]["value"] > RECTANGLE_SIGMA * (1 - NEARLY)
    assert {each["feature"] for each in told["by_shape"]} == {"lawn", "drive"}


def test_a_point_that_asks_for_no_distance_takes_nothing_out() -> None:
    told = uncertainty_of(placed(RECTANGLE), placed(point("tree", "tree", 30, 30, setback="0 ft")))

    assert [each["feature"] for each in told["by_shape"]] == ["lawn"]


def test_nobody_is_told_what_to_measure_again_without_a_better_way() -> None:
    assert "remeasure" not in uncertainty_of(placed(RECTANGLE))


def test_two_opposite_sides_measured_twice_as_well_halve_it() -> None:
    told = uncertainty_of(placed(RECTANGLE), better_error="0.5 ft")

    again = told["remeasure"]
    assert again["halves"] is True
    assert again["error"] == {"value": 0.5, "unit": "ft"}
    assert again["half_width_after"]["value"] == pytest.approx(
        told["treatable_area"]["plus_minus"]["value"] / 2, rel=1e-9
    )
    # A side takes three quarters of half the variance: √(1 - 3/8) is left.
    assert [item["half_width_after"]["value"] for item in again["items"]] == pytest.approx(
        [1.96 * RECTANGLE_SIGMA * math.sqrt(5 / 8)] * 2, rel=NEARLY
    )
    one, other = (shapely.LineString(item["side"]) for item in again["items"])
    assert one.disjoint(other)
    outline = shapely.Polygon(RECTANGLE["geometry"]["coordinates"][0]).boundary
    assert outline.hausdorff_distance(one.union(other)) < 1e-3
    assert outline.buffer(1e-9).contains(one)


@pytest.mark.parametrize(
    ("corners", "words"),
    [
        # The one badly placed lawn is all there is to measure; a kite's sides face between.
        (corners_of(0, 0, 100, 80), {"north", "south"}),
        ([(0, -50), (50, 0), (0, 50), (-50, 0), (0, -50)], {"south-east", "north-west"}),
        ([(0, -50), (50, 0), (0, 50), (-50, 0), (0, -50)][::-1], {"south-east", "north-west"}),
    ],
)
def test_a_side_is_told_by_where_it_lies(corners: Any, words: set[str]) -> None:
    lawn = placed(area("lawn", "turf", corners, name="Front"))

    items = uncertainty_of(lawn, better_error="0.5 ft")["remeasure"]["items"]

    told = [item["words"].partition(" side of Front (turf), ") for item in items]
    assert {place_word for place_word, _, _ in told} in (
        words,
        {"east", "west"},
        {"north-east", "south-west"},
    )
    assert {length for _, _, length in told} <= {"100 ft long", "80 ft long", "70.7 ft long"}
    for item in items:
        side = shapely.LineString(item["side"])
        middle = shapely.Polygon(lawn["geometry"]["coordinates"][0]).centroid
        north = side.centroid.y > middle.y + 1e-7
        assert ("north" in item["words"]) == north


def test_a_badly_placed_pond_is_told_as_a_whole() -> None:
    pond = placed(area("pond", "pond", corners_of(20, 20, 60, 60), setback="5 ft"), "10 ft")

    told = uncertainty_of(placed(RECTANGLE, "0.2 ft"), pond, position_errors={"tape": "0.1 m"})

    (item,) = told["remeasure"]["items"]
    assert (item["feature"], item["side"], item["words"]) == ("pond", None, "pond (pond)")


def test_where_nothing_halves_it_there_is_nothing_to_measure() -> None:
    again = uncertainty_of(placed(RECTANGLE), better_error="0.8 ft")["remeasure"]

    assert (again["halves"], again["items"]) == (False, [])
    assert again["half_width_after"]["value"] == pytest.approx(
        0.8 * 1.96 * RECTANGLE_SIGMA, rel=NEARLY
    )


def test_an_outline_of_very_many_corners_has_a_band_and_no_advice() -> None:
    turns = np.linspace(0, 2 * math.pi, 1101)[:-1]
    reach = np.where(np.arange(1100) % 2, 300, 290)
    star = [*zip(reach * np.cos(turns), reach * np.sin(turns), strict=True)]
    lawn = placed(area("star", "turf", [*star, star[0]]), "1 mm")

    told = uncertainty_of(lawn, better_error="1 mm")

    assert told["treatable_area"]["plus_minus"]["value"] > 0
    assert "remeasure" not in told


def test_lawns_measured_in_the_same_way_have_the_firm_s_error() -> None:
    measured = RECTANGLE | {"properties": {"kind": "turf", "measured_by": "imagery"}}

    told = uncertainty_of(
        LAWN | {"id": "other", "properties": measured["properties"]},
        measured,
        position_errors={"imagery": "2 ft"},
    )

    assert {each["feature"]: each["deviation"]["value"] for each in told["by_shape"]}[
        "lawn"
    ] == pytest.approx(2 * RECTANGLE_SIGMA, rel=NEARLY)
