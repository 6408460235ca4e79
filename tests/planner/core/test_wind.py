"""The no-spray ground follows the wind, and stops the work where there is too much of it."""

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.core.plan import Plan, plan_from_json
from planner.core.report import plan_as_json
from properties.core.errors import FaultsFound
from properties.core.units import quantity_of_si
from tests.planner.core.asking import (
    HERBICIDE,
    area,
    asking,
    codes,
    corners_of,
    place,
    with_output,
)

# The plane of the test differs from a plane of true areas by parts in a million, and each
# distance is kept five parts in a million longer.
PLACED = 4e-5

LAWN = area("lawn", "turf", corners_of(0, 0, 150, 100))
GARDEN = area("garden", "garden", corners_of(150, 0, 180, 100), setback="5 ft")
DOWNWIND_GARDEN = area(
    "garden", "garden", corners_of(150, 0, 180, 100), setback="5 ft", downwind_setback="25 ft"
)
LIMITED = HERBICIDE | {"label": HERBICIDE["label"] | {"wind_max": "10 mph"}}


def planned(*features: Any, **changes: Any) -> Plan:
    machine = with_output("1.5 gal/1000 sq ft")
    return plan_from_json(
        asking(property=place(LAWN, *features), **({"machine": machine} | changes))
    )


def treatable_sq_ft(plan: Plan) -> float:
    return quantity_of_si(plan.ground.treatment.treatable_area_m2, "sq ft").value


def wind(come_from: str, speed: str = "6 mph") -> dict[str, str]:
    return {"wind_from": come_from, "wind_speed": speed}


@pytest.mark.parametrize(
    ("come_from", "strip_ft"),
    [("270 deg", 25), ("W", 25), ("90 deg", 5), ("E", 5), ("230 deg", 25), ("220 deg", 5)],
)
def test_the_garden_to_the_east_is_kept_from_farther_in_a_wind_from_the_west(
    come_from: str, strip_ft: int
) -> None:
    # Facing: the garden lies due east, 90 deg; the wind blows to within 45 deg of that or not.
    plan = planned(DOWNWIND_GARDEN, weather=wind(come_from), wind_rule={"judged": "facing"})

    assert treatable_sq_ft(plan) == pytest.approx((150 - strip_ft) * 100, rel=PLACED)
    assert "wind_not_in_shape" not in codes(plan.warnings)


def test_a_sector_meets_a_garden_that_a_nearest_point_does_not_face() -> None:
    # 40 deg to the side the sector of 45 deg still meets the long edge, short of its full reach.
    sector = planned(DOWNWIND_GARDEN, weather=wind("200 deg"))
    facing = planned(DOWNWIND_GARDEN, weather=wind("200 deg"), wind_rule={"judged": "facing"})

    assert treatable_sq_ft(facing) == pytest.approx(145 * 100, rel=PLACED)
    assert 125 * 100 < treatable_sq_ft(sector) < 144 * 100


@pytest.mark.parametrize(("half_angle", "strip_ft"), [("60 deg", 25), ("30 deg", 5)])
def test_the_half_angle_says_what_is_still_downwind(half_angle: str, strip_ft: int) -> None:
    plan = planned(
        DOWNWIND_GARDEN,
        weather=wind("225 deg"),
        wind_rule={"judged": "facing", "half_angle": half_angle},
    )

    assert treatable_sq_ft(plan) == pytest.approx((150 - strip_ft) * 100, rel=PLACED)


def test_a_wind_nobody_knows_keeps_the_downwind_distance_on_all_sides() -> None:
    plan = plan_from_json(
        asking(
            property=place(
                LAWN,
                area("a", "garden", corners_of(150, 0, 180, 100), setback="5 ft"),
                area("b", "bed", corners_of(0, 100, 150, 106)),
            ),
            setback_rules=[
                {"kind": kind, "distance": "5 ft", "downwind": "25 ft", "source": "Invented firm"}
                for kind in ("vegetable_garden", "flower_bed")
            ],
        )
    )

    (warning,) = plan.warnings
    assert warning.code == "wind_unknown_all_round"
    assert "a (vegetable garden) and b (flower bed)" in warning.message
    # A corner of 25 by 25 ft lies within 25 ft of both; nothing rounds it, as both are longer.
    assert treatable_sq_ft(plan) == pytest.approx(125 * 75, rel=PLACED)
    assert all("on all sides" in kept.setback.reason for kept in plan.ground.kept_from)
    report = plan_as_json(plan)
    zones = [zone["properties"] for zone in report["no_spray"]["features"]]
    assert [zone["distance"] for zone in zones] == [{"value": 25.0, "unit": "ft"}] * 2
    assert not report["wind"]["in_shape"]


def test_a_known_wind_shows_both_distances_with_their_reasons() -> None:
    rule = {"kind": "pond", "distance": "5 ft", "downwind": "25 ft", "source": "Invented firm"}
    pond = area("pond", "pond", corners_of(150, 0, 180, 100))

    plan = plan_as_json(planned(pond, weather=wind("W"), setback_rules=[rule]))

    (zone,) = plan["no_spray"]["features"]
    assert zone["properties"]["distance"] == {"value": 5, "unit": "ft"}
    assert zone["properties"]["downwind_distance"] == {"value": 25, "unit": "ft"}
    assert zone["properties"]["downwind_reason"] == "Invented firm: 25 ft from a pond downwind"
    assert plan["wind"]["from"] == {"value": 270, "unit": "deg"}
    assert plan["wind"]["speed"] == {"value": 6, "unit": "mph"}
    assert plan["wind"]["in_shape"]
    assert (plan["wind"]["half_angle"], plan["wind"]["judged"]) == (
        {"value": 45, "unit": "deg"},
        "sector",
    )


def test_a_label_asks_for_a_downwind_distance() -> None:
    label = HERBICIDE["label"] | {"setbacks": {"garden": {"downwind": "25 ft"}}}

    plan = planned(GARDEN, weather=wind("W"), mix=[HERBICIDE | {"label": label}])

    assert treatable_sq_ft(plan) == pytest.approx(125 * 100, rel=PLACED)
    (kept,) = plan.ground.kept_from
    assert kept.decided_downwind is not None
    assert kept.decided_downwind.reason == (
        "label of Invented herbicide: 25 ft from a vegetable garden downwind"
    )


def test_a_downwind_distance_alone_leaves_the_others_unknown() -> None:
    only = area("garden", "garden", corners_of(150, 0, 180, 100), downwind_setback="25 ft")

    plan = planned(only, weather=wind("W"))

    assert codes(plan.refusals) == ["setback_unknown"]
    # What is known is kept all the same.
    assert treatable_sq_ft(plan) == pytest.approx(125 * 100, rel=PLACED)


def test_a_downwind_distance_no_longer_than_the_plain_one_changes_nothing() -> None:
    shorter = area(
        "garden", "garden", corners_of(150, 0, 180, 100), setback="5 ft", downwind_setback="5 ft"
    )

    plan = planned(shorter, weather=wind("W"))

    assert treatable_sq_ft(plan) == pytest.approx(145 * 100, rel=PLACED)
    assert codes(plan.warnings) == ["output_stated", "wind_not_in_shape"]


def test_an_obstacle_may_have_a_downwind_distance() -> None:
    pool = area(
        "pool", "pool", corners_of(150, 0, 180, 100), setback="5 ft", downwind_setback="25 ft"
    )

    assert treatable_sq_ft(planned(pool, weather=wind("W"))) == pytest.approx(12_500, rel=PLACED)


@given(come_from=st.integers(0, 359), judged=st.sampled_from(["sector", "facing"]))
def test_no_wind_opens_ground_within_the_plain_distance_or_closes_any_beyond_the_downwind_one(
    come_from: int, judged: str
) -> None:
    plan = planned(DOWNWIND_GARDEN, weather=wind(f"{come_from} deg"), wind_rule={"judged": judged})

    # An arc may run 1 cm outside: 3.3 sq ft along the garden's 100 ft.
    assert 12_500 * (1 - PLACED) - 3.3 <= treatable_sq_ft(plan) <= 14_500 * (1 + PLACED)


@pytest.mark.parametrize(
    ("speed", "refused"),
    [
        ("10 mph", []),
        ("11 mph", ["wind_over_label", "wind_over_firm"]),
        ("8.5 mph", ["wind_over_firm"]),
    ],
)
def test_over_the_label_s_or_the_firm_s_wind_the_plan_is_on_hold(
    speed: str, refused: list[str]
) -> None:
    rule = {"hold_above": "8 mph" if speed == "8.5 mph" else "10 mph", "source": "Invented firm"}

    plan = planned(GARDEN, weather=wind("W", speed), mix=[LIMITED], wind_rule=rule)

    assert codes(plan.refusals) == refused
    assert plan_as_json(plan)["hold"] is bool(refused)
    # The figures stay, for when the wind has dropped.
    assert plan.carrier_l > 0


def test_a_wind_nobody_measured_is_told_for_the_firm_s_limit() -> None:
    plan = planned(GARDEN, wind_rule={"hold_above": "10 mph", "source": "Invented firm"})

    assert codes(plan.warnings) == ["output_stated", "wind_unknown"]
    assert "Invented firm" in plan.warnings[1].message


@pytest.mark.parametrize(("speed", "told"), [("3.9 mph", True), ("4 mph", False)])
def test_the_firm_says_how_still_is_too_still(speed: str, told: bool) -> None:
    plan = planned(GARDEN, weather=wind("W", speed), wind_rule={"calm_below": "4 mph"})

    assert ("wind_calm" in codes(plan.warnings)) is told


def test_every_plan_says_that_the_wind_s_rule_is_no_forecast() -> None:
    plan = plan_as_json(planned(GARDEN))

    assert "not a forecast" in plan["wind"]["note"]
    assert (plan["wind"]["from"], plan["wind"]["half_angle"]) == (None, None)


@pytest.mark.parametrize(
    ("rule", "where", "words"),
    [
        ({"half_angle": "91 deg"}, "half_angle", "cannot be right"),
        ({"half_angle": "0 deg"}, "half_angle", "not above zero"),
        ({"judged": "by eye"}, "judged", "Write one of: sector, facing"),
        ({"hold_above": "-1 mph"}, "hold_above", "below zero"),
        ({"hold_above": "2 mph"}, "hold_above", "No wind would do"),
        ({"calm_below": "3"}, "calm_below", "has no unit"),
        ({"source": 5}, "source", "not a name"),
        ({"gusts": "9 mph"}, "gusts", "not part of a plan request"),
    ],
)
def test_a_slip_in_the_rule_for_the_wind_is_told(rule: Any, where: str, words: str) -> None:
    with pytest.raises(FaultsFound) as found:
        planned(GARDEN, wind_rule=rule)

    assert [fault.field for fault in found.value.faults] == [f"wind_rule.{where}"]
    assert words in str(found.value.faults[0])


def test_a_wind_of_400_degrees_is_no_direction() -> None:
    with pytest.raises(FaultsFound, match="400 deg is not a direction on the compass"):
        planned(GARDEN, weather=wind("400 deg"))
