"""The drawing on paper: every bit of turf is in one class, and the promise is not widened."""

import math
from typing import Any

import pytest
import shapely
from shapely import Polygon
from shapely.geometry.base import BaseGeometry

from planner.core.quote.drawing import Ground, lot_drawing
from properties.core.outlines import Drawing, read_drawing
from tests.places import collection, feature, rectangle, small_lot

#: Corners are kept to a centimetre, and outlines flattened by two.
METRES2_AROUND_A_LAWN = 4.0


def _drawn(*features: dict[str, Any]) -> Drawing:
    return read_drawing(collection(*features))


def _strip(west: float, width: float) -> dict[str, Any]:
    return {"type": "MultiPolygon", "coordinates": [rectangle(west, 0, width, 400)["coordinates"]]}


LAWN = feature("lawn", "turf", rectangle(0, 0, 400, 400), name="Lawn")


def _areas(drawn: dict[str, Any]) -> dict[str, float]:
    """The area of each class, by the even-odd rule."""
    sums: dict[str, float] = {}
    for area in drawn["areas"]:
        shape: BaseGeometry = shapely.MultiPolygon()
        for ring in area["rings"]:
            shape = shape.symmetric_difference(Polygon(ring))
        sums[area["look"]] = sums.get(area["look"], 0.0) + shape.area
    return sums


def test_turf_is_treated_by_machine_or_by_hand_or_left() -> None:
    ground = Ground(_strip(0, 300), by_hand=_strip(200, 100))

    areas = _areas(lot_drawing(_drawn(LAWN), [ground], units="us"))

    lawn_m2 = sum(areas.values())
    assert areas["treatable"] == pytest.approx(lawn_m2 / 2, abs=METRES2_AROUND_A_LAWN)
    assert areas["hand"] == pytest.approx(lawn_m2 / 4, abs=METRES2_AROUND_A_LAWN)
    assert areas["left"] == pytest.approx(lawn_m2 / 4, abs=METRES2_AROUND_A_LAWN)


def test_only_turf_that_no_visit_treats_is_shown_as_left() -> None:
    one, other = Ground(_strip(0, 100)), Ground(_strip(300, 100))

    both = _areas(lot_drawing(_drawn(LAWN), [one, other], units="us"))
    alone = _areas(lot_drawing(_drawn(LAWN), [one], units="us"))

    assert both["left"] == pytest.approx(alone["left"] * 2 / 3, rel=0.01)


def test_ground_that_one_visit_does_with_the_machine_is_not_shown_as_done_by_hand() -> None:
    by_machine, by_hand = Ground(_strip(0, 200)), Ground(_strip(0, 300), by_hand=_strip(0, 300))

    areas = _areas(lot_drawing(_drawn(LAWN), [by_machine, by_hand], units="us"))

    assert areas["treatable"] == pytest.approx(2 * areas["hand"], rel=0.01)


def test_with_no_visit_all_turf_is_left() -> None:
    assert set(_areas(lot_drawing(_drawn(LAWN), [], units="us"))) == {"left"}


def test_protected_features_are_numbered_in_their_order_and_the_rest_is_named() -> None:
    drawn = lot_drawing(read_drawing(small_lot()), [], units="us")

    assert [(one["number"], one["feature"]) for one in drawn["numbers"]] == [
        (1, "roses"),
        (2, "pond"),
    ]
    assert [name["text"] for name in drawn["names"]] == ["Lawn", "House"]
    assert {area["look"] for area in drawn["areas"]} == {"left", "obstacle", "plants", "water"}


def test_lines_points_and_people_wear_the_look_of_their_kind() -> None:
    hive, line = rectangle(100, 100, 0, 0)["coordinates"][0][0], rectangle(0, 0, 400, 400)
    drawn = lot_drawing(
        _drawn(
            LAWN,
            feature("hive", "beehives", {"type": "Point", "coordinates": hive}),
            feature(
                "creek",
                "stream",
                {"type": "LineString", "coordinates": line["coordinates"][0][:2]},
            ),
        ),
        [],
        units="metric",
    )

    assert [one["look"] for one in drawn["points"]] == ["people"]
    assert [one["look"] for one in drawn["lines"]] == ["water"]
    (x0, y0), (x1, y1) = drawn["lines"][0]["line"]
    assert math.hypot(x1 - x0, y1 - y0) == pytest.approx(drawn["width"] - 3, abs=0.05)


def test_the_drawing_lies_within_its_sheet() -> None:
    drawn = lot_drawing(read_drawing(small_lot()), [], units="us")

    corners = [corner for area in drawn["areas"] for ring in area["rings"] for corner in ring]
    assert all(0 < x < drawn["width"] and 0 < y < drawn["height"] for x, y in corners)


@pytest.mark.parametrize(("units", "unit"), [("us", "ft"), ("metric", "m")])
@pytest.mark.parametrize("size", [20, 400, 20_000])
def test_the_bar_of_the_scale_is_a_round_length_that_fits(units: str, unit: str, size: int) -> None:
    lawn = feature("lawn", "turf", rectangle(0, 0, size, size))

    drawn = lot_drawing(_drawn(lawn), [], units=units)

    assert drawn["scale"]["text"].endswith(f" {unit}")
    assert drawn["scale"]["length"] < 0.5 * drawn["width"]
