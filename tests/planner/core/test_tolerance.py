"""What grows in each lawn decides for itself whether it gets the mix."""

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.core.plan import plan_from_json
from planner.core.report import plan_as_json
from tests.planner.core.asking import HERBICIDE, LAWN, area, asking, corners_of, place, with_output

Json = dict[str, Any]

SAID = {"tall_fescue": "tolerates", "creeping_bentgrass": "forbidden", "fine_fescue": "caution"}
MACHINE = with_output("1 gal/1000 sq ft")
# 40 × 50 ft and 20 × 50 ft beside the lawn of 100 × 50 ft.
BACK = corners_of(110, 0, 150, 50)
SIDE = corners_of(160, 0, 180, 50)
# The plane of the test differs from a plane of true areas by parts in a million.
PLACED = 4e-5


def lawn_of(*grasses: str) -> Json:
    return LAWN | {"properties": {"kind": "turf", "name": "Front", "turfgrasses": list(grasses)}}


def back_of(*grasses: str, ref: str = "back", corners: Any = BACK) -> Json:
    return area(ref, "turf", corners, name=ref.capitalize(), turfgrasses=list(grasses))


def planned(*lawns: Json, label: Json | None = None, **changes: Any) -> Json:
    told = {"tolerance": SAID} if label is None else label
    mix = [HERBICIDE | {"label": HERBICIDE["label"] | told}]
    request = {"property": place(*lawns), "machine": MACHINE, "mix": mix}
    return plan_as_json(plan_from_json(asking(**(request | changes))))


def codes(plan: Json, kind: str = "warnings") -> list[str]:
    return [finding["code"] for finding in plan[kind] if finding["code"] != "output_stated"]


def shares(plan: Json) -> dict[str, Json]:
    return {share["fate"]: share for share in plan["accounting"]["shares"]}


def test_a_lawn_that_the_product_would_injure_is_left_out_with_its_reason() -> None:
    plan = planned(lawn_of("tall_fescue"), back_of("creeping_bentgrass"))

    spared = shares(plan)["spared"]
    assert spared["area"]["value"] == pytest.approx(2000, rel=PLACED)
    assert "Back (turf): the label of Invented herbicide forbids it on creeping" in spared["reason"]
    assert plan["treatable_area"]["value"] == pytest.approx(5000, rel=PLACED)
    # 1 gal/1,000 sq ft and 1.2 fl oz/1,000 sq ft over the 5,000 sq ft that are left.
    assert plan["carrier_volume"]["value"] == pytest.approx(5, rel=PLACED)
    assert plan["products"][0]["amount"]["value"] == pytest.approx(6, rel=PLACED)
    assert (codes(plan), codes(plan, "refusals")) == (["turf_spared"], [])


def test_where_it_would_be_all_of_the_turf_the_mix_is_refused() -> None:
    plan = planned(lawn_of("creeping_bentgrass"), back_of("creeping_bentgrass", "tall_fescue"))

    assert set(codes(plan, "refusals")) == {"turf_not_tolerant"}
    assert "spared" not in shares(plan)
    assert "on Front" in plan["refusals"][0]["message"]


def test_a_lawn_that_tells_nothing_goes_by_what_the_property_tells() -> None:
    plan = planned(LAWN, back_of("tall_fescue"), turfgrasses=["creeping_bentgrass"])

    assert shares(plan)["spared"]["area"]["value"] == pytest.approx(5000, rel=PLACED)
    assert codes(plan, "refusals") == []


def test_a_mixed_stand_is_left_out_where_any_of_it_would_be_injured() -> None:
    plan = planned(lawn_of("tall_fescue"), back_of("tall_fescue", "creeping_bentgrass"))

    assert shares(plan)["spared"]["area"]["value"] == pytest.approx(2000, rel=PLACED)


def test_turf_that_nobody_told_is_sprayed_with_a_warning_and_never_taken_as_tolerant() -> None:
    plan = planned(LAWN, back_of("tall_fescue"))

    (warning,) = (each for each in plan["warnings"] if each["code"] == "turfgrass_unknown")
    assert "nobody told which grow on lawn." in warning["message"]
    assert "spared" not in shares(plan)


def test_care_is_asked_for_on_the_lawn_that_needs_it_and_not_on_the_one_left_out() -> None:
    plan = planned(
        lawn_of("tall_fescue"),
        back_of("creeping_bentgrass"),
        back_of("fine_fescue", ref="side", corners=SIDE),
    )

    (unsure,) = (each for each in plan["warnings"] if each["code"] == "turf_tolerance_unsure")
    assert "asks for care on fine fescue, which grows on Side" in unsure["message"]


def test_the_rates_of_another_turf_keep_the_mix_from_a_lawn() -> None:
    plan = planned(lawn_of("tall_fescue"), back_of("zoysiagrass"), label={"turf": "tall_fescue"})

    assert "is for tall fescue, not for zoysiagrass" in shares(plan)["spared"]["reason"]
    assert codes(plan, "refusals") == []


def test_a_hand_tool_does_not_spray_what_the_mix_is_not_for() -> None:
    gun = with_output("2 gal/1000 sq ft", kind="hand_gun", swath="3 ft", tanks=["5 gal"])
    narrow = back_of("creeping_bentgrass", corners=corners_of(110, 0, 116, 50))

    plan = planned(lawn_of("tall_fescue"), narrow, hand_tool=gun)

    # 6 × 50 ft are too narrow for a swath of 10 ft, so the hand tool would have done them.
    assert shares(plan)["spared"]["area"]["value"] == pytest.approx(300, rel=PLACED)
    assert "hand" not in shares(plan)


def test_what_is_left_out_has_no_past_to_close_it() -> None:
    label = {"tolerance": SAID, "limits": {"interval": "28 day"}}
    where = back_of()["geometry"]
    history = [
        {
            "on": "2026-05-01",
            "product": "Invented herbicide",
            "rate": "1.2 fl oz/1000 sq ft",
            "where": where,
        }
    ]

    plan = planned(
        lawn_of("tall_fescue"),
        back_of("creeping_bentgrass"),
        label=label,
        history=history,
        on="2026-05-10",
    )

    assert shares(plan)["spared"]["area"]["value"] == pytest.approx(2000, rel=PLACED)
    assert "closed" not in shares(plan)


grasses = st.lists(st.sampled_from([*SAID, "zoysiagrass"]), max_size=2, unique=True)


@given(front=grasses, back=grasses, told=grasses)
def test_every_bit_of_turf_is_accounted_for_and_none_that_is_forbidden_is_sprayed(
    front: list[str], back: list[str], told: list[str]
) -> None:
    plan = planned(lawn_of(*front), back_of(*back), turfgrasses=told, passes=False)

    total = sum(share["area"]["value"] for share in plan["accounting"]["shares"])
    assert total == pytest.approx(plan["turf_area"]["value"], rel=1e-9)
    kept = {5000: front or told, 2000: back or told}
    sprayed = sum(size for size, grows in kept.items() if "creeping_bentgrass" not in grows)
    if sprayed:
        assert plan["treatable_area"]["value"] == pytest.approx(sprayed, rel=PLACED)
    else:
        assert "turf_not_tolerant" in codes(plan, "refusals")


STOP = {"unsprayable": "0 gal"}


def on_route(*stops: Json, **changes: Any) -> Json:
    mix = [HERBICIDE | {"label": HERBICIDE["label"] | {"tolerance": SAID}}]
    asked = asking(machine=MACHINE | STOP, mix=mix, route={"stops": list(stops)}, **changes)
    del asked["property"]
    return plan_as_json(plan_from_json(asked))


def test_every_lawn_of_a_route_is_judged_by_what_grows_there() -> None:
    drawn = place(lawn_of("tall_fescue"), back_of("creeping_bentgrass"))
    plan = on_route(
        {"name": "Mill House", "property": drawn},
        {"name": "Tollgate", "area": "3000 sq ft", "turfgrasses": ["creeping_bentgrass"]},
        {"name": "Pound Lane", "area": "2000 sq ft"},
        turfgrasses=["fine_fescue"],
    )

    assert plan["route"]["stops"][0]["area"]["value"] == pytest.approx(5000, rel=PLACED)
    refused = [each for each in plan["refusals"] if each["code"] == "turf_not_tolerant"]
    (refusal,) = refused
    assert refusal["message"].startswith("Tollgate: ")
    told = {finding["code"]: finding["message"] for finding in plan["warnings"]}
    assert told["turf_spared"].startswith("Mill House: ")
    assert "care on fine fescue, which grows here" in told["turf_tolerance_unsure"]


def test_a_route_beside_a_place_still_judges_the_lawns_that_tell_nothing() -> None:
    mix = [HERBICIDE | {"label": HERBICIDE["label"] | {"tolerance": SAID}}]
    asked = asking(
        property=place(lawn_of("tall_fescue")),
        machine=MACHINE | STOP,
        mix=mix,
        route={"stops": [{"area": "2000 sq ft"}]},
        turfgrasses=["creeping_bentgrass"],
    )

    assert codes(plan_as_json(plan_from_json(asked)), "refusals") == ["turf_not_tolerant"]
