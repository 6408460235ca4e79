"""Limits by place through the one door: what is closed, which rate holds, what is measured."""

from datetime import date
from typing import Any

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from planner.core.plan import plan_from_json
from planner.core.report import plan_as_json
from properties.core.errors import FaultsFound
from properties.core.ledger import faces
from tests.planner.core.asking import HERBICIDE, Json, area, asking, corners_of, lonlat, place
from tests.planner.core.scenarios import LARKFOOT, RUSHMERE, at_rate

ON = "2026-07-06"
PRODUCT = HERBICIDE["name"]


def planned(request: Json) -> Any:
    return plan_as_json(plan_from_json(request))


def ground(*corners: tuple[float, float, float, float]) -> Json:
    polygons = [area("", "turf", corners_of(*each))["geometry"]["coordinates"] for each in corners]
    return {"type": "MultiPolygon", "coordinates": polygons}


def had(
    *corners: tuple[float, float, float, float],
    on: str = "2026-05-01",
    rate: str = "1.2 fl oz/1000 sq ft",
    **more: Any,
) -> Json:
    return {"on": on, "product": PRODUCT, "rate": rate, "where": ground(*corners)} | more


def limited(limits: Json, *, rate: str = "1.2 fl oz/1000 sq ft", label: Json | None = None) -> Json:
    told = HERBICIDE["label"] | {"limits": limits} | (label or {})
    return HERBICIDE | {"rate": rate, "label": told}


def job(limits: Json, *history: Json, **more: Any) -> Json:
    return asking(mix=[limited(limits)], history=list(history), on=ON) | more


YEARLY = {"per_year": "3.4 fl oz/1000 sq ft"}
EVERY_30_DAYS = {"interval": "30 days"}
WEST, EAST = (0, 0, 50, 50), (50, 0, 100, 50)


def codes(plan: Any, kind: str = "refusals") -> list[str]:
    return [finding["code"] for finding in plan[kind]]


def in_degrees(corners: tuple[float, float]) -> shapely.Point:
    return shapely.Point(lonlat(corners[0] * 0.3048, corners[1] * 0.3048))


# --- Larkfoot Commons, worked out by hand: 3.4 a year, 30 days.


def test_at_the_rate_asked_for_the_front_would_pass_its_year() -> None:
    plan = planned(LARKFOOT)

    (refusal,) = plan["refusals"]
    assert refusal["code"] == "rate_above_room"
    assert "Front (turf) may get 1 fl oz/1000 sq ft more at most" in refusal["message"]
    assert "1 fl oz/1000 sq ft is the highest rate that holds everywhere" in refusal["message"]
    assert plan["products"][0]["amount_to_measure"] is None


def test_at_the_rate_that_holds_everywhere_the_measure_rounds_down() -> None:
    plan = planned(at_rate(LARKFOOT, "1.0 fl oz/1000 sq ft"))

    assert plan["refusals"] == []
    # Areas of the placed shapes are within 0.2 % of the flat ones.
    assert plan["treatable_area"]["value"] == pytest.approx(15_350, rel=2e-3)
    assert plan["closed_area"]["value"] == pytest.approx(500, rel=2e-3)
    assert plan["carrier_volume"]["value"] == pytest.approx(15.35, rel=2e-3)
    (product,) = plan["products"]
    assert product["amount"]["value"] == pytest.approx(15.35, rel=2e-3)
    # 15.5 fl oz would give the front 2.4 + 1.0098 = 3.410.
    assert product["amount_to_measure"] == {"value": 15.0, "unit": "fl oz"}
    assert product["rate_after_rounding"]["value"] == pytest.approx(0.977, abs=5e-4)


def test_without_the_past_the_measure_would_round_up() -> None:
    request = at_rate(LARKFOOT, "1.0 fl oz/1000 sq ft") | {"history": []}
    request["property"] = place(request["property"]["features"][0])

    # 6.2 fl oz: of 6.0 and 6.5 the nearer; nothing in the past speaks against either.
    (product,) = planned(request)["products"]
    assert product["amount_to_measure"]["value"] == 6.0
    request = at_rate(request, "1.02 fl oz/1000 sq ft")
    assert planned(request)["products"][0]["amount_to_measure"]["value"] == 6.5


def by_lawn(plan: Any) -> dict[str, Any]:
    (limit,) = plan["limits"]
    names = {"front": "front", "back": "rest"}
    return {
        names[face["features"][0]] if face["open"] else "patch": face | standing
        for face, standing in zip(plan["faces"], limit["faces"], strict=True)
    }


def test_every_part_of_the_place_stands_by_itself() -> None:
    told = by_lawn(planned(at_rate(LARKFOOT, "1.0 fl oz/1000 sq ft")))

    assert {name: each["received"]["value"] for name, each in told.items()} == {
        "front": pytest.approx(2.4),
        "rest": pytest.approx(1.2),
        "patch": pytest.approx(2.4),
    }
    assert {name: each["room"]["value"] for name, each in told.items()} == {
        "front": pytest.approx(1.0),
        "rest": pytest.approx(2.2),
        "patch": pytest.approx(1.0),
    }
    assert {name: each["last_on"] for name, each in told.items()} == {
        "front": "2026-05-20",
        "rest": "2026-04-10",
        "patch": "2026-06-08",
    }
    patch = told["patch"]
    assert (patch["open"], patch["open_on"]) == (False, "2026-07-08")
    assert [closure["why"] for closure in patch["closures"]] == ["interval"]
    assert "28 days since June 8, 2026" in patch["closures"][0]["reason"]


def test_after_the_job_the_front_is_closed_for_the_year() -> None:
    told = by_lawn(planned(at_rate(LARKFOOT, "1.0 fl oz/1000 sq ft")))

    assert told["front"]["received_after"]["value"] == pytest.approx(3.377, abs=5e-4)
    assert told["front"]["room_after"]["value"] == pytest.approx(0.023, abs=5e-4)
    assert told["front"]["open_on_after"] == "2027-01-01"
    assert told["rest"]["room_after"]["value"] == pytest.approx(1.223, abs=5e-4)
    assert told["rest"]["open_on_after"] == "2026-08-05"
    assert told["patch"]["room_after"] is None


def test_two_days_later_the_patch_is_open() -> None:
    plan = planned(at_rate(LARKFOOT, "1.0 fl oz/1000 sq ft") | {"on": "2026-07-08"})

    assert plan["closed_area"]["value"] == 0
    assert plan["treatable_area"]["value"] == pytest.approx(15_850, rel=2e-3)


def test_the_same_is_planned_in_metric() -> None:
    plan = planned(at_rate(LARKFOOT, "1.0 fl oz/1000 sq ft") | {"units": "metric"})

    (limit,) = plan["limits"]
    assert limit["per_year"]["unit"] == "mL/100 m2"
    # 3.4 fl oz per 1,000 sq ft: 29.5735 mL and 92.9030 m².
    assert limit["per_year"]["value"] == pytest.approx(3.4 * 29.5735 / 0.929030, rel=1e-4)
    assert codes(plan) == []


# --- What is closed


def test_every_square_foot_is_accounted_for() -> None:
    plan = planned(LARKFOOT)

    shares = {share["fate"]: share["area"]["value"] for share in plan["accounting"]["shares"]}
    assert sum(shares.values()) == pytest.approx(plan["turf_area"]["value"], rel=1e-12)
    assert shares["closed"] == plan["closed_area"]["value"]
    parts = ("treatable_area", "obstacle_area", "no_spray_area", "closed_area")
    assert sum(plan[part]["value"] for part in parts) == pytest.approx(
        plan["turf_area"]["value"], rel=1e-12
    )


def test_ground_that_is_kept_for_a_feature_is_not_counted_as_closed() -> None:
    bed = area("bed", "flower_bed", corners_of(10, 10, 20, 20), setback="5 ft")
    lawn = area("lawn", "turf", corners_of(0, 0, 100, 50))

    plan = planned(job(EVERY_30_DAYS, had(WEST, on="2026-07-01"), property=place(lawn, bed)))

    # The bed and its strip: 10 by 10 ft, and 5 ft all round with round corners.
    kept = 20 * 20 - (4 - np.pi) * 5**2
    assert plan["no_spray_area"]["value"] == pytest.approx(kept, rel=5e-3)
    assert plan["closed_area"]["value"] == pytest.approx(2500 - kept, rel=2e-3)


def test_a_plan_for_ground_that_is_all_closed_says_when_it_opens() -> None:
    plan = planned(job(EVERY_30_DAYS, had(WEST, EAST, on="2026-07-01")))

    (refusal,) = plan["refusals"]
    assert refusal["code"] == "nothing_open"
    assert "The first ground opens on July 31, 2026" in refusal["message"]
    assert "ground_closed" not in codes(plan, "warnings")


def test_ground_that_never_opens_says_so() -> None:
    label = {"per_year": "0.9 fl oz/1000 sq ft"}

    plan = planned(job(label, had(WEST, EAST, rate="0.5 fl oz/1000 sq ft")))

    assert codes(plan) == ["nothing_open"]
    assert "nobody can say when it opens again" in plan["refusals"][0]["message"]
    assert plan["faces"][0]["open_on"] is None


def test_a_blackout_closes_all_ground_until_it_is_over() -> None:
    rule = {"product": PRODUCT, "from": "06-01", "to": "09-30", "source": "invented county"}

    plan = planned(asking(blackouts=[rule], on=ON))

    assert codes(plan) == ["nothing_open"]
    assert "October 1, 2026" in plan["refusals"][0]["message"]
    assert planned(asking(blackouts=[rule], on="2026-10-01"))["refusals"] == []


def test_sown_ground_is_closed_as_the_label_says() -> None:
    seeding = {"on": "2026-06-01", "where": ground(WEST)}
    mix = [HERBICIDE | {"label": HERBICIDE["label"] | {"seeding": {"after": "60 days"}}}]

    plan = planned(asking(mix=mix, seedings=[seeding], on=ON))

    assert plan["closed_area"]["value"] == pytest.approx(2500, rel=2e-3)
    west = next(face for face in plan["faces"] if not face["open"])
    assert (west["open_on"], west["seedings"]) == ("2026-07-31", ["2026-06-01"])
    assert codes(plan, "warnings") == ["ground_closed"]


def test_two_tools_share_the_open_ground() -> None:
    gun = {
        "kind": "hand_gun",
        "swath": "3 ft",
        "tanks": ["5 gal"],
        "output": "2 gal/1000 sq ft",
    }
    strip = area("strip", "turf", corners_of(200, 0, 205, 100), only="hand_tool")
    lawn = area("lawn", "turf", corners_of(0, 0, 100, 50))
    request = job(
        EVERY_30_DAYS, had(WEST, (200, 0, 205, 50), on="2026-07-01"), property=place(lawn, strip)
    )

    plan = planned(request | {"hand_tool": gun})

    machine, hand = (part["area"]["value"] for part in plan["parts"])
    assert machine + hand == pytest.approx(2750, rel=2e-3)
    assert hand > 250
    assert plan["closed_area"]["value"] == pytest.approx(2750, rel=2e-3)


# --- Which rate holds


def test_each_tool_rounds_within_the_room_of_its_own_ground() -> None:
    gun = {"kind": "hand_gun", "swath": "3 ft", "tanks": ["5 gal"], "output": "2 gal/1000 sq ft"}
    strip = area("strip", "turf", corners_of(200, 0, 206, 100), only="hand_tool")
    lawn = area("lawn", "turf", corners_of(0, 0, 100, 50))
    measures = {"liquid": ["0.1 fl oz"]}
    # The strip has 1.2 left, the lawn everything: 0.6 sq ft thousands need 0.72 fl oz.
    request = job(
        YEARLY,
        had((200, 0, 206, 100), rate="2.2 fl oz/1000 sq ft"),
        property=place(lawn, strip),
        measures=measures,
        hand_tool=gun,
    )

    plan = planned(request)

    assert plan["refusals"] == []
    (of_hand,) = plan["parts"][1]["products"]
    # 0.8 would be nearer than 0.7 is in a lawn with room; here it is 1.33.
    assert of_hand["amount_to_measure"]["value"] == 0.7


def test_a_measure_that_is_too_coarse_for_the_room_says_so() -> None:
    request = job(YEARLY, had(WEST, EAST, rate="2.2 fl oz/1000 sq ft"))

    plan = planned(request | {"measures": {"liquid": ["7 fl oz"]}})

    (refusal,) = plan["refusals"]
    assert refusal["code"] == "measure_too_coarse"
    assert "what the ground may still get (1.2 fl oz/1000 sq ft)" in refusal["message"]


def test_a_limit_at_once_is_kept_without_any_past() -> None:
    limits = {"per_application": "1.1 fl oz/1000 sq ft"}

    plan = planned(asking(mix=[limited(limits)]))

    (refusal,) = plan["refusals"]
    assert refusal["code"] == "rate_above_application"
    assert "1.1 fl oz/1000 sq ft is the highest rate that keeps it" in refusal["message"]
    assert codes(plan, "warnings") == []
    allowed = planned(asking(mix=[limited(limits, rate="1.1 fl oz/1000 sq ft")]))
    assert allowed["refusals"] == []


INGREDIENT = {"name": "Invented-A", "content": "4 lb/gal", "per_year": "0.5 lb/acre"}
# 1.2 fl oz/1,000 sq ft are 52.272 fl oz/acre, with 4 lb in 128 fl oz 1.6335 lb/acre.


def test_an_ingredient_is_added_up_over_products() -> None:
    other = {"on": "2026-05-01", "product": "Other", "rate": "8 fl oz/acre", "where": ground(WEST)}
    content = {"active_ingredients": [{"name": "invented-a", "content": "2 lb/gal"}]}
    label = {"active_ingredients": [INGREDIENT | {"per_year": "1.7 lb/acre"}]}

    plan = planned(asking(mix=[limited({}, label=label)], history=[other | content], on=ON))

    (limit,) = plan["limits"]
    assert limit["substance"] == "Invented-A"
    # 8 fl oz of 2 lb/gal are 0.125 lb.
    received = sorted(face["received"]["value"] for face in limit["faces"])
    assert received == [0, pytest.approx(0.125)]
    (refusal,) = plan["refusals"]
    assert refusal["code"] == "rate_above_room"
    assert "of Invented-A are asked for" in refusal["message"]
    # (1.7 - 0.125) / 1.6335 of 1.2 is 1.157.
    assert "1.157 fl oz/1000 sq ft is the highest rate" in refusal["message"]


def two_with_one_ingredient(per_year: str) -> Json:
    ingredient = INGREDIENT | {"per_year": per_year}
    one = limited({}, label={"active_ingredients": [ingredient]})
    two = {
        "name": "Second",
        "rate": "32 fl oz/acre",
        "formulation": "SL",
        "label": {
            "rate_min": "10 fl oz/acre",
            "rate_max": "40 fl oz/acre",
            "active_ingredients": [{"name": "Invented-A", "content": "2 lb/gal"}],
        },
    }
    return asking(mix=[one, two], history=[], on=ON)


def test_two_products_of_a_mix_share_the_room_of_their_ingredient() -> None:
    plan = planned(two_with_one_ingredient("2 lb/acre"))

    # 1.6335 + 0.5 lb/acre against 2: both down to 93.74 %, 1.1249 and 29.997.
    assert codes(plan) == ["rate_above_room", "rate_above_room"]
    first, second = (refusal["message"] for refusal in plan["refusals"])
    assert "1.124 fl oz/1000 sq ft is the highest rate" in first
    assert "0.6886 fl oz/1000 sq ft is the highest rate" in second
    assert "below the label" not in first


def test_a_highest_rate_below_the_label_is_called_so() -> None:
    plan = planned(two_with_one_ingredient("1.4 lb/acre"))

    # 1.4 of 2.1335 lb/acre are 65.6 %, so 0.787 of 1.2, and the label begins at 1.
    assert "it is below the label’s lowest" in plan["refusals"][0]["message"]


def test_ground_without_room_for_the_lowest_rate_of_an_ingredient_is_closed() -> None:
    label = {"active_ingredients": [INGREDIENT]}

    plan = planned(asking(mix=[limited({}, label=label)], history=[], on=ON))

    # 0.5 lb/acre are 0.367 fl oz/1,000 sq ft, and the label begins at 1.
    assert codes(plan) == ["nothing_open"]


def test_no_ground_has_no_faces() -> None:
    house = area("house", "building", corners_of(-5, -5, 105, 55))
    lawn = area("lawn", "turf", corners_of(0, 0, 100, 50))

    plan = planned(job(YEARLY, had(WEST), property=place(lawn, house)))

    assert plan["faces"] == []
    assert codes(plan) == ["nothing_treatable"]


def test_of_two_tools_the_one_with_less_room_is_told() -> None:
    gun = {"kind": "hand_gun", "swath": "3 ft", "tanks": ["5 gal"], "output": "2 gal/1000 sq ft"}
    strip = area("strip", "turf", corners_of(200, 0, 206, 100), only="hand_tool")
    lawn = area("lawn", "turf", corners_of(0, 0, 100, 50))
    request = job(
        YEARLY,
        had((0, 0, 100, 50), rate="2.4 fl oz/1000 sq ft"),
        had((200, 0, 206, 100), rate="2.3 fl oz/1000 sq ft"),
        property=place(lawn, strip),
    )

    plan = planned(request | {"hand_tool": gun})

    (refusal,) = plan["refusals"]
    assert "1 fl oz/1000 sq ft is the highest rate that holds everywhere" in refusal["message"]


def test_a_rate_per_spray_is_held_to_what_the_ground_gets() -> None:
    wetter = {
        "name": "Wetter",
        "rate": "1 %",
        "formulation": "NIS",
        "label": {
            "rate_min": "0.5 %",
            "rate_max": "2 %",
            "limits": {"per_year": "2 fl oz/1000 sq ft"},
        },
    }
    past = {"on": "2026-05-01", "product": "Wetter", "rate": "0.8 fl oz/1000 sq ft"}

    plan = planned(asking(mix=[wetter], history=[past | {"where": ground(WEST)}], on=ON))

    # The machine puts down about 1 gal/1,000 sq ft, so 1 % is about 1.28 fl oz; 1.2 are left.
    (refusal,) = plan["refusals"]
    assert refusal["code"] == "rate_above_room"
    assert "% is the highest rate" in refusal["message"]


def test_a_spreader_is_held_to_what_it_really_puts_down() -> None:
    feed = RUSHMERE["mix"][0]
    lawn = area("", "turf", corners_of(0, 0, 70, 35), unit_m=1)["geometry"]

    def after(rate: str) -> Any:
        label = {"limits": {"per_year": "40 g/m2"}}
        past = {"on": "2026-05-01", "product": feed["name"], "rate": rate, "where": lawn}
        return planned(RUSHMERE | {"mix": [feed | {"label": label}], "history": [past]})

    # Asked for are 20 g/m², the third catch test gives 20.2.
    assert codes(after("19.8 g/m2")) == []
    (refusal,) = after("19.9 g/m2")["refusals"]
    assert refusal["code"] == "rate_above_room"
    assert "20.2 g/m2 are asked for" in refusal["message"]
    assert "20.1 g/m2 is the highest rate" in refusal["message"]


# --- What nobody knows


def test_a_past_that_nobody_told_is_not_an_empty_one() -> None:
    request = asking(mix=[limited(YEARLY)], on=ON)

    unknown, empty = planned(request), planned(request | {"history": []})

    assert (codes(unknown, "warnings"), codes(empty, "warnings")) == (["history_unknown"], [])
    assert (unknown["history_known"], empty["history_known"]) == (False, True)
    (nobody_knows,), (nothing,) = (plan["limits"][0]["faces"] for plan in (unknown, empty))
    for name in ("received", "room", "uses", "last_on", "received_after", "room_after"):
        assert nobody_knows[name] is None
    assert (nothing["received"]["value"], nothing["uses"]) == (0, 0)
    assert nothing["room"]["value"] == pytest.approx(3.4)
    assert not [f for f in unknown["working"] if f["figure"] == "limits[0].faces[0].received"]


@pytest.mark.parametrize(
    ("since", "told"),
    [
        ("2026-01-01", []),
        ("2025-06-01", []),
        ("2026-01-02", ["history_incomplete"]),
    ],
)
def test_a_past_that_is_known_in_part_is_warned_of(since: str, told: list[str]) -> None:
    request = asking(mix=[limited(YEARLY)], on=ON, history=[], history_since=since)

    plan = planned(request)

    assert codes(plan, "warnings") == told
    if told:
        assert "the label counts from January 1, 2026" in plan["warnings"][0]["message"]


def test_a_past_content_that_nobody_told_is_warned_of() -> None:
    other = {"on": "2026-05-01", "product": "Other", "rate": "8 fl oz/acre", "where": ground(WEST)}
    label = {"active_ingredients": [INGREDIENT | {"per_year": "3 lb/acre"}]}

    plan = planned(asking(mix=[limited({}, label=label)], history=[other], on=ON))

    assert codes(plan, "warnings") == ["history_content_unknown"]
    assert "whether Other contained Invented-A" in plan["warnings"][0]["message"]
    (limit,) = plan["limits"]
    west = next(face for face in limit["faces"] if face["uses"])
    assert (west["received"], west["room"], west["received_after"]) == (None, None, None)
    assert west["added"]["value"] > 0
    nothing = planned(
        asking(mix=[limited({}, label=label)], history=[other | {"active_ingredients": []}], on=ON)
    )
    assert nothing["warnings"] == []


def test_a_blackout_of_a_substance_needs_to_know_what_is_in_the_product() -> None:
    rule = {"substance": "N", "from": "06-01", "to": "09-30", "source": "invented county"}

    unknown = planned(asking(blackouts=[rule], on=ON))
    known = planned(
        asking(mix=[limited({}, label={"active_ingredients": []})], blackouts=[rule], on=ON)
    )

    assert codes(unknown, "warnings") == ["blackout_unchecked"]
    assert known["warnings"] == []
    assert planned(asking(blackouts=[rule], on="2026-05-31"))["warnings"] == []


def test_sown_ground_with_a_silent_label_is_warned_of() -> None:
    seeding = {"on": "2026-06-01", "where": ground(WEST)}

    plan = planned(asking(seedings=[seeding], on=ON))

    assert codes(plan, "warnings") == ["seeding_wait_unknown"]
    assert plan["closed_area"]["value"] == 0
    long_ago = planned(asking(seedings=[seeding | {"on": "2024-06-01"}], on=ON))
    assert long_ago["warnings"] == []
    ahead = planned(asking(seedings=[seeding | {"on": "2026-08-01"}], on=ON))
    assert codes(ahead, "warnings") == ["seeding_wait_unknown"]


# --- A tank that is mixed already


def test_a_tank_too_strong_for_the_fullest_corner_is_refused() -> None:
    request = job(YEARLY, had(WEST, rate="2.2 fl oz/1000 sq ft"))
    # 6 gal at 1 gal/1,000 sq ft: 7.8 fl oz are 1.3 per 1,000, and 1.2 are left in the west.
    tank = {"spray": "6 gal", "products": {PRODUCT: "7.8 fl oz"}}

    plan = planned(request | {"tank_now": tank})

    assert codes(plan) == ["tank_above_room"]
    assert plan["surplus"]["products"][0]["allowed"] is False
    weaker = tank | {"products": {PRODUCT: "7.1 fl oz"}}
    assert codes(planned(request | {"tank_now": weaker})) == []


def test_outlines_that_cannot_be_told_apart_are_a_fault_of_the_history(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    # No grid of five metres can hold a lawn of 30.48 by 15.24.
    monkeypatch.setattr(faces, "_GRIDS_M", (5.0,))

    with pytest.raises(FaultsFound) as found:
        planned(job(YEARLY, had(WEST)))

    assert [fault.field for fault in found.value.faults] == ["history"]


# --- Against a count of points

SIDES = st.integers(0, 50).map(lambda steps: steps * 2.0)
BOXES = st.tuples(SIDES, SIDES, SIDES, SIDES).map(
    lambda box: (min(box[0], box[2]), min(box[1], box[3]) / 2 - 1, max(box[0], box[2]) + 2, 50.0)
)
RATES = st.integers(1, 30).map(lambda tenths: tenths / 10)
DAYS = st.integers(0, 500).map(
    lambda number: date.fromordinal(date(2025, 2, 20).toordinal() + number)
)
PASTS = st.lists(st.tuples(BOXES, RATES, DAYS), max_size=5)
Past = list[tuple[tuple[float, float, float, float], float, date]]


def told(past: Past) -> list[Json]:
    return [
        had(box, on=day.isoformat(), rate=f"{rate} fl oz/1000 sq ft") for box, rate, day in past
    ]


def spots() -> list[tuple[float, float]]:
    """The middles of squares of 2 ft: no outline runs through one."""
    return [(x + 0.55, y + 0.45) for x in range(0, 100, 4) for y in range(0, 50, 5)]


@settings(max_examples=25)
@given(past=PASTS, rate=st.sampled_from(["1.0", "1.2", "1.5"]), mark=st.sampled_from([1.0, 0.3]))
def test_no_spot_that_is_sprayed_passes_its_limit_or_its_interval(
    past: Past, rate: str, mark: float
) -> None:
    limits = {"per_year": "3.4 fl oz/1000 sq ft", "interval": "30 days"}
    request = job(limits, *told(past), measures={"liquid": [f"{mark} fl oz"]})
    request["mix"][0]["rate"] = f"{rate} fl oz/1000 sq ft"

    plan = planned(request)

    if plan["refusals"]:
        return
    given_now = max(
        portion["rate_after_rounding"]["value"]
        for load in plan["loads"]
        for portion in load["products"]
    )
    treatable = shapely.geometry.shape(plan["treatable"])
    on = date.fromisoformat(ON)
    for x, y in spots():
        mine = [
            (rate_there, day)
            for (west, south, east, north), rate_there, day in past
            if west < x < east and south < y < north
        ]
        this_year = sum(rate_there for rate_there, day in mine if day.year == 2026)
        is_open = all((on - day).days >= 30 for _, day in mine)
        sprayed = treatable.contains(in_degrees((x, y)))
        assert sprayed == (is_open and 3.4 - this_year >= 1.0 - 1e-9)
        if sprayed:
            assert this_year + given_now <= 3.4 * (1 + 1e-9)


@settings(max_examples=15)
@given(past=PASTS, split=st.integers(1, 49).map(lambda steps: steps * 1.0 + 0.5))
def test_a_past_shape_drawn_in_two_halves_changes_nothing(past: Past, split: float) -> None:
    limits = {"per_year": "3.4 fl oz/1000 sq ft", "interval": "30 days", "uses_per_year": 3}
    whole = told(past)
    halves = []
    for box, rate, day in past:
        west, south, east, north = box
        cuts = [(west, south, min(split, east), north), (max(split, west), south, east, north)]
        halves += told([(half, rate, day) for half in cuts if half[2] > half[0]])

    one, other = planned(job(limits, *whole)), planned(job(limits, *halves))

    assert one["closed_area"]["value"] == pytest.approx(other["closed_area"]["value"], abs=1e-2)
    assert codes(one) == codes(other)
    assert one["products"][0]["amount_to_measure"] == other["products"][0]["amount_to_measure"]


@settings(max_examples=15)
@given(past=PASTS, seed=st.randoms(use_true_random=False))
def test_the_order_in_which_the_past_is_told_does_not_matter(past: Past, seed: Any) -> None:
    limits = {"per_year": "3.4 fl oz/1000 sq ft", "uses_per_year": 2}
    shuffled = list(past)
    seed.shuffle(shuffled)

    one, other = planned(job(limits, *told(past))), planned(job(limits, *told(shuffled)))

    def of_faces(plan: Any) -> list[Any]:
        (limit,) = plan["limits"]
        rooms = [round(standing["room"]["value"], 9) for standing in limit["faces"]]
        areas = [round(face["area"]["value"], 2) for face in plan["faces"]]
        return sorted(zip(areas, rooms, strict=True))

    assert of_faces(one) == of_faces(other)
    assert one["refusals"] == other["refusals"]
