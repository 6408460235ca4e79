"""What another speed on a slope does to spray, products, labels and limits."""

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.core.answers import answer
from planner.core.machine.slope_speeds import (
    SlopeSpeed,
    SlopeSpeeds,
    output_times,
    repeated_slopes,
    rise_over_run,
    speed_on,
)
from planner.core.plan import plan_from_json
from planner.core.report import plan_as_json
from properties.core.errors import Refused
from properties.core.units import Quantity
from tests.planner.core.asking import (
    HERBICIDE,
    MACHINE,
    area,
    asking,
    corners_of,
    place,
    with_output,
)

MPH = Quantity(4, "mph")
# The plane of the test differs from a plane of true areas by parts in a million.
PLACED = 4e-5

BANK = area("bank", "turf", corners_of(0, 0, 100, 60), slope="20 %", name="Bank")
FLAT = area("flat", "turf", corners_of(200, 0, 300, 60), name="Flat")
BANK_SQ_FT = 6000 * 1.04**0.5

TOLD = {"level_speed": "4.0 mph", "slope_speeds": [{"slope": "20 %", "speed": "3.4 mph"}]}


def machine(pump: str | None = "fixed", *, told: Any = TOLD, **more: Any) -> Any:
    calibration = MACHINE["calibration"] | told
    fitted = {} if pump is None else {"pump": pump}
    return MACHINE | {"calibration": calibration} | fitted | more


def planned(*shapes: Any, **changes: Any) -> Any:
    request = {"property": place(*(shapes or (BANK, FLAT))), "machine": machine()} | changes
    return plan_as_json(plan_from_json(asking(**request)))


def codes(plan: Any, kind: str) -> list[str]:
    return [finding["code"] for finding in plan[kind]]


def value(quantity: Any) -> float:
    return float(quantity["value"])


# NC State Extension, The Calibration of Turfgrass Boom Sprayers and Spreaders: at a constant
# pressure 20 gal/acre at 3 mph are 10 gal/acre at 6 mph.
def test_twice_as_fast_puts_down_half_as_much() -> None:
    times = output_times(
        calibrated_m_per_s=Quantity(3, "mph").si, driven_m_per_s=Quantity(6, "mph").si
    )

    assert 20 * times == pytest.approx(10, rel=1e-12)


# By the same law, worked by hand: 4.0 / 3.4 = 1.17647.
def test_from_four_to_three_point_four_miles_an_hour_is_1_1765_times_as_much() -> None:
    times = output_times(
        calibrated_m_per_s=Quantity(4.0, "mph").si, driven_m_per_s=Quantity(3.4, "mph").si
    )

    assert times == pytest.approx(1.1765, abs=5e-5)


def test_a_slope_in_degrees_and_in_percent_is_one_slope() -> None:
    assert rise_over_run(Quantity(45, "deg")) == pytest.approx(1, rel=1e-12)
    assert rise_over_run(Quantity(100, "%")) == 1
    told = [
        SlopeSpeed(Quantity(45, "deg"), MPH),
        SlopeSpeed(Quantity(100, "%"), Quantity(3, "mph")),
    ]
    assert repeated_slopes(told)


def test_level_ground_is_no_slope_to_tell_a_speed_of() -> None:
    assert repeated_slopes([SlopeSpeed(Quantity(0, "%"), MPH)])
    assert not repeated_slopes([SlopeSpeed(Quantity(5, "%"), MPH)])


def test_a_speed_lies_on_the_line_between_two_measured_ones_and_not_beyond() -> None:
    measured = (
        SlopeSpeed(Quantity(30, "%"), Quantity(2, "mph")),
        SlopeSpeed(Quantity(10, "%"), Quantity(3.6, "mph")),
    )
    speeds = SlopeSpeeds(MPH, measured)

    def mph(slope: float) -> float | None:
        there = speed_on(Quantity(slope, "%"), speeds)
        return None if there is None else there.m_per_s / Quantity(1, "mph").si

    # By hand: 3.6 − (3.6 − 2) × (15 − 10) / (30 − 10) = 3.2.
    assert mph(15) == pytest.approx(3.2, rel=1e-12)
    assert mph(5) == pytest.approx(3.8, rel=1e-12)
    assert mph(30) == pytest.approx(2, rel=1e-12)
    assert mph(30.1) is None
    assert speeds.steepest == Quantity(30, "%")
    assert speed_on(Quantity(5, "%"), SlopeSpeeds()) is None


@given(
    slope=st.floats(0.1, 20),
    there=st.floats(1, 6),
)
def test_what_a_fixed_pump_gives_in_a_second_is_the_same_at_every_speed(
    slope: float, there: float
) -> None:
    speeds = SlopeSpeeds(MPH, (SlopeSpeed(Quantity(20, "%"), Quantity(there, "mph")),))

    found = speed_on(Quantity(slope, "%"), speeds)

    assert found is not None
    times = output_times(calibrated_m_per_s=MPH.si, driven_m_per_s=found.m_per_s)
    assert times * found.m_per_s == pytest.approx(MPH.si, rel=1e-12)


def test_a_speed_of_nothing_is_refused() -> None:
    with pytest.raises(Refused):
        output_times(calibrated_m_per_s=1, driven_m_per_s=0)


def test_spray_and_products_grow_where_it_drives_slower() -> None:
    plan = planned()

    # By hand: 1 gal/1000 sq ft on the flat, 4 / 3.4 times that on the bank.
    gallons = 6 + BANK_SQ_FT / 1000 * 4 / 3.4
    assert value(plan["carrier_volume"]) == pytest.approx(gallons, rel=PLACED)
    assert value(plan["products"][0]["amount"]) == pytest.approx(1.2 * gallons, rel=PLACED)
    assert value(plan["level_area"]) == pytest.approx(1000 * gallons, rel=PLACED)
    assert value(plan["treatable_area"]) == pytest.approx(6000 + BANK_SQ_FT, rel=PLACED)
    (slope,) = plan["slopes"]
    assert slope["features"] == ["bank"]
    assert slope["speed"] == {"value": pytest.approx(3.4), "unit": "mph"}
    assert slope["times"] == pytest.approx(1.17647, abs=5e-6)
    assert value(slope["output"]) == pytest.approx(1.17647, abs=5e-6)
    (product,) = slope["products"]
    assert value(product["rate"]) == pytest.approx(1.2 * 4 / 3.4, rel=1e-9)
    assert product["allowed"] is True
    assert codes(plan, "warnings") == ["slope_output"]
    assert plan["refusals"] == []


def test_a_pump_that_follows_the_speed_changes_nothing_and_says_so() -> None:
    tied, untold = planned(machine=machine("speed_tied")), planned(machine=MACHINE)

    assert tied["carrier_volume"] == untold["carrier_volume"]
    assert tied["products"] == untold["products"]
    assert tied["slopes"][0]["times"] == 1
    assert "follows the speed" in tied["slopes_note"]
    assert tied["warnings"] == []
    assert "level_area" not in tied
    assert "slopes" not in untold


def test_an_unknown_speed_is_told_and_not_taken_for_no_loss() -> None:
    plan = planned(machine=machine(told={}))

    assert codes(plan, "warnings") == ["slope_speed_unknown"]
    assert plan["slopes"][0]["output"] is None
    assert plan["slopes"][0]["products"] == []


def test_a_slope_steeper_than_all_that_were_measured_is_unknown() -> None:
    steep = area("bank", "turf", corners_of(0, 0, 100, 60), slope="12 deg")

    plan = planned(steep)

    assert codes(plan, "warnings") == ["slope_speed_unknown"]
    assert "20 %" in plan["warnings"][0]["message"]


def test_level_turf_and_level_speeds_say_nothing() -> None:
    plan = planned(FLAT, area("edge", "turf", corners_of(0, 0, 50, 50), slope="0 %"))

    assert plan["warnings"] == []
    assert "slopes" not in plan


def test_a_pump_nobody_told_is_asked_for_where_speeds_on_slopes_are_told() -> None:
    plan = planned(machine=machine(None))

    assert codes(plan, "warnings") == ["slope_pump_unknown"]
    assert plan["slopes"][0]["times"] is None
    assert "Nobody says" in plan["slopes_note"]


def test_a_rate_over_the_label_on_a_slope_is_refused_with_the_ways_out() -> None:
    mix = [HERBICIDE | {"rate": "1.4 fl oz/1000 sq ft"}]
    set_up = {"pressure": "40 psi"}
    told = TOLD | {"set_up": set_up, "slope_speeds": [{"slope": "20 %", "speed": "3.6 mph"}]}

    plan = planned(mix=mix, machine=machine(told=told, set_up=set_up))

    assert codes(plan, "refusals") == ["slope_rate_above_label"]
    message = plan["refusals"][0]["message"]
    # By hand: 1.4 × 4 / 3.6 = 1.5556; 1.5 × 3.6 / 4 = 1.35; 40 × 0.9² = 32.4.
    assert "1.556 fl oz/1000 sq ft" in message
    assert "1.35 fl oz/1000 sq ft on level ground at most" in message
    assert "Drive there as it was calibrated (4 mph)" in message
    assert "32.4 psi" in message
    assert plan["slopes"][0]["products"][0]["allowed"] is False
    assert plan["products"][0]["amount_to_measure"] is None


def test_no_rounding_takes_a_slope_over_the_label() -> None:
    # 1.27 × 4 / 3.4 = 1.494 of 1.5: the next mark up would be 1.51 on the bank.
    mix = [HERBICIDE | {"rate": "1.27 fl oz/1000 sq ft"}]
    measures = {"liquid": ["1 fl oz"]}

    plan = planned(mix=mix, measures=measures)

    rate = value(plan["products"][0]["rate_after_rounding"])
    assert rate * 4 / 3.4 <= 1.5


def test_without_a_known_pressure_its_share_is_told() -> None:
    told = TOLD | {"slope_speeds": [{"slope": "20 %", "speed": "3.6 mph"}]}

    plan = planned(mix=[HERBICIDE | {"rate": "1.4 fl oz/1000 sq ft"}], machine=machine(told=told))

    # 1 − (3.6 / 4)² = 19 %.
    assert "set the pressure 19% lower there" in plan["refusals"][0]["message"]


def test_where_too_much_pressure_would_have_to_go_other_tips_are_told() -> None:
    told = TOLD | {"slope_speeds": [{"slope": "20 %", "speed": "3 mph"}]}

    plan = planned(machine=machine(told=told))

    # 1.2 × 4 / 3 = 1.6, and (3 / 4)² is 44 % less pressure.
    assert "smaller tips" in plan["refusals"][0]["message"]


def test_faster_on_a_slope_can_be_below_the_label() -> None:
    told = {"level_speed": "3 mph", "slope_speeds": [{"slope": "20 %", "speed": "4 mph"}]}

    plan = planned(machine=machine(told=told))

    assert codes(plan, "refusals") == ["slope_rate_below_label"]
    assert "larger tips" in plan["refusals"][0]["message"]


def test_a_label_without_room_says_that_its_lowest_cannot_be_kept_either() -> None:
    label = {"rate_min": "1.1 fl oz/1000 sq ft", "rate_max": "1.25 fl oz/1000 sq ft"}

    plan = planned(mix=[HERBICIDE | {"label": label}])

    assert "below the label’s lowest" in plan["refusals"][0]["message"]


def test_a_carrier_over_the_label_on_a_slope_is_refused() -> None:
    label = HERBICIDE["label"]
    high = HERBICIDE | {"label": label | {"carrier_max": "1.1 gal/1000 sq ft"}}
    told = {"level_speed": "3.5 mph", "slope_speeds": [{"slope": "20 %", "speed": "4 mph"}]}
    low = HERBICIDE | {"label": label | {"carrier_min": "0.9 gal/1000 sq ft"}}
    over = HERBICIDE | {"label": label | {"carrier_max": "0.9 gal/1000 sq ft"}}

    assert codes(planned(mix=[high]), "refusals") == ["slope_carrier_above_label"]
    assert codes(planned(mix=[low], machine=machine(told=told)), "refusals") == [
        "slope_carrier_below_label"
    ]
    # Over it on level ground already: told once.
    assert codes(planned(mix=[over]), "refusals") == ["carrier_above_label"]


def test_a_share_of_the_spray_is_the_same_on_a_slope() -> None:
    adjuvant = {"name": "Invented adjuvant", "rate": "0.25 %", "formulation": "NIS"}

    plan = planned(mix=[HERBICIDE, adjuvant])

    assert value(plan["slopes"][0]["products"][1]["rate"]) == pytest.approx(0.25)
    assert value(plan["products"][1]["amount"]) == pytest.approx(
        0.0025 * 128 * value(plan["carrier_volume"])
    )


def limited(**limits: str) -> Any:
    return [HERBICIDE | {"label": HERBICIDE["label"] | {"limits": limits}}]


def test_a_limit_of_the_place_is_judged_with_what_comes_down_on_the_slope() -> None:
    history = {"on": "2026-07-06", "history": []}
    mix = limited(per_application="1.3 fl oz/1000 sq ft")

    level, slope = planned(FLAT, mix=mix, **history), planned(mix=mix, **history)

    assert level["refusals"] == []
    assert codes(slope, "refusals") == ["rate_above_application"]
    # 1.3 × 3.4 / 4 = 1.105.
    assert "1.105 fl oz/1000 sq ft" in slope["refusals"][0]["message"]
    assert "would come down on the slope" in slope["refusals"][0]["message"]


def test_what_ground_will_have_had_counts_the_slope() -> None:
    mix = limited(per_year="3 fl oz/1000 sq ft")

    plan = planned(mix=mix, on="2026-07-06", history=[])

    added = {
        ref: value(there["added"])
        for face, there in zip(plan["faces"], plan["limits"][0]["faces"], strict=True)
        for ref in face["features"]
    }
    rate = max(value(load["products"][0]["rate_after_rounding"]) for load in plan["loads"])
    assert max(added.values()) == pytest.approx(rate * 4 / 3.4)


def test_a_limit_on_nutrients_is_judged_with_what_comes_down_on_the_slope() -> None:
    feed = {
        "name": "Invented feed",
        "rate": "20 fl oz/1000 sq ft",
        "formulation": "liquid fertilizer",
        "label": {"density": "10 lb/gal"},
        "fertilizer": {"grade": "20-0-0"},
    }
    # By hand: 20 fl oz × 10 lb / 128 × 0.2 = 0.3125 lb N, × 4 / 3.4 = 0.3676.
    rule = {"nutrient": "N", "per": "application", "source": "an invented rule"}

    def refused(at_most: str) -> list[str]:
        limits = [rule | {"at_most": at_most}]
        return codes(planned(mix=[feed], nutrient_limits=limits), "refusals")

    assert refused("0.37 lb/1000 sq ft") == []
    assert refused("0.36 lb/1000 sq ft") == ["nutrient_over_limit"]
    assert refused("0.3 lb/1000 sq ft") == ["nutrient_over_limit"]


def test_a_mixed_tank_is_judged_with_what_comes_down_on_the_slope() -> None:
    tank = {"tool": "machine", "spray": "20 gal", "products": {"Invented herbicide": "26 fl oz"}}

    plan = planned(tank_now=tank)

    # 1.3 is in the label, and 1.3 × 4 / 3.4 = 1.53 is not.
    assert codes(plan, "refusals") == ["tank_above_room"]
    assert "slopes" in plan["refusals"][0]["message"]


def test_a_hand_mix_in_the_machine_is_told_by_what_it_would_give_at_most() -> None:
    hand = with_output("1 gal/1000 sq ft", kind="hand_gun", swath="3 ft", tanks=["5 gal"])
    strip = area("strip", "turf", corners_of(400, 0, 405, 100))

    plan = planned(BANK, FLAT, strip, hand_tool=hand)

    (crossed,) = [use for use in plan["cross_use"] if use["used_in"] == "machine"]
    of_hand = plan["parts"][1]["products"][0]["rate_after_rounding"]
    assert value(crossed["products"][0]["rate"]) == pytest.approx(value(of_hand) * 4 / 3.4)


def test_a_timed_catch_tells_its_own_speed() -> None:
    catch = {
        "method": "timed_catch",
        "nozzle_spacing": "20 in",
        "catch_time": "30 s",
        "catches": ["12.8 fl oz"] * 6,
        "course_length": "200 ft",
        "times": ["34.09 s", "34.09 s", "34.09 s"],
    }
    told = catch | {"slope_speeds": TOLD["slope_speeds"]}

    plan = planned(machine=MACHINE | {"pump": "fixed", "calibration": told})

    # 200 ft in 34.09 s are 4.00 mph.
    assert plan["slopes"][0]["times"] == pytest.approx(1.1765, abs=1e-4)


def test_a_lawn_of_a_route_takes_what_comes_down_on_its_slope() -> None:
    route = {"stops": [{"name": "Bank House", "property": place(BANK, FLAT)}]}
    request = asking(machine=machine(unsprayable="1 gal"), route=route)
    del request["property"]

    plan = answer(request)

    (stop,) = plan["route"]["stops"]
    gallons = 6 + BANK_SQ_FT / 1000 * 4 / 3.4
    assert value(stop["spray"]) == pytest.approx(gallons, rel=PLACED)
    assert value(stop["ground_area"]) == pytest.approx(6000 + BANK_SQ_FT, rel=PLACED)
    assert "slope_output" in codes(plan, "warnings")


def test_rounds_and_lanes_on_a_slope_take_the_time_of_the_speed_driven_there() -> None:
    passes = planned(BANK, machine=machine(speed="4 mph"), passes=True)["passes"]

    (bank,) = passes["on_slopes"]
    assert value(bank["speed"]) == pytest.approx(3.4)
    level_ft = value(passes["driven_length"]) - value(bank["length"])
    # Only the ways between are driven as on level ground: 4 mph are 352 ft a minute.
    assert 0 < level_ft < 0.2 * value(bank["length"])
    minutes = level_ft / 352 + value(bank["length"]) / (352 * 3.4 / 4)
    assert value(passes["work_time"]) == pytest.approx(minutes, rel=1e-9)


def test_where_no_speed_was_measured_the_time_is_that_of_level_ground() -> None:
    alone = {"level_speed": "4.0 mph"}
    passes = planned(BANK, machine=machine(told=alone, speed="4 mph"), passes=True)["passes"]

    assert "on_slopes" not in passes
    assert value(passes["work_time"]) == pytest.approx(value(passes["driven_length"]) / 352)


def test_without_a_speed_of_the_machine_its_time_is_not_known() -> None:
    passes = planned(BANK, passes=True)["passes"]

    assert passes["work_time"] is None
    assert "on_slopes" not in passes
