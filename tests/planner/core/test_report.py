"""A plan as JSON: every member that the format promises."""

import json
from typing import Any

import pytest
import shapely

from planner.core.plan import plan_from_json
from planner.core.report import plan_as_json
from tests.planner.core.asking import (
    HERBICIDE,
    LAWN,
    area,
    asking,
    corners_of,
    lonlat,
    place,
    point,
    with_output,
    with_runs,
)

MEMBERS = {
    *("turf_area", "obstacle_area", "no_spray_area", "treatable_area", "treatable", "no_spray"),
    *("machine_area", "hand_area", "output", "carrier_volume", "products", "loads"),
    *("warnings", "refusals", "working"),
}

BED = area("bed", "bed", corners_of(10, 10, 20, 20), setback="3 ft", name="Roses")


def report(**changes: Any) -> Any:
    return plan_as_json(plan_from_json(asking(**changes)))


def test_every_promised_member_is_there_and_survives_strict_json() -> None:
    plan = report(property=place(LAWN, BED))

    assert set(plan) >= MEMBERS
    assert json.loads(json.dumps(plan, allow_nan=False)) == plan


@pytest.mark.parametrize(
    ("units", "wanted"),
    [
        ("us", ("sq ft", "gal", "fl oz", "oz wt", "gal/1000 sq ft")),
        ("metric", ("m2", "L", "mL", "g", "L/100 m2")),
    ],
)
def test_every_figure_is_in_the_units_asked_for(units: str, wanted: tuple[str, ...]) -> None:
    granule = {"name": "Invented granule", "rate": "0.5 lb/acre"}

    plan = report(units=units, mix=[HERBICIDE, granule])

    assert plan["units"] == units
    assert (
        plan["turf_area"]["unit"],
        plan["carrier_volume"]["unit"],
        plan["products"][0]["amount"]["unit"],
        plan["products"][1]["amount"]["unit"],
        plan["output"]["unit"],
    ) == wanted


def test_turf_is_treatable_and_obstacle_and_no_spray() -> None:
    walk = area("walk", "walk", corners_of(0, 0, 100, 12))

    plan = report(property=place(LAWN, BED, walk))

    parts = (plan[name]["value"] for name in ("treatable_area", "obstacle_area", "no_spray_area"))
    assert sum(parts) == pytest.approx(plan["turf_area"]["value"], rel=1e-9)
    assert sum(plan[name]["value"] for name in ("machine_area", "hand_area")) == pytest.approx(
        plan["treatable_area"]["value"], rel=1e-9
    )


def test_the_treatable_ground_is_drawn_where_it_is() -> None:
    plan = report(property=place(LAWN, BED))

    ground = shapely.geometry.shape(plan["treatable"])
    bed = shapely.Polygon(BED["geometry"]["coordinates"][0])
    assert plan["treatable"]["type"] == "MultiPolygon"
    assert ground.is_valid
    assert ground.covers(shapely.Point(lonlat(15, 2)))
    assert not ground.intersects(bed)
    # RFC 7946, 3.1.6: exterior rings run counterclockwise, holes clockwise.
    rings = plan["treatable"]["coordinates"][0]
    assert [shapely.LinearRing(ring).is_ccw for ring in rings] == [True, False]


def test_each_feature_has_its_zone_its_distance_and_the_reason() -> None:
    plan = report(property=place(LAWN, BED), units="metric")

    (zone,) = plan["no_spray"]["features"]
    assert zone["properties"] == {
        "feature": "bed",
        "kind": "flower_bed",
        "name": "Roses",
        "distance": {"value": pytest.approx(0.9144, rel=1e-12), "unit": "m"},
        "reason": "set on this feature",
    }
    assert shapely.geometry.shape(zone["geometry"]).covers(shapely.geometry.shape(BED["geometry"]))
    (left,) = plan["left_out"]
    # 10 by 10 ft is 9.290304 m².
    assert left["own_ground"]["value"] == pytest.approx(9.290304, rel=2e-5)


def test_a_point_of_unknown_distance_has_no_zone_to_draw() -> None:
    plan = report(property=place(LAWN, point("well", "well", 30, 30)))

    (zone,) = plan["no_spray"]["features"]
    assert zone["geometry"] is None
    assert zone["properties"]["distance"] is None
    assert [refusal["code"] for refusal in plan["refusals"]] == ["setback_unknown"]
    assert plan["refusals"][0]["feature"] == "well"


def test_nothing_treatable_is_an_empty_drawing_and_no_load() -> None:
    plan = report(property=place(LAWN, area("house", "building", corners_of(-1, -1, 101, 51))))

    assert plan["treatable"] == {"type": "MultiPolygon", "coordinates": []}
    assert plan["loads"] == []
    assert plan["products"][0]["amount"]["value"] == 0
    assert plan["products"][0]["amount_to_measure"] is None
    assert [refusal["code"] for refusal in plan["refusals"]] == ["nothing_treatable"]


def test_the_output_tells_its_runs_and_its_flukes() -> None:
    plan = plan_as_json(plan_from_json(with_runs("1.0 gal", "1.0 gal", "1.3 gal", "1.0 gal")))

    output = plan["output"]
    assert (output["method"], output["runs"], output["runs_kept"]) == ("measured_course", 4, 3)
    assert output["value"] == pytest.approx(1.0, rel=1e-12)
    assert output["cv_percent"] == 0
    (fluke,) = output["flukes"]
    assert fluke["run"] == 3
    assert fluke["volume"]["value"] == pytest.approx(1.3, rel=1e-12)
    assert fluke["deviation_percent"] == pytest.approx(30, rel=1e-12)


def test_a_stated_output_says_so() -> None:
    output = report(machine=with_output("1 gal/1000 sq ft"))["output"]

    assert (output["method"], output["runs"], output["cv_percent"]) == ("stated", 0, None)


def test_a_product_tells_its_rate_its_label_and_what_to_measure_out() -> None:
    adjuvant = {"name": "Invented adjuvant", "rate": "0.25 %", "formulation": "NIS"}

    herbicide, surfactant = report(mix=[HERBICIDE, adjuvant])["products"]

    # 5,000 sq ft at 1.2 fl oz/1,000 sq ft are 6 fl oz, on a mark of the jug.
    assert herbicide["amount"]["value"] == pytest.approx(6, rel=2e-5)
    assert herbicide["amount_to_measure"] == {"value": 6, "unit": "fl oz"}
    assert herbicide["measure"] == {"value": 1, "unit": "fl oz"}
    assert herbicide["rate_used"]["unit"] == "fl oz/1000 sq ft"
    assert herbicide["label_range"]["max"]["value"] == pytest.approx(1.5, rel=1e-12)
    assert surfactant["label_range"] == {"min": None, "max": None}
    assert surfactant["rate_used"] == {"value": pytest.approx(0.25, rel=1e-12), "unit": "%"}


def test_loads_list_the_products_in_mixing_order_with_the_reason() -> None:
    adjuvant = {"name": "Invented adjuvant", "rate": "0.25 %", "formulation": "NIS"}
    unknown = {"name": "Invented marker", "rate": "0.1 %"}

    plan = report(mix=[adjuvant, HERBICIDE])
    unconfirmed = report(mix=[unknown, HERBICIDE])

    names = [each["name"] for each in plan["loads"][0]["products"]]
    assert names == ["Invented herbicide", "Invented adjuvant"]
    assert plan["mixing_order"] == [
        {"name": "Invented herbicide", "formulation": "SL", "step": "other liquids"},
        {"name": "Invented adjuvant", "formulation": "NIS", "step": "adjuvants"},
    ]
    assert unconfirmed["mixing_order"][1] == {
        "name": "Invented marker",
        "formulation": None,
        "step": None,
    }


def test_a_load_without_room_for_water_says_nothing_about_water() -> None:
    plan = report(mix=[HERBICIDE | {"rate": "1.2 gal/1000 sq ft", "label": {}}])

    assert plan["loads"][0]["water"] is None


def test_what_was_mended_and_counted_once_is_noted() -> None:
    twin = area("twin", "turf", corners_of(50, 0, 150, 50))

    notes = report(property=place(LAWN, twin))["notes"]

    assert any(note["code"] == "turf_overlaps" for note in notes)
