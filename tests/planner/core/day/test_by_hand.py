"""A route whose lawns are shared between a machine and a hand tool, each with its own mix."""

import copy
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.core.answers import answer
from planner.core.request import read_request
from properties.core.errors import FaultsFound
from tests.planner.core.asking import LAWN, area, corners_of, place, with_output
from tests.planner.core.scenarios import PENNYWHISTLE, ROOM

YARD = {"reload": "yard", "name": "The yard"}
W_2 = "W-2 (invented)"
#: 2 gal/1,000 sq ft over a swath of 8 ft; by hand half of that.
RIDE_ON = with_output(
    "2.0 gal/1000 sq ft", swath="8 ft", tanks=["200 gal"], fill_limit="190 gal", unsprayable="3 gal"
)
BACKPACK = with_output(
    "1.0 gal/1000 sq ft",
    kind="backpack_sprayer",
    swath="3 ft",
    tanks=["4 gal"],
    unsprayable="0.1 gal",
)
#: A lawn with a strip 4 ft wide beside it: too narrow for the ride-on.
STRIP = area("strip", "turf", corners_of(300, 0, 304, 80))


def asked(*stops: Any, **route: Any) -> Any:
    told = {"stops": list(stops), "hand_tool": BACKPACK} | route
    return copy.deepcopy(PENNYWHISTLE | {"machine": RIDE_ON, "route": told})


def lawn(square_feet: int, by_hand: int = 0, **more: Any) -> dict[str, Any]:
    told = {"area": f"{square_feet} sq ft", "room": ROOM} | more
    return told | ({"hand_area": f"{by_hand} sq ft"} if by_hand else {})


def codes(plan: Any) -> list[str]:
    return [each["code"] for each in (*plan["warnings"], *plan["refusals"])]


def test_each_tool_gets_its_own_ground_spray_and_product_of_a_lawn() -> None:
    route = answer(asked(lawn(10_000, 1_500), lawn(8_000, 500)))["route"]

    first, by_hand = route["stops"][0], route["by_hand"]["stops"][0]
    # 8.5 thousand sq ft × 2 gal and 1.5 × 1 gal; 1.2 fl oz on each thousand, rounded by load.
    assert first["spray"]["value"] == pytest.approx(17)
    assert by_hand["spray"]["value"] == pytest.approx(1.5)
    assert first["products"][0]["amount"]["value"] == pytest.approx(1.2 * 8.5, rel=0.03)
    rate = route["by_hand"]["loads"][0]["products"][0]["rate_after_rounding"]["value"]
    assert by_hand["products"][0]["amount"]["value"] == pytest.approx(rate * 1.5)


def test_the_hand_tool_ends_with_what_it_cannot_spray_and_says_where_it_may_go() -> None:
    by_hand = answer(asked(lawn(10_000, 1_500), YARD, lawn(8_000, 3_000), lawn(8_000)))["route"][
        "by_hand"
    ]

    first, second = by_hand["loads"]
    assert (first["stops"], second["stops"], second["filled_at"]) == ([1], [2], "The yard")
    assert first["left"]["value"] == pytest.approx(0.1)
    # 3 gal and the 0.1 that stay, which are in it already.
    assert second["add"]["value"] == pytest.approx(3)
    assert by_hand["leftover"]["spray"]["value"] == pytest.approx(0.1)
    assert by_hand["leftover"]["place"] == "stop 2"


def test_a_drawn_lawn_is_shared_by_the_door_of_a_plan_of_its_own() -> None:
    drawing = place(LAWN, STRIP)
    alone = PENNYWHISTLE | {"machine": RIDE_ON, "hand_tool": BACKPACK, "property": drawing}
    del alone["route"]

    route = answer(asked({"property": drawing}))["route"]

    machine, by_hand = (part["area"]["value"] for part in answer(alone)["parts"])
    assert by_hand > 300
    assert route["stops"][0]["area"]["value"] == pytest.approx(machine)
    assert route["by_hand"]["stops"][0]["area"]["value"] == pytest.approx(by_hand)


def test_without_a_hand_tool_strips_are_told_and_never_lost() -> None:
    drawn = {"name": "Tollgate", "property": place(LAWN, STRIP)}
    request = asked(drawn, lawn(10_000, 1_500, name="Mill House"))
    del request["route"]["hand_tool"]

    plan = answer(request)

    words = {each["code"]: each["message"] for each in plan["warnings"]}
    assert words["hand_area"].startswith("Tollgate: ")
    assert words["hand_area_left"].startswith("Mill House: 1,500 sq ft are to be done by hand")
    assert plan["route"]["stops"][1]["area"]["value"] == pytest.approx(8_500)
    assert "by_hand" not in plan["route"]


def test_a_lawn_that_is_all_done_by_hand_needs_no_load_of_the_machine() -> None:
    route = answer(asked(lawn(10_000), lawn(1_000, 1_000), lawn(9_000)))["route"]

    assert [stop["load"] for stop in route["stops"]] == [1, None, 1]
    assert route["loads"][0]["stops"] == [1, 3]
    assert route["by_hand"]["loads"][0]["stops"] == [2]


def test_a_route_all_done_by_hand_has_no_load_of_the_machine() -> None:
    route = answer(asked(lawn(1_000, 1_000)))["route"]

    assert (route["loads"], route["leftover"]) == ([], None)
    assert len(route["by_hand"]["loads"]) == 1


def test_a_stretch_too_long_for_the_hand_tool_is_refused_in_its_name() -> None:
    plan = answer(asked(lawn(10_000, 3_000), lawn(10_000, 3_000)))

    (words,) = (
        each["message"] for each in plan["refusals"] if each["code"] == "route_stretch_too_long"
    )
    assert words.startswith("Hand tool: The stretch from stop 1 to stop 2 needs 6 gal")
    assert plan["route"]["by_hand"]["loads"] == []
    assert len(plan["route"]["loads"]) == 1


def test_the_mix_of_the_backpack_is_too_strong_for_the_machine_and_said_to_be() -> None:
    plan = answer(asked(lawn(10_000, 1_500)))

    crossed = [each for each in plan["warnings"] if each["code"] == "mix_not_for_other_tool"]
    # Twice the output gives twice the rate: 2.4 fl oz, and half of it the other way.
    assert "hand tool’s mix into the machine: it would give 2.4 fl oz" in crossed[1]["message"]
    assert "machine’s mix into the hand tool: it would give 0.6 fl oz" in crossed[0]["message"]


def test_tools_with_one_output_may_share_a_mix() -> None:
    same = BACKPACK | {"output": "2.0 gal/1000 sq ft"}

    assert "mix_not_for_other_tool" not in codes(answer(asked(lawn(10_000, 900), hand_tool=same)))


def test_a_mix_that_the_label_allows_in_both_tools_is_not_warned_of() -> None:
    wide = PENNYWHISTLE["mix"][0] | {
        "label": {"rate_min": "0.1 fl oz/1000 sq ft", "rate_max": "9 fl oz/1000 sq ft"}
    }

    plan = answer(asked(lawn(10_000, 900)) | {"mix": [wide]})

    assert "mix_not_for_other_tool" not in codes(plan)


def test_a_gauge_read_after_the_last_ground_of_the_machine_ends_its_day() -> None:
    route = answer(
        asked(lawn(10_000), lawn(1_000, 1_000), refill={"after_load": 1, "in_tank": "3 gal"})
    )["route"]

    assert route["refill"]["loads"] == []
    assert route["leftover"]["spray"]["value"] == pytest.approx(3)


@pytest.mark.parametrize(
    ("stop", "route", "where", "words"),
    [
        (lawn(1_000, 1_001), {}, "route.stops[0].hand_area", "more than the whole lawn"),
        (
            {"property": place(LAWN), "hand_area": "10 sq ft"},
            {},
            "route.stops[0].hand_area",
            "whose area is told",
        ),
        (lawn(1_000), {"hand_tool": RIDE_ON}, "route.hand_tool.kind", ""),
        (
            lawn(1_000),
            {"hand_tool": {k: v for k, v in BACKPACK.items() if k != "unsprayable"}},
            "route.hand_tool.unsprayable",
            "Nobody says what stays",
        ),
    ],
)
def test_a_fault_of_the_hand_part_is_told_in_its_place(
    stop: Any, route: Any, where: str, words: str
) -> None:
    with pytest.raises(FaultsFound) as found:
        read_request(asked(stop, **route))

    assert words in {fault.field: str(fault) for fault in found.value.faults}[where]


def test_a_tank_of_the_hand_tool_that_killed_turf_is_locked() -> None:
    held = {"tool": "hand_tool", "held": ["Invented total herbicide"], "kills_turf": True}

    plan = answer(asked(lawn(10_000, 1_500)) | {"tanks_before": [held]})

    assert "tank_not_rinsed" in codes(plan)


@given(
    grounds=st.lists(
        st.tuples(st.integers(1_000, 9_000), st.sampled_from([0, 2, 350, 1_000])),
        min_size=1,
        max_size=3,
    )
)
def test_every_load_of_both_tools_goes_onto_the_lawns_or_is_left(
    grounds: list[tuple[int, int]],
) -> None:
    route = answer(asked(*(lawn(whole, by_hand) for whole, by_hand in grounds)))["route"]

    for tool in (route, route["by_hand"]):
        if not tool["loads"]:
            continue
        (load,) = tool["loads"]
        used = sum(stop["spray"]["value"] for stop in tool["stops"])
        assert used + load["left"]["value"] == pytest.approx(load["tank"]["value"])
        product = sum(
            each["amount"]["value"] for stop in tool["stops"] for each in stop["products"]
        )
        left = tool["leftover"]["products"][0]["amount"]["value"]
        assert product + left == pytest.approx(load["products"][0]["in_tank"]["value"])
