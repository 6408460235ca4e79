"""A machine and a hand tool on one property: who sprays what, and what is left to nobody."""

from typing import Any

import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st

from planner.core.plan import plan_from_json
from planner.core.report import plan_as_json
from properties.core.errors import FaultsFound
from tests.planner.core.asking import (
    FOOT_M,
    HERBICIDE,
    LAWN,
    area,
    asking,
    codes,
    corners_of,
    lonlat,
    place,
    point,
    with_output,
)

# The plane of the test differs from a plane of true areas by parts in a million.
PLACED = 4e-5

GUN = with_output("2 gal/1000 sq ft", kind="hand_gun", swath="3 ft", tanks=["5 gal"])
STRIP = area("strip", "turf", corners_of(200, 0, 206, 60), name="Side strip")
GATED = area("back", "turf", corners_of(200, 0, 240, 50), name="Back", gate="4 ft")
HAND_ONLY = area("side", "turf", corners_of(200, 0, 240, 50), name="Side", only="hand_tool")
POND = area("pond", "pond", corners_of(0, 50, 100, 60))


def planned(*features: Any, **changes: Any) -> Any:
    request = {"property": place(*features), "machine": with_output("1 gal/1000 sq ft")}
    return plan_as_json(plan_from_json(asking(**(request | changes))))


def by_method(boom: str, gun: str, kind: str = "pond") -> list[Any]:
    return [
        {"kind": kind, "method": method, "distance": distance, "source": "Invented firm"}
        for method, distance in (("boom", boom), ("hand_gun", gun))
    ]


def fates(plan: Any) -> dict[str, float]:
    found: dict[str, float] = {}
    for share in plan["accounting"]["shares"]:
        found[share["fate"]] = found.get(share["fate"], 0) + share["area"]["value"]
    return found


def told(plan: Any, kind: str = "warnings") -> list[str]:
    return [finding["code"] for finding in plan[kind]]


def test_the_hand_tool_has_the_ring_that_the_machine_keeps_away_from() -> None:
    plan = planned(LAWN, POND, hand_tool=GUN, setback_rules=by_method("20 ft", "5 ft"))

    # 100 by 50 ft along the pond: 30 ft deep for the boom, 15 for the gun, 5 for nobody.
    assert fates(plan) == pytest.approx({"machine": 3000, "hand": 1500, "strip": 500}, rel=PLACED)
    assert [part["area"]["value"] for part in plan["parts"]] == pytest.approx(
        [3000, 1500], rel=PLACED
    )
    assert plan["no_spray_area"]["value"] == pytest.approx(500, rel=PLACED)


def test_each_tool_tells_its_own_distances_and_the_whole_the_nearer_one() -> None:
    plan = planned(LAWN, POND, hand_tool=GUN, setback_rules=by_method("20 ft", "5 ft"))

    def distances(of: Any) -> list[float]:
        return [zone["properties"]["distance"]["value"] for zone in of["no_spray"]["features"]]

    assert [distances(each) for each in (*plan["parts"], plan)] == [[20], [5], [5]]


def test_the_hand_tool_has_what_is_too_narrow_for_the_swath() -> None:
    plan = planned(LAWN, STRIP, hand_tool=GUN)

    assert fates(plan) == pytest.approx({"machine": 5000, "hand": 360}, rel=PLACED)
    assert "hand_area" not in told(plan)


def test_loads_are_numbered_on_and_carry_their_tool() -> None:
    plan = planned(
        LAWN, STRIP, hand_tool=GUN, machine=with_output("10 gal/1000 sq ft", tanks=["30 gal"])
    )

    loads = [(load["number"], load["tool"], load["tank"]) for load in plan["loads"]]
    assert loads == [
        (1, "machine", "tank 1"),
        (2, "machine", "tank 1"),
        (3, "hand_tool", "tank 1"),
    ]
    assert plan["loads"] == [load for part in plan["parts"] for load in part["loads"]]
    total = sum(part["carrier_volume"]["value"] for part in plan["parts"])
    assert plan["carrier_volume"]["value"] == pytest.approx(total, rel=1e-12)
    assert plan["output"]["value"] == pytest.approx(10, rel=1e-12)


def test_products_of_the_whole_job_are_those_of_both_parts() -> None:
    plan = planned(LAWN, STRIP, hand_tool=GUN)

    for member in ("amount", "amount_to_measure"):
        by_part = [part["products"][0][member]["value"] for part in plan["parts"]]
        assert plan["products"][0][member]["value"] == pytest.approx(sum(by_part), rel=1e-12)


@pytest.mark.parametrize(("width", "open_to_machine"), [("4.1 ft", False), ("4 ft", True)])
def test_a_gate_narrower_than_the_machine_leaves_the_turf_to_the_hand_tool(
    width: str, open_to_machine: bool
) -> None:
    machine = with_output("1 gal/1000 sq ft", width=width)

    plan = planned(LAWN, GATED, hand_tool=GUN, machine=machine)

    expected = {"machine": 7000} if open_to_machine else {"machine": 5000, "hand": 2000}
    assert fates(plan) == pytest.approx(expected, rel=PLACED)
    barred = [] if open_to_machine else ["the gate is 4 ft wide and the machine needs 4.1 ft"]
    assert [each["reason"] for each in plan["parts"][0]["barred"]] == barred
    assert "turf_barred" not in told(plan)


def test_turf_behind_a_gate_is_left_out_and_told_where_there_is_no_hand_tool() -> None:
    plan = planned(LAWN, GATED, machine=with_output("1 gal/1000 sq ft", width="5 ft"))

    assert fates(plan) == pytest.approx({"machine": 5000, "barred": 2000}, rel=PLACED)
    assert plan["treatable_area"]["value"] == pytest.approx(5000, rel=PLACED)
    assert plan["no_spray_area"]["value"] == pytest.approx(2000, rel=PLACED)
    (warning,) = [each for each in plan["warnings"] if each["code"] == "turf_barred"]
    assert "Back (turf): the gate is 4 ft wide and the machine needs 5 ft" in warning["message"]
    assert "parts" not in plan


def test_a_feature_on_closed_turf_keeps_its_own_share() -> None:
    bed = area("bed", "bed", corners_of(200, 0, 240, 10), setback="5 ft")

    plan = planned(LAWN, HAND_ONLY, bed)

    assert fates(plan) == pytest.approx(
        {"machine": 5000, "own_ground": 400, "strip": 200, "barred": 1400}, rel=PLACED
    )


def test_a_gate_may_be_too_narrow_for_the_hand_tool_too() -> None:
    plan = planned(
        LAWN,
        GATED,
        machine=with_output("1 gal/1000 sq ft", width="5 ft"),
        hand_tool=GUN | {"width": "4.5 ft"},
    )

    assert fates(plan) == pytest.approx({"machine": 5000, "barred": 2000}, rel=PLACED)
    (warning,) = [each for each in plan["warnings"] if each["code"] == "turf_barred"]
    assert "the hand tool needs 4.5 ft" in warning["message"]


def test_a_machine_of_unknown_width_is_asked_for_it_and_let_in() -> None:
    plan = planned(LAWN, GATED)

    assert fates(plan) == pytest.approx({"machine": 7000}, rel=PLACED)
    (warning,) = [each for each in plan["warnings"] if each["code"] == "gate_unchecked"]
    assert "Back (turf), 4 ft" in warning["message"]


@pytest.mark.parametrize("more", [{"only": "hand_tool"}, {}])
def test_no_width_is_asked_for_where_the_gate_does_not_matter(more: Any) -> None:
    turf = area("back", "turf", corners_of(200, 0, 240, 50), gate="4 ft", **more)
    machine = with_output("1 gal/1000 sq ft", kind="boom_sprayer" if more else "hand_gun")

    assert "gate_unchecked" not in told(planned(LAWN, turf, machine=machine))


def test_ground_that_is_too_narrow_and_too_near_is_left_to_nobody_and_told() -> None:
    # The gun keeps 20 ft from the pond, the boom 5; between them a walk cuts off 8 ft.
    walk = area("walk", "walk", corners_of(0, 30, 100, 37))

    plan = planned(LAWN, POND, walk, hand_tool=GUN, setback_rules=by_method("5 ft", "20 ft"))

    # 37 to 45 ft is open to the boom, too narrow for its swath of 10 ft, and closed to the gun.
    assert fates(plan) == pytest.approx(
        {"machine": 3000, "too_narrow": 800, "strip": 500, "obstacles": 700}, rel=PLACED
    )
    assert "no_tool_fits" in told(plan)


def test_a_tool_whose_output_the_label_does_not_allow_is_refused_by_name() -> None:
    label = HERBICIDE["label"] | {"carrier_max": "1.5 gal/1000 sq ft"}

    plan = planned(LAWN, STRIP, hand_tool=GUN, mix=[HERBICIDE | {"label": label}])

    (refusal,) = plan["refusals"]
    assert (refusal["code"], refusal["tool"]) == ("carrier_above_label", "hand_tool")
    assert refusal["message"].startswith("Hand tool: Invented herbicide")


def test_what_holds_for_both_tools_is_told_once_and_the_rest_by_name() -> None:
    bed = area("bed", "bed", corners_of(10, 10, 20, 20))

    plan = planned(
        LAWN,
        bed,
        point("well", "well", 50, 25),
        hand_tool=GUN,
        mix=[],
        setback_rules=by_method("6 ft", "2 ft", "flower_bed")[:1],
    )

    refusals = [(each["code"], each["feature"], each.get("tool")) for each in plan["refusals"]]
    assert refusals == [
        ("setback_unknown", "well", None),
        ("setback_unknown", "bed", "hand_tool"),
    ]
    assert told(plan) == ["output_stated", "output_stated", "water_only"]


def test_a_mix_is_fit_for_the_other_tool_where_the_outputs_are_alike() -> None:
    gun = GUN | {"output": "1.1 gal/1000 sq ft"}

    plan = planned(LAWN, STRIP, hand_tool=gun)

    assert [use["allowed"] for use in plan["cross_use"]] == [True, True]
    assert "mix_not_for_other_tool" not in told(plan)


def test_a_mix_of_unknown_range_is_not_let_into_the_other_tool() -> None:
    unlabelled = HERBICIDE | {"label": {}}
    adjuvant = {"name": "Invented adjuvant", "rate": "0.25 %", "formulation": "NIS"}

    plan = planned(
        LAWN, STRIP, hand_tool=GUN, mix=[unlabelled, adjuvant], measures={"liquid": ["0.01 fl oz"]}
    )

    machine_mix = plan["cross_use"][0]
    assert machine_mix["allowed"] is None
    (warning,) = [
        each
        for each in plan["warnings"]
        if each["code"] == "mix_not_for_other_tool" and each["tool"] == "hand_tool"
    ]
    assert "the label’s range is not known here" in warning["message"]
    # A share of the spray is the same in every tool.
    assert "adjuvant" not in warning["message"]


def test_a_part_without_ground_has_no_mix_to_take_elsewhere() -> None:
    plan = planned(LAWN, hand_tool=GUN)

    assert [use["mix_of"] for use in plan["cross_use"]] == ["machine"]
    assert plan["parts"][1]["area"]["value"] == 0
    assert plan["parts"][1]["loads"] == []


def test_two_hand_tools_may_share_a_property() -> None:
    backpack = with_output("1 gal/1000 sq ft", kind="backpack_sprayer")
    rules = by_method("9 ft", "5 ft")
    rules[0]["method"] = "backpack"

    plan = planned(LAWN, POND, STRIP, machine=backpack, hand_tool=GUN, setback_rules=rules)

    assert fates(plan) == pytest.approx({"machine": 4460, "hand": 400, "strip": 500}, rel=PLACED)


def test_the_ground_both_keep_unsprayed_follows_the_wind() -> None:
    rules = by_method("5 ft", "5 ft")
    rules[0]["downwind"] = "25 ft"
    pond = area("pond", "pond", corners_of(100, 0, 130, 50))

    plan = planned(
        LAWN,
        pond,
        hand_tool=GUN,
        setback_rules=rules,
        weather={"wind_from": "W", "wind_speed": "5 mph"},
    )

    # From the west: 25 ft for the boom, 5 for the gun, of 100 ft.
    assert fates(plan) == pytest.approx({"machine": 3750, "hand": 1000, "strip": 250}, rel=PLACED)
    assert plan["wind"]["in_shape"]


def test_the_zone_of_the_nearer_tool_is_cut_where_the_other_does_not_follow_the_wind() -> None:
    rules = by_method("10 ft", "5 ft")
    rules[1]["downwind"] = "25 ft"
    pond = area("pond", "pond", corners_of(100, 0, 130, 50))

    plan = planned(
        LAWN,
        pond,
        hand_tool=GUN,
        setback_rules=rules,
        weather={"wind_from": "W", "wind_speed": "5 mph"},
    )

    # The boom keeps 10 ft and the gun 25 from the west: both keep 10.
    assert fates(plan) == pytest.approx({"machine": 4500, "strip": 500}, rel=PLACED)
    (zone,) = plan["no_spray"]["features"]
    west, *_ = shapely.geometry.shape(zone["geometry"]).bounds
    assert west == pytest.approx(lonlat(90 * FOOT_M, 0)[0], abs=1e-8)


def test_turf_that_is_closed_to_every_tool_names_the_gate() -> None:
    plan = planned(GATED, machine=with_output("1 gal/1000 sq ft", width="5 ft"))

    (refusal,) = plan["refusals"]
    assert refusal["code"] == "nothing_treatable"
    assert "the gate is 4 ft wide" in refusal["message"]


def test_a_feature_that_swallows_the_lawn_is_named_and_one_that_took_nothing_is_not() -> None:
    plan = planned(
        LAWN,
        point("well", "well", 50, 25, setback="200 ft"),
        point("tree", "tree", 900, 25, setback="3 ft"),
        hand_tool=GUN,
    )

    (refusal,) = plan["refusals"]
    assert refusal["code"] == "nothing_treatable"
    assert "it is taken by well (well)." in refusal["message"]
    assert [part["loads"] for part in plan["parts"]] == [[], []]


@given(
    boom=st.integers(0, 30),
    gun=st.integers(0, 30),
    swath=st.integers(3, 25),
    across=st.integers(4, 40),
    gated=st.booleans(),
)
def test_every_bit_of_turf_is_accounted_for(
    boom: int, gun: int, swath: int, across: int, gated: bool
) -> None:
    back = area("back", "turf", corners_of(90, 40, 90 + across, 120), gate="4 ft", slope="15 %")
    plan = planned(
        LAWN,
        back,
        area("shed", "building", corners_of(70, 20, 95, 60)),
        area("bed", "bed", corners_of(20, 20, 40, 26)),
        POND,
        machine=with_output(
            "1 gal/1000 sq ft", swath=f"{swath} ft", width="5 ft" if gated else "3 ft"
        ),
        hand_tool=GUN,
        setback_rules=[
            *by_method(f"{boom} ft", f"{gun} ft"),
            *by_method(f"{gun} ft", f"{boom} ft", "flower_bed"),
        ],
    )

    turf = plan["turf_area"]["value"]
    assert sum(fates(plan).values()) == pytest.approx(turf, rel=1e-9)
    assert plan["accounting"]["turf_area"]["value"] == pytest.approx(turf, rel=1e-9)
    whole = ("treatable_area", "obstacle_area", "no_spray_area")
    assert sum(plan[name]["value"] for name in whole) == pytest.approx(turf, rel=1e-9)
    parts = sum(part["area"]["value"] for part in plan["parts"])
    assert parts == pytest.approx(plan["treatable_area"]["value"], abs=1e-9 * turf)


@pytest.mark.parametrize(
    ("tool", "where", "words"),
    [
        (GUN | {"kind": "boom_sprayer"}, "hand_tool.kind", "hand_gun, backpack_sprayer"),
        (GUN | {"width": "0 ft"}, "hand_tool.width", "not above zero"),
        ([], "hand_tool", "not an object"),
    ],
)
def test_a_slip_about_the_hand_tool_is_told(tool: Any, where: str, words: str) -> None:
    with pytest.raises(FaultsFound) as found:
        planned(LAWN, hand_tool=tool)

    (fault,) = found.value.faults
    assert fault.field == where
    assert words in str(fault)


def test_too_many_loads_of_one_tool_are_told_for_it_alone() -> None:
    plan = plan_from_json(
        asking(
            property=place(LAWN, STRIP),
            hand_tool=GUN | {"output": "500 gal/1000 sq ft", "tanks": ["0.1 gal"]},
        )
    )

    (refusal,) = [each for each in plan.refusals if each.code == "too_many_loads"]
    assert refusal.tool == "hand_tool"
    assert "too_many_loads" in codes(plan.refusals)


def test_two_thousand_beds_are_shared_out_between_two_tools() -> None:
    # 50 by 40 points; each keeps 0.2 ft from the boom, 0.1 from the gun.
    beds = [point(f"b{n}", "bed", 1 + n % 50 * 2, 0.6 + n // 50 * 1.25) for n in range(2000)]

    plan = planned(
        LAWN, *beds, hand_tool=GUN, setback_rules=by_method("0.2 ft", "0.1 ft", "flower_bed")
    )

    assert len(plan["parts"][1]["no_spray"]["features"]) == 2000
    assert sum(fates(plan).values()) == pytest.approx(plan["turf_area"]["value"], rel=1e-9)
