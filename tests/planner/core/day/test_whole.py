"""A route as it is asked and answered: what does not fit, what was read, where the rest goes."""

import copy
import json
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.core.answers import answer, answer_text
from properties.core.errors import FaultsFound
from tests.planner.core.asking import LAWN, area, corners_of, place, point
from tests.planner.core.scenarios import PENNYWHISTLE, ROOM, lawns

W_2 = "W-2 (invented)"
YARD = {"reload": "yard", "name": "The yard"}


def asked(*stops: Any, **changes: Any) -> Any:
    """The hand gun, tank and product of Pennywhistle on other lawns."""
    route = {"stops": list(stops)} | changes.pop("route", {})
    return copy.deepcopy(PENNYWHISTLE | {"route": route} | changes)


def codes(plan: Any) -> list[str]:
    return [each["code"] for each in (*plan["warnings"], *plan["refusals"])]


def message(plan: Any, code: str) -> str:
    (found,) = (each for each in (*plan["warnings"], *plan["refusals"]) if each["code"] == code)
    return str(found["message"])


def test_a_stretch_that_does_not_fit_is_refused_with_where_a_reload_is_missing() -> None:
    plan = answer(asked(*lawns(40_000, 40_000, 40_000), YARD, *lawns(20_000)))

    # 240 gal on three lawns, and a load sprays 187: two lawns are 160.
    assert plan["route"]["loads"] == []
    words = message(plan, "route_stretch_too_long")
    assert "The stretch from stop 1 to stop 3 needs 240 gal, and one load sprays 187 gal" in words
    assert "A reload point is missing before stop 3 at the latest" in words
    assert (plan["route"]["leftover"], plan["route"]["rinse"]) == (None, None)


def test_a_name_keeps_its_capitals_at_the_beginning_of_a_sentence() -> None:
    field = {"name": "the Old Ferry Green", "area": "100000 sq ft"}

    assert message(answer(asked(field)), "route_stretch_too_long").startswith(
        "The Old Ferry Green needs 200 gal"
    )


def test_a_lawn_that_needs_more_than_a_load_by_itself_is_told() -> None:
    plan = answer(asked(*lawns(100_000), YARD, *lawns(20_000)))

    words = message(plan, "route_stretch_too_long")
    assert words.startswith("Stop 1 needs 200 gal")
    assert "Stop 1 needs more than a load by itself: enter it in parts" in words


def test_a_large_lawn_is_come_to_in_equal_parts_with_a_reload_between() -> None:
    part = {"area": "100000 sq ft", "parts": 2, "room": ROOM}

    plan = answer(asked(part, YARD, part))

    # 200 gal in two loads of 100, the first with the 3 that stay.
    assert [load["add"]["value"] for load in plan["route"]["loads"]] == pytest.approx([103, 100])
    assert plan["route"]["total_area"]["value"] == pytest.approx(100_000)


def test_a_tap_with_permission_and_a_device_is_a_reload_point() -> None:
    tap = {"reload": "customer_tap", "permission": True, "backflow_device": True}

    plan = answer(asked(*lawns(60_000), tap, *lawns(60_000)))

    assert plan["route"]["reload_points"][0]["used"] is True
    assert plan["route"]["loads"][1]["filled_at"] == "customer tap"


@pytest.mark.parametrize(
    ("facts", "reason"),
    [
        ({}, "the customer’s permission and an air gap or a backflow device would be needed"),
        ({"air_gap": True}, "the customer’s permission would be needed"),
        ({"permission": False, "air_gap": True}, "the customer’s permission would be needed"),
    ],
)
def test_a_tap_that_lacks_something_is_none_and_says_what(
    facts: dict[str, bool], reason: str
) -> None:
    plan = answer(asked({"reload": "customer_tap"} | facts, *lawns(60_000)))

    assert plan["route"]["reload_points"][0]["reason"] == reason
    assert "(after the start)" in message(plan, "reload_not_permitted")


def test_of_two_points_at_one_place_the_first_that_is_permitted_is_used() -> None:
    tap = {"reload": "customer_tap", "name": "Tap"}
    nurse = {"reload": "nurse_tank", "name": "Nurse tank"}

    plan = answer(asked(*lawns(60_000), tap, nurse, YARD, *lawns(60_000)))

    assert [point["used"] for point in plan["route"]["reload_points"]] == [False, True, False]


def test_a_limit_of_weight_splits_the_day_and_says_what_it_leaves_out() -> None:
    plan = answer(asked(*lawns(40_000), YARD, *lawns(40_000), route={"weight_limit": "1001 lb"}))

    # 1,001 / 8.34 = 120.02 gal: two lawns of 80 gal do not fit together.
    assert plan["route"]["fill_limit"]["value"] == pytest.approx(1001 / 8.34, rel=1e-12)
    assert len(plan["route"]["loads"]) == 2
    assert "heavy products" in message(plan, "weight_of_water_only")


def test_a_heavy_product_leaves_less_room_under_a_limit_of_weight() -> None:
    heavy = PENNYWHISTLE["mix"][0] | {
        "rate": "12.8 fl oz/1000 sq ft",
        "label": {"rate_max": "13 fl oz/1000 sq ft", "density": "12 lb/gal"},
    }
    dry = {"name": "Invented granule", "rate": "3.2 oz wt/1000 sq ft"}

    plan = answer(
        asked({"area": "20000 sq ft"}, mix=[heavy, dry], route={"weight_limit": "1000 lb"})
    )

    # A gallon: 0.05 gal at 12 lb/gal, 0.95 gal of water, 0.1 lb dry.
    weight = 0.05 * 12 + 0.95 * 8.34 + 0.1
    assert plan["route"]["spray_weight"]["value"] == pytest.approx(weight, rel=1e-9)
    assert plan["route"]["fill_limit"]["value"] == pytest.approx(1000 / weight, rel=1e-9)
    assert "weight_of_water_only" not in codes(plan)


def test_each_tank_of_the_machine_has_its_own_limits() -> None:
    machine = PENNYWHISTLE["machine"] | {
        "tanks": ["200 gal", "50 gal"],
        "fill_limit": ["190 gal", "45 gal"],
        "unsprayable": ["3 gal", "1 gal"],
    }

    route = answer(asked(*lawns(20_000), machine=machine, route={"tank": 2}))["route"]

    assert (route["tank"], route["fill_limit"]["value"]) == (2, pytest.approx(45))
    assert route["one_load_sprays"]["value"] == pytest.approx(44)


def test_a_higher_output_than_planned_splits_what_is_left_again() -> None:
    stops = [*lawns(60_000), YARD, *lawns(45_000), YARD, *lawns(45_000)]
    plan = answer(asked(*stops))
    assert [load["stops"] for load in plan["route"]["loads"]] == [[1], [2, 3]]

    # 120 gal were planned and 132 went out: 198 gal for the rest instead of 180.
    read = answer(
        asked(
            *stops,
            route={
                "refill": {
                    "in_tank": "2 gal",
                    "started_with": "134 gal",
                    "put_in": {W_2: "74 fl oz"},
                }
            },
        )
    )

    assert [load["stops"] for load in read["route"]["refill"]["loads"]] == [[2], [3]]
    assert "areas are too small" in message(read, "output_drifted")
    assert [stop["load"] for stop in read["route"]["stops"]] == [1, 2, 3]


def test_what_no_longer_fits_with_the_measured_output_is_refused() -> None:
    stops = [*lawns(40_000), YARD, *lawns(90_000)]
    refill = {"in_tank": "2 gal", "started_with": "90 gal", "put_in": {W_2: "50 fl oz"}}

    plan = answer(asked(*stops, route={"refill": refill}))

    # 90,000 sq ft at 2.2 instead of 2.0: 198 gal, and a load sprays 187.
    assert "Stop 2 needs 198 gal" in message(plan, "route_stretch_too_long")
    assert plan["route"]["refill"]["loads"] == []
    assert plan["route"]["leftover"] is None


def test_a_gauge_below_what_cannot_be_sprayed_is_told() -> None:
    stops = [*lawns(20_000), YARD, *lawns(20_000)]
    read = answer(asked(*stops, route={"refill": {"in_tank": "2.9 gal"}}))
    just = answer(asked(*stops, route={"refill": {"in_tank": "3 gal"}}))
    on_the_way = answer(asked({"area": "20000 sq ft", "gauge_after": "1 gal"}))

    words = message(read, "gauge_below_what_stays")
    assert "2.9 gal" in words
    assert "3 gal of the tank cannot be sprayed" in words
    assert "gauge_below_what_stays" not in codes(just)
    assert "1 gal after stop 1" in message(on_the_way, "gauge_below_what_stays")


def test_a_gauge_that_shows_more_than_there_was_is_not_believed() -> None:
    plan = answer(asked(*lawns(40_000), route={"refill": {"in_tank": "90 gal"}}))

    assert plan["route"]["refill"]["loads"] == []
    assert "nothing would have been sprayed" in message(plan, "gauge_not_believable")


def test_a_reading_after_a_load_that_there_is_not_is_told() -> None:
    plan = answer(asked(*lawns(40_000), route={"refill": {"after_load": 2, "in_tank": "9 gal"}}))

    assert "this route has one load" in message(plan, "gauge_not_believable")


def test_a_reading_of_a_route_that_does_not_fit_says_only_that_it_does_not_fit() -> None:
    plan = answer(asked(*lawns(100_000), route={"refill": {"in_tank": "9 gal"}}))

    assert "gauge_not_believable" not in codes(plan)


def test_a_reading_after_the_last_load_moves_what_is_left_and_has_no_next() -> None:
    plan = answer(asked(*lawns(40_000), route={"refill": {"in_tank": "7 gal"}}))

    refill = plan["route"]["refill"]
    assert (refill["loads"], refill["naive"]) == ([], None)
    assert "route_stretch_too_long" not in codes(plan)
    assert plan["route"]["leftover"]["spray"]["value"] == pytest.approx(7)


def test_a_lawn_that_got_too_little_or_too_much_is_told_with_the_label() -> None:
    stops = [*lawns(40_000), YARD, *lawns(60_000)]
    weak = {"in_tank": "23 gal"}
    strong = {"in_tank": "3 gal", "started_with": "120 gal", "put_in": {W_2: "75 fl oz"}}

    # 60 gal went out instead of 80: 0.9 fl oz/1,000 sq ft. Then 117: 1.83.
    assert "lowest rate (1 fl oz" in message(
        answer(asked(*stops, route={"refill": weak})), "delivered_below_label"
    )
    assert "(1.5 fl oz/1000 sq ft at most). Stop" in message(
        answer(asked(*stops, route={"refill": strong})), "delivered_above_label"
    )


def test_a_lawn_that_got_more_than_it_had_room_for_is_told() -> None:
    room = {"area": "40000 sq ft", "room": {W_2: "1.3 fl oz/1000 sq ft"}}
    strong = {"in_tank": "3 gal", "started_with": "93 gal", "put_in": {W_2: "55.8 fl oz"}}

    # 90 gal × 0.6 fl oz/gal on 40,000 sq ft: 1.35, inside the label and over the room.
    plan = answer(asked(room, YARD, *lawns(60_000), route={"refill": strong}))

    assert "could still get (1.3 fl oz/1000 sq ft)" in message(plan, "delivered_above_room")


def test_a_lawn_without_any_room_is_refused() -> None:
    full = {"area": "9000 sq ft", "room": {W_2: "0 fl oz/1000 sq ft"}}

    words = message(answer(asked(full)), "lawn_room_too_small")

    assert "may still get (0 fl oz/1000 sq ft)" in words


def test_the_spray_in_a_hose_cannot_be_sprayed_on_a_route_either() -> None:
    hose = {"length": "400 ft", "bore": "0.5 in"}
    machine = PENNYWHISTLE["machine"] | {"hose": hose}

    plan = answer(asked(*lawns(40_000), machine=machine))

    # 3 gal, and π / 4 × 0.5² × 4,800 cu in / 231 = 4.08 gal.
    assert plan["route"]["unsprayable"]["value"] == pytest.approx(7.08, abs=5e-4)
    assert plan["route"]["loads"][0]["tank"]["value"] == pytest.approx(87.08, abs=5e-4)


@pytest.mark.parametrize(
    ("changes", "where"),
    [
        ({"route": {"refill": {"in_tank": "201 gal"}}}, "route.refill.in_tank"),
        (
            {"route": {"refill": {"in_tank": "9 gal", "started_with": "201 gal"}}},
            "route.refill.started_with",
        ),
        ({"tank_now": {"spray": "201 gal", "products": {W_2: "9 fl oz"}}}, "tank_now.spray"),
    ],
)
def test_more_than_the_tank_holds_cannot_be_in_it(changes: Any, where: str) -> None:
    with pytest.raises(FaultsFound) as found:
        answer(asked(*lawns(40_000), **changes))

    assert [(fault.field, "(200 gal)" in str(fault)) for fault in found.value.faults] == [
        (where, True)
    ]


def test_a_leftover_that_is_too_strong_is_refused_with_how_far_to_dilute_it() -> None:
    tank = {"spray": "9 gal", "products": {W_2: "54 fl oz"}}

    plan = answer(asked(*lawns(30_000), tank_now=tank))

    # 54 fl oz at 0.6 fl oz/gal are 90 gal, and this load is 63.
    words = message(plan, "leftover_too_strong")
    assert "dilute it to 90 gal or more" in words
    assert plan["route"]["loads"][0]["products"][0]["amount_to_measure"] is None
    assert "measure_too_coarse" not in codes(plan)


def test_a_tank_that_is_mixed_already_is_carried_into_the_first_load() -> None:
    tank = {"spray": "10 gal", "products": {W_2: "6 fl oz"}}

    (load,) = answer(asked(*lawns(20_000), tank_now=tank))["route"]["loads"]

    assert load["carried"]["value"] == pytest.approx(10)
    assert load["add"]["value"] == pytest.approx(33)


def test_more_in_the_tank_than_is_needed_stays_over() -> None:
    tank = {"spray": "60 gal", "products": {W_2: "36 fl oz"}}

    plan = answer(asked(*lawns(20_000), tank_now=tank))

    (load,) = plan["route"]["loads"]
    assert load["add"]["value"] == pytest.approx(0, abs=1e-9)
    assert load["left"]["value"] == pytest.approx(20)


def test_a_measure_too_coarse_for_what_is_added_is_refused_with_a_finer_one() -> None:
    jug = {"liquid": ["50 fl oz"]}

    plan = answer(asked(*lawns(10_000), measures=jug))

    words = message(plan, "measure_too_coarse")
    assert "Use a measure with marks of 5 fl oz" in words


def test_a_label_with_one_rate_only_leaves_no_room_to_round_in() -> None:
    (product,) = PENNYWHISTLE["mix"]
    single = {"rate_min": "1.2 fl oz/1000 sq ft", "rate_max": "1.2 fl oz/1000 sq ft"}

    plan = answer(asked(*lawns(10_123), mix=[product | {"label": single}]))

    assert "no room to round in" in message(plan, "measure_too_coarse")


def test_a_leftover_never_goes_over_what_the_year_leaves() -> None:
    tight = [{"area": "12650 sq ft", "room": {W_2: "1.3 fl oz/1000 sq ft"}}]
    route = {"next_lawns": [{"name": "Pound Lane", "area": "9000 sq ft", "room": ROOM}]}

    plan = answer(asked(*lawns(20_000), *tight, route=route))

    leftover = plan["route"]["leftover"]
    assert [lawn["name"] for lawn in leftover["lawns"]] == ["stop 2", "Pound Lane", "stop 1"]
    assert [lawn["allowed"] for lawn in leftover["lawns"]] == [False, True, True]
    assert leftover["place"] == "Pound Lane"
    assert leftover["lawns"][0]["products"][0]["highest"]["value"] == pytest.approx(1.3)


def test_what_a_lawn_had_already_counts() -> None:
    had = [{"area": "12650 sq ft", "given": {W_2: "0.2 fl oz/1000 sq ft"}}]

    plan = answer(asked(*lawns(20_000), *had))

    (product,) = plan["route"]["leftover"]["lawns"][0]["products"]
    assert product["had"]["value"] == pytest.approx(1.2 + 0.2, abs=0.01)
    assert plan["route"]["leftover"]["place"] == "stop 1"


def test_without_a_place_the_leftover_is_kept_and_the_lawn_with_most_room_named() -> None:
    stop = {"area": "5000 sq ft", "takes_leftover": False}

    refused = answer(asked(stop))
    some = answer(asked(*lawns(5_000)))

    assert refused["route"]["leftover"]["place"] is None
    assert "Keep it, marked" in message(refused, "leftover_has_no_place")
    # 1.8 fl oz on 5,000 sq ft is 0.36; there is room for 0.3.
    assert "stop 1 could take" in message(some, "leftover_has_no_place")


def test_what_no_lawn_may_take_alone_is_shared_among_several() -> None:
    plan = answer(asked(*lawns(5_000, 4_000)))

    leftover = plan["route"]["leftover"]
    assert leftover["place"] is None
    # The last lawn first. With the measured rate m of the load, 3 gal hold 1.5 × m fl oz: on
    # 4,000 sq ft they add 0.375 m, and there is room for 1.5 − m.
    m = leftover["lawns"][0]["products"][0]["had"]["value"]
    last, first = leftover["shares"]
    assert (last["name"], first["name"]) == ("stop 2", "stop 1")
    part = (1.5 - m) / (0.375 * m)
    assert last["share_percent"] == pytest.approx(100 * part)
    assert first["share_percent"] == pytest.approx(100 * (1 - part))
    assert last["spray"]["value"] + first["spray"]["value"] == pytest.approx(3)
    assert last["products"][0]["total"]["value"] == pytest.approx(1.5)
    assert first["products"][0]["total"]["value"] <= 1.5
    assert "onto stop 2 and" in message(plan, "leftover_shared")


@given(areas=st.lists(st.integers(2_000, 12_000), min_size=2, max_size=5))
def test_shares_of_a_leftover_are_all_of_it_and_never_over_the_label(areas: list[int]) -> None:
    leftover = answer(asked(*lawns(*areas)))["route"]["leftover"]

    if leftover["shares"]:
        assert leftover["place"] is None
        assert sum(share["share_percent"] for share in leftover["shares"]) == pytest.approx(100)
        totals = [share["products"][0]["total"]["value"] for share in leftover["shares"]]
        assert max(totals) <= 1.5 * (1 + 1e-9)


def test_a_leftover_is_not_placed_where_nobody_knows_the_most() -> None:
    (product,) = PENNYWHISTLE["mix"]

    plan = answer(asked(*lawns(20_000), mix=[product | {"label": {}}]))

    assert plan["route"]["leftover"]["lawns"][0]["allowed"] is None
    assert plan["route"]["leftover"]["place"] is None


def test_nothing_is_said_of_a_leftover_of_nothing() -> None:
    machine = PENNYWHISTLE["machine"] | {"unsprayable": "0 gal"}

    plan = answer(asked(*lawns(20_000), machine=machine))

    assert not {"leftover_goes_in_a_record", "leftover_has_no_place", "leftover_shared"} & set(
        codes(plan)
    )


def test_water_alone_can_be_driven_too() -> None:
    plan = answer(asked({"area": "20000 sq ft"}, mix=[]))

    assert plan["refusals"] == []
    assert plan["route"]["loads"][0]["water"]["value"] == pytest.approx(43)


@pytest.mark.parametrize(
    ("readings", "code"),
    [
        ((96.5, 80.9, 51.9, 10.4), "gauge_points_to_calibration"),
        ((95.6, 84.8, 53.6, 9.0), "gauge_points_to_area"),
        ((95.6, 78.0, 43.5, -7), "gauge_drifts_on"),
        ((100.0, 70.0, 60.0, 0.0), "gauge_unclear"),
    ],
)
def test_readings_at_every_lawn_point_to_the_machine_or_to_a_lawn(
    readings: tuple[float, ...], code: str
) -> None:
    stops = lawns(11_200, 8_400, 15_600, 22_300)
    for stop, reading in zip(stops, readings, strict=True):
        if reading >= 0:
            stop["gauge_after"] = f"{reading} gal"

    plan = answer(asked(*stops))

    assert code in codes(plan)


def test_the_lawn_whose_area_is_off_is_named_with_how_much() -> None:
    stops = lawns(11_200, 8_400, 15_600, 22_300)
    # Lawn 2 used 10.8 gal instead of 16.8.
    for stop, reading in zip(stops, (95.6, 84.8, 53.6, 9.0), strict=True):
        stop["gauge_after"] = f"{reading} gal"

    plan = answer(asked(*stops))

    assert "Only stop 2 used 36% less than planned" in message(plan, "gauge_points_to_area")
    assert (plan["route"]["gauge"]["points_to"], plan["route"]["gauge"]["stop"]) == ("area", 2)


def test_a_lawn_without_a_reading_leaves_the_next_one_out_of_the_judgement() -> None:
    stops = lawns(11_200, 8_400, 15_600)
    stops[0]["gauge_after"], stops[2]["gauge_after"] = "51 gal", "3 gal"

    plan = answer(asked(*stops))

    assert [use["number"] for use in plan["route"]["gauge"]["stops"]] == [1]


def test_a_drawn_lawn_is_measured_like_any_place_and_says_its_name() -> None:
    bed = area("bed", "flower_bed", corners_of(40, 20, 50, 30), name="Roses")
    drawn = {"name": "Mill House", "property": place(LAWN, bed)}
    defaults = {"flower_bed": "3 ft"}

    plan = answer(asked(drawn, setback_defaults=defaults))

    # 100 × 50 less the bed with 3 ft all round: 100 + 2 · 3 · 20 + π · 9.
    (stop,) = plan["route"]["stops"]
    assert stop["area"]["value"] == pytest.approx(5000 - 100 - 120 - 28.27, rel=2e-3)
    assert message(plan, "setback_default").startswith("Mill House: ")


def test_a_drawn_lawn_on_which_nothing_is_left_refuses_the_route() -> None:
    well = point("well", "well", 50, 25, setback="200 ft")

    plan = answer(asked({"name": "Mill House", "property": place(LAWN, well)}, *lawns(10_000)))

    assert message(plan, "nothing_treatable").startswith("Mill House: ")
    assert plan["route"]["loads"] == []


def test_the_wind_holds_a_route_like_any_plan() -> None:
    (product,) = PENNYWHISTLE["mix"]
    limited = product | {"label": product["label"] | {"wind_max": "10 mph"}}

    plan = answer(asked(*lawns(10_000), mix=[limited], weather={"wind_speed": "12 mph"}))

    assert plan["hold"] is True


def test_the_table_of_partial_loads_goes_in_tens_up_to_the_whole_tank() -> None:
    rows = answer(asked(*lawns(10_000)))["route"]["partial_loads"]

    assert [row["volume"]["value"] for row in rows] == pytest.approx(range(10, 191, 10))
    # 10 gal at 0.6 fl oz/gal, for 5,000 sq ft.
    assert rows[0]["products"][0]["amount"]["value"] == pytest.approx(6)
    assert rows[0]["area"]["value"] == pytest.approx(5000)


@pytest.mark.parametrize(
    ("tank", "units", "rows"),
    [
        ("4 gal", "us", [1, 2, 3, 4]),
        ("15 L", "metric", [5, 10, 15]),
        ("0.1 L", "metric", [0.1]),
    ],
)
def test_a_small_tank_has_a_finer_table(tank: str, units: str, rows: list[float]) -> None:
    machine = {
        name: value for name, value in PENNYWHISTLE["machine"].items() if name != "fill_limit"
    } | {"tanks": [tank], "unsprayable": "0 L"}

    plan = answer(asked(*lawns(100), machine=machine, units=units))

    volumes = [row["volume"]["value"] for row in plan["route"]["partial_loads"]]
    assert volumes == pytest.approx(rows)


LIMITED = PENNYWHISTLE["mix"][0] | {
    "label": PENNYWHISTLE["mix"][0]["label"] | {"limits": {"per_year": "3.0 fl oz/1000 sq ft"}}
}
#: The lawn of every test, which had 1.9 fl oz/1,000 sq ft in April.
TREATED: Any = {
    "name": "Mill House",
    "property": place(LAWN),
    "history": [
        {
            "on": "2026-04-10",
            "product": W_2,
            "rate": "1.9 fl oz/1000 sq ft",
            "where": LAWN["geometry"],
        }
    ],
}


def test_a_lawn_with_less_room_than_the_rate_refuses_the_load_with_its_room() -> None:
    tight = {"area": "20000 sq ft", "room": {W_2: "1.1 fl oz/1000 sq ft"}}

    plan = answer(asked(*lawns(20_000), tight))

    words = message(plan, "lawn_room_too_small")
    assert words.startswith("stop 2: ")
    assert "may still get (1.1 fl oz/1000 sq ft)" in words
    assert plan["route"]["loads"][0]["products"][0]["amount_to_measure"] is None


def test_a_load_is_rounded_inside_what_every_lawn_may_still_get() -> None:
    # 59,000 sq ft and the rest: 70.8 fl oz. 71 would be 1.2034, over the 1.201 that is left.
    tight = {"area": "22300 sq ft", "room": {W_2: "1.201 fl oz/1000 sq ft"}}

    plan = answer(asked(*lawns(11_200, 8_400, 15_600), tight))

    (product,) = plan["route"]["loads"][0]["products"]
    assert product["amount_to_measure"]["value"] == 70
    assert product["rate_after_rounding"]["value"] <= 1.201


def test_the_limit_each_time_holds_for_a_lawn_told_by_its_area() -> None:
    (product,) = PENNYWHISTLE["mix"]
    label = product["label"] | {"limits": {"per_application": "1.1 fl oz/1000 sq ft"}}

    plan = answer(asked({"area": "20000 sq ft"}, mix=[product | {"label": label}]))

    assert "lawn_room_too_small" in codes(plan)


def test_a_drawn_lawn_is_held_to_what_it_has_had_this_year() -> None:
    plan = answer(asked(TREATED, mix=[LIMITED], on="2026-07-06"))

    # 3.0 less 1.9 leaves 1.1, and 1.2 are asked for.
    refused = [each["message"] for each in plan["refusals"]]
    assert any(words.startswith("Mill House: ") and "1.1 fl oz" in words for words in refused)
    (on_top,) = plan["route"]["leftover"]["lawns"][0]["products"]
    assert on_top["highest"]["value"] == pytest.approx(1.1, rel=1e-6)


def test_the_same_drawn_lawn_without_a_past_has_all_the_room() -> None:
    plan = answer(asked(TREATED | {"history": []}, mix=[LIMITED], on="2026-07-06"))

    assert plan["refusals"] == []


def test_a_lawn_told_by_its_area_whose_past_matters_is_warned_of_once_for_each_product() -> None:
    plan = answer(asked({"area": "20000 sq ft"}, *lawns(10_000), mix=[LIMITED]))

    assert message(plan, "history_unknown").startswith("stop 1: ")


def test_products_that_leave_no_room_for_water_are_refused_and_show_none() -> None:
    neat = {"name": W_2, "rate": "3 gal/1000 sq ft"}

    plan = answer(asked(*lawns(20_000), mix=[neat]))

    assert "mix_stronger_than_water" in codes(plan)
    assert plan["route"]["loads"][0]["water"] is None
    assert "route.loads[0].water" not in {entry["figure"] for entry in plan["working"]}


def test_text_is_answered_like_the_json_it_holds() -> None:
    assert answer_text(json.dumps(PENNYWHISTLE)) == answer(PENNYWHISTLE)


@given(
    areas=st.lists(st.integers(2_000, 60_000), min_size=1, max_size=8),
    reading=st.floats(0, 20),
)
def test_no_load_is_over_what_the_tank_may_hold_whatever_the_gauge_shows(
    areas: list[int], reading: float
) -> None:
    stops = [leg for lawn in lawns(*areas) for leg in (lawn, YARD)]

    route = answer(asked(*stops, route={"refill": {"in_tank": f"{reading:.2f} gal"}}))["route"]

    for load in (*route["loads"], *route["refill"]["loads"]):
        assert load["tank"]["value"] <= 190 * (1 + 1e-9)


FEED = {
    "name": "Liquid feed (invented)",
    "rate": "6 fl oz/1000 sq ft",
    "formulation": "liquid fertilizer",
    "fertilizer": {"grade": "30-0-0", "slow_release": "0 %"},
    "label": {"rate_max": "9 fl oz/1000 sq ft", "density": "10.68 lb/gal"},
}


@pytest.mark.parametrize("lawn", [{"area": "9000 sq ft"}, {"property": place(LAWN)}])
@pytest.mark.parametrize(
    ("per", "code"),
    [("application", "nutrient_over_limit"), ("year", "nutrient_so_far_unknown")],
)
def test_a_route_keeps_the_limits_on_nutrients(lawn: Any, per: str, code: str) -> None:
    # 6 fl oz of 10.68 lb/gal with 30 % are 0.15 lb/1,000 sq ft, 0.73 g/m2.
    limit = {"nutrient": "N", "per": per, "at_most": "0.7 g/m2", "source": "Invented rule"}

    plan = answer(asked(lawn, mix=[FEED], nutrient_limits=[limit]))

    assert message(plan, code)


def test_a_past_that_is_told_for_no_lawn_is_a_fault() -> None:
    closed = {"product": W_2, "from": "06-01", "to": "08-01", "source": "Invented rule"}

    with pytest.raises(FaultsFound) as found:
        answer(asked(*lawns(9_000), on="2026-07-01", blackouts=[closed]))

    assert [fault.field for fault in found.value.faults] == ["blackouts"]
