"""Reading a route: what is taken, and every fault in its place."""

import copy
from typing import Any

import pytest

from planner.core.request import read_request
from planner.core.route import ReloadKind, Rinsing
from properties.core.errors import FaultsFound
from properties.core.units import Quantity
from tests.planner.core.asking import LAWN, area, corners_of, place
from tests.planner.core.scenarios import PENNYWHISTLE, RUSHMERE

W_2 = "W-2 (invented)"


def faults_of(**route: Any) -> dict[str, str]:
    return faults_of_request(PENNYWHISTLE | {"route": PENNYWHISTLE["route"] | route})


def faults_of_request(request: Any) -> dict[str, str]:
    with pytest.raises(FaultsFound) as found:
        read_request(copy.deepcopy(request))
    return {fault.field: str(fault) for fault in found.value.faults}


def test_a_route_is_read_with_its_lawns_and_its_reload_points() -> None:
    request = read_request(PENNYWHISTLE)

    assert request.route is not None
    assert not request.has_place
    assert [stop.name for stop in request.route.stops] == [f"stop {n}" for n in range(1, 8)]
    assert [(before, point.kind) for before, point in request.route.reload_points] == [
        (4, ReloadKind.YARD),
        (5, ReloadKind.CUSTOMER_TAP),
    ]
    assert request.route.rinsing == Rinsing()
    assert request.route.stops[0].room == {W_2: Quantity(2.0, "fl oz/1000 sq ft")}


def test_a_route_tells_its_own_rinses_and_lawns_of_tomorrow() -> None:
    request = read_request(
        PENNYWHISTLE
        | {
            "route": PENNYWHISTLE["route"]
            | {
                "rinse": {"count": 2, "volume": "15 gal"},
                "next_lawns": [{"property": place(LAWN)}, {"area": "1 acre", "name": "Green"}],
            }
        }
    )

    assert request.route is not None
    assert request.route.rinsing == Rinsing(2, Quantity(15, "gal"))
    assert [lawn.name for lawn in request.route.next_lawns] == ["next lawn 1", "Green"]


@pytest.mark.parametrize(
    ("route", "where", "words"),
    [
        ({"stops": []}, "route.stops", "0 items"),
        ({"stops": [{"reload": "yard"}]}, "route.stops", "no lawn"),
        ({"stops": [5]}, "route.stops[0]", "not an object"),
        ({"stops": [{}]}, "route.stops[0]", "not clear how large"),
        (
            {"stops": [{"area": "1 acre", "property": place(LAWN)}]},
            "route.stops[0]",
            "not clear how large",
        ),
        ({"stops": [{"area": "0 sq ft"}]}, "route.stops[0].area", "not above zero"),
        ({"stops": [{"area": "3 ft"}]}, "route.stops[0].area", "is a length"),
        (
            {"stops": [{"property": place(area("shed", "building", corners_of(0, 0, 9, 9)))}]},
            "route.stops[0].property",
            "No turf is drawn",
        ),
        ({"stops": [{"property": {"type": "Nothing"}}]}, "route.stops[0].property.type", ""),
        ({"stops": [{"reload": "river"}]}, "route.stops[0].reload", "words known here"),
        ({"stops": [{"reload": "yard", "depth": 3}]}, "route.stops[0].depth", "not part of"),
        (
            {"stops": [{"reload": "customer_tap", "air_gap": "yes"}]},
            "route.stops[0].air_gap",
            "not a yes or a no",
        ),
        (
            {"stops": [{"area": "1 acre", "room": {"Other": "1 fl oz/acre"}}]},
            "route.stops[0].room.Other",
            "not part of",
        ),
        (
            {"stops": [{"area": "1 acre", "room": {W_2: "1 oz wt/acre"}}]},
            f"route.stops[0].room.{W_2}",
            "no volume per area",
        ),
        (
            {"stops": [{"area": "1 acre", "given": {W_2: "-1 fl oz/acre"}}]},
            f"route.stops[0].given.{W_2}",
            "below zero",
        ),
        (
            {"stops": [{"area": "1 acre", "history": []}]},
            "route.stops[0].history",
            "needs a drawn lawn",
        ),
        ({"tank": 2}, "route.tank", "not a number that is expected"),
        ({"weight_limit": "3 gal"}, "route.weight_limit", "is a volume"),
        ({"refill": {}}, "route.refill.in_tank", "missing"),
        ({"refill": {"in_tank": "9 gal", "after_load": 0}}, "route.refill.after_load", ""),
        (
            {"refill": {"in_tank": "9 gal", "put_in": {W_2: "3 oz wt"}}},
            f"route.refill.put_in.{W_2}",
            "is a weight",
        ),
        ({"rinse": {"count": 0}}, "route.rinse.count", ""),
        ({"drivers": 2}, "route.drivers", "not part of"),
    ],
)
def test_a_fault_is_told_in_its_place(route: dict[str, Any], where: str, words: str) -> None:
    faults = faults_of(**route)

    assert words in faults[where]


def test_a_route_without_stops_or_that_is_no_object_is_a_fault() -> None:
    assert "missing" in faults_of_request(PENNYWHISTLE | {"route": {}})["route.stops"]
    assert "not an object" in faults_of_request(PENNYWHISTLE | {"route": []})["route"]


def test_what_stays_in_the_tank_must_be_told_for_a_route() -> None:
    machine = {
        name: value for name, value in PENNYWHISTLE["machine"].items() if name != "unsprayable"
    }

    faults = faults_of_request(PENNYWHISTLE | {"machine": machine})

    assert "write 0 gal if there is none" in faults["machine.unsprayable"]


def test_a_spreader_drives_no_route() -> None:
    request = RUSHMERE | {"route": {"stops": [{"area": "1 acre"}]}}

    assert "no tank" in faults_of_request(request)["machine.kind"]


def test_a_machine_that_cannot_be_read_hides_no_fault_of_the_route() -> None:
    request = PENNYWHISTLE | {"machine": 3, "route": {"stops": [{"area": "1 ft"}]}}

    assert {"machine", "route.stops[0].area"} <= set(faults_of_request(request))


def test_the_rates_of_a_route_meet_the_surface() -> None:
    assert "rate_meets" in faults_of_request(PENNYWHISTLE | {"rate_meets": "plan"})


def test_a_property_is_still_needed_where_there_is_no_route() -> None:
    request = {name: value for name, value in PENNYWHISTLE.items() if name != "route"}

    assert "missing" in faults_of_request(request)["property"]


def test_nothing_left_of_the_year_is_an_answer_too() -> None:
    stop = {"area": "1 acre", "room": {W_2: "0 fl oz/acre"}}

    request = read_request(PENNYWHISTLE | {"route": {"stops": [stop]}})

    assert request.route is not None
    assert request.route.stops[0].room[W_2].value == 0
