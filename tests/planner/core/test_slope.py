"""Which area a label's rate meets on a slope: the turf as it lies, or its map."""

import math
from typing import Any

import pytest

from planner.core.plan import plan_from_json
from planner.core.report import plan_as_json
from properties.core.errors import FaultsFound
from tests.planner.core.asking import HERBICIDE, area, asking, corners_of, place, with_output

# The plane of the test differs from a plane of true areas by parts in a million.
PLACED = 4e-5

GUN = with_output("2 gal/1000 sq ft", kind="hand_gun", swath="3 ft", tanks=["5 gal"])
ADJUVANT = {"name": "Invented adjuvant", "rate": "0.25 %", "formulation": "NIS"}


def planned(slope: Any, **changes: Any) -> Any:
    bank = area("bank", "turf", corners_of(0, 0, 100, 60), slope=slope)
    request = {
        "property": place(bank),
        "machine": with_output("1 gal/1000 sq ft", tanks=["4 gal"]),
        "mix": [HERBICIDE, ADJUVANT],
    }
    return plan_as_json(plan_from_json(asking(**(request | changes))))


def test_thirty_percent_of_six_thousand_square_feet_are_6264_of_turf() -> None:
    # sqrt(1.09) × 6,000 = 6,264.
    surface = planned("30 %")

    assert surface["treatable_area"]["value"] == pytest.approx(6264, rel=PLACED)
    assert surface["products"][0]["amount"]["value"] == pytest.approx(1.2 * 6.264, rel=PLACED)
    assert surface["rate_meets"] == "surface"
    assert "rate_area" not in surface


def test_a_rate_that_meets_the_map_is_for_less_and_the_spray_is_not() -> None:
    on_map = planned("30 %", rate_meets="plan")

    assert on_map["treatable_area"]["value"] == pytest.approx(6264, rel=PLACED)
    assert on_map["rate_area"]["value"] == pytest.approx(6000, rel=PLACED)
    assert on_map["carrier_volume"]["value"] == pytest.approx(6.264, rel=PLACED)
    herbicide, adjuvant = on_map["products"]
    assert herbicide["amount"]["value"] == pytest.approx(1.2 * 6, rel=PLACED)
    # A share of the spray follows the spray: 0.25 % of 6.264 gal.
    assert adjuvant["amount"]["value"] == pytest.approx(0.0025 * 6.264 * 128, rel=PLACED)


def test_each_load_has_its_part_of_the_map() -> None:
    loads = planned("30 %", rate_meets="plan")["loads"]

    assert [load["volume"]["value"] for load in loads] == pytest.approx([4, 2.264], rel=1e-4)
    for load in loads:
        on_map = load["area"]["value"] / math.sqrt(1.09)
        assert load["rate_area"]["value"] == pytest.approx(on_map, rel=1e-9)
        amount = load["products"][0]["amount"]["value"]
        assert amount == pytest.approx(1.2 * on_map / 1000, rel=1e-9)


@pytest.mark.parametrize(("meets", "refused"), [("surface", ["carrier_below_label"]), ("plan", [])])
def test_the_label_s_carrier_meets_the_same_area_as_its_rate(
    meets: str, refused: list[str]
) -> None:
    # 1 gal on 1,000 sq ft of turf is 1.044 gal on 1,000 sq ft of the map.
    label = HERBICIDE["label"] | {"carrier_min": "1.02 gal/1000 sq ft"}

    plan = planned("30 %", rate_meets=meets, mix=[HERBICIDE | {"label": label}])

    assert [refusal["code"] for refusal in plan["refusals"]] == refused


def test_level_turf_is_as_large_as_its_map() -> None:
    surface, on_map = planned("0 %"), planned("0 %", rate_meets="plan")

    assert on_map["rate_area"]["value"] == pytest.approx(on_map["treatable_area"]["value"])
    assert on_map["products"] == surface["products"]


def test_a_hand_tool_s_part_has_its_own_map() -> None:
    strip = area("strip", "turf", corners_of(200, 0, 206, 60))
    bank = area("bank", "turf", corners_of(0, 0, 100, 60), slope={"rise": "3 ft", "run": "10 ft"})

    plan = planned("0 %", property=place(bank, strip), hand_tool=GUN, rate_meets="plan")

    assert [part["rate_area"]["value"] for part in plan["parts"]] == pytest.approx(
        [6000, 360], rel=PLACED
    )
    assert plan["rate_area"]["value"] == pytest.approx(6360, rel=PLACED)


@pytest.mark.parametrize("slope", ["90 deg", "-5 %", {"rise": "1 ft", "run": "0 ft"}])
def test_no_turf_stands_on_end(slope: Any) -> None:
    with pytest.raises(FaultsFound):
        planned(slope)


def test_only_two_areas_are_known() -> None:
    with pytest.raises(FaultsFound, match="Write one of: surface, plan"):
        planned("5 %", rate_meets="shadow")
