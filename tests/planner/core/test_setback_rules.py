"""No-spray rules by kind, method and day: which holds, which wins, and what is told."""

from datetime import date
from typing import Any

import pytest

from planner.core.plan import Plan, plan_from_json
from planner.core.report import plan_as_json
from planner.core.setback_rules import SetbackRule
from properties.core.errors import FaultsFound
from properties.core.units import Quantity, quantity_of_si
from tests.planner.core.asking import (
    HERBICIDE,
    LAWN,
    MACHINE,
    area,
    asking,
    codes,
    corners_of,
    place,
)

# The plane of the test differs from a plane of true areas by parts in a million.
PLACED = 2e-5

POND = area("pond", "pond", corners_of(0, 50, 100, 60))


def rule(distance: str, **more: Any) -> Any:
    return {"kind": "pond", "distance": distance, "source": "rules of Invented Turf", **more}


def planned(*rules: Any, pond: Any = POND, **changes: Any) -> Plan:
    return plan_from_json(asking(property=place(LAWN, pond), setback_rules=list(rules), **changes))


def distance_ft(plan: Plan) -> float:
    (kept,) = plan.ground.kept_from
    return quantity_of_si(kept.setback.distance_m, "ft").value


def treatable_sq_ft(plan: Plan) -> float:
    return quantity_of_si(plan.ground.treatment.treatable_area_m2, "sq ft").value


def faults_of(*rules: Any, **changes: Any) -> dict[str, str]:
    with pytest.raises(FaultsFound) as found:
        planned(*rules, **changes)
    return {fault.field: str(fault) for fault in found.value.faults}


def test_a_rule_is_kept_and_its_source_is_named() -> None:
    plan = planned(rule("10 ft", place="Fenwick Hollow"))

    (kept,) = plan.ground.kept_from
    assert kept.setback.reason == "rules of Invented Turf (Fenwick Hollow): 10 ft from a pond"
    # 100 by 50 ft less a strip of 10 ft along the pond.
    assert treatable_sq_ft(plan) == pytest.approx(100 * 40, rel=PLACED)
    assert codes(plan.warnings) == []


@pytest.mark.parametrize(
    ("kind", "expected"), [("boom_sprayer", 25), ("hand_gun", 10), ("backpack_sprayer", 12)]
)
def test_a_rule_holds_for_its_own_method_and_the_strictest_wins(kind: str, expected: int) -> None:
    plan = planned(
        rule("10 ft"),
        rule("25 ft", method="boom"),
        rule("12 ft", method="backpack"),
        rule("99 ft", method="granular_open"),
        machine=MACHINE | {"kind": kind},
    )

    assert distance_ft(plan) == pytest.approx(expected, rel=1e-12)


@pytest.mark.parametrize(
    ("own", "label", "expected", "words"),
    [
        ("5 ft", "8 ft", 10, "rules of Invented Turf: 10 ft from a pond with a boom"),
        ("20 ft", "8 ft", 20, "set on this feature"),
        ("5 ft", "30 ft", 30, "label of Invented herbicide: 30 ft from a pond"),
        # Of equals the label is named before the feature, and the feature before a rule.
        ("10 ft", "10 ft", 10, "label of Invented herbicide: 10 ft from a pond"),
    ],
)
def test_rules_compete_with_the_label_and_the_feature(
    own: str, label: str, expected: int, words: str
) -> None:
    herbicide = HERBICIDE | {"label": HERBICIDE["label"] | {"setbacks": {"pond": label}}}
    plan = planned(
        rule("10 ft", method="boom"),
        pond=area("pond", "pond", corners_of(0, 50, 100, 60), setback=own),
        mix=[herbicide],
        setback_defaults={"pond": "90 ft"},
    )

    (kept,) = plan.ground.kept_from
    assert distance_ft(plan) == pytest.approx(expected, rel=1e-12)
    assert kept.setback.reason == words


def test_every_claim_stands_in_the_working() -> None:
    plan = plan_as_json(planned(rule("10 ft"), rule("3 m", source="an invented by-law")))

    (entry,) = [each for each in plan["working"] if each["figure"].startswith("no_spray.features")]
    assert entry["formula"] == "max(distance 1, distance 2)"
    assert "distance 2 is an invented by-law: 3 m from a pond" in entry["name"]


@pytest.mark.parametrize(
    ("on", "expected"),
    [("2026-03-31", 5), ("2026-04-01", 20), ("2026-06-30", 20), ("2026-07-01", 5)],
)
def test_a_rule_with_days_holds_from_its_first_to_its_last(on: str, expected: int) -> None:
    plan = planned(rule("5 ft"), rule("20 ft", **{"from": "2026-04-01", "to": "2026-06-30"}), on=on)

    assert distance_ft(plan) == pytest.approx(expected, rel=1e-12)


def test_without_a_day_only_rules_without_days_hold() -> None:
    dated = SetbackRule("pond", Quantity(1, "ft"), "invented", last_day=date(2026, 4, 1))
    undated = SetbackRule("pond", Quantity(1, "ft"), "invented")

    assert (dated.holds_on(None), undated.holds_on(None)) == (False, True)


def test_a_rule_stands_before_a_default_and_a_default_for_want_of_one() -> None:
    defaults = {"setback_defaults": {"pond": "15 ft"}}

    with_rule = planned(rule("4 ft"), **defaults)
    of_another_method = planned(rule("4 ft", method="hand_gun"), **defaults)

    assert distance_ft(with_rule) == pytest.approx(4)
    assert codes(with_rule.warnings) == []
    assert distance_ft(of_another_method) == pytest.approx(15)
    assert codes(of_another_method.warnings) == ["setback_default"]


def test_an_example_warns_only_where_it_decides() -> None:
    deciding = planned(rule("10 ft", example=True), rule("5 ft"))
    beaten = planned(rule("10 ft", example=True), rule("15 ft"))

    (warning,) = deciding.warnings
    assert (warning.code, warning.feature) == ("setback_example", "pond")
    assert "Check locally" in warning.message
    assert beaten.warnings == ()


def test_a_downwind_example_warns_too() -> None:
    plan = planned(rule("5 ft"), rule("1 ft", downwind="20 ft", example=True))

    assert "setback_example" in codes(plan.warnings)


@pytest.mark.parametrize(
    ("setbacks", "kind", "expected"),
    [
        ({"distance": "25 ft"}, "boom_sprayer", 25),
        ({"distance": "25 ft", "hand_gun": "10 ft"}, "hand_gun", 10),
        ({"distance": "25 ft", "hand_gun": "10 ft"}, "boom_sprayer", 25),
        ({"boom": "30 ft"}, "boom_sprayer", 30),
    ],
)
def test_a_label_may_give_a_method_its_own_distance(
    setbacks: dict[str, str], kind: str, expected: int
) -> None:
    herbicide = HERBICIDE | {"label": HERBICIDE["label"] | {"setbacks": {"pond": setbacks}}}

    plan = planned(mix=[herbicide], machine=MACHINE | {"kind": kind})

    assert distance_ft(plan) == pytest.approx(expected, rel=1e-12)


def test_a_label_that_names_another_method_only_is_silent_for_this_one() -> None:
    herbicide = HERBICIDE | {
        "label": HERBICIDE["label"] | {"setbacks": {"pond": {"boom": "30 ft"}}}
    }

    plan = planned(mix=[herbicide], machine=MACHINE | {"kind": "hand_gun"})

    assert codes(plan.refusals) == ["setback_unknown"]


@pytest.mark.parametrize(
    ("members", "where", "words"),
    [
        ({"kind": "patio"}, "kind", "not a protected feature"),
        ({"kind": "lake"}, "kind", "Use one of"),
        ({"kind": None}, "kind", "Use one of"),
        ({"method": "drone"}, "method", "Write one of: boom, hand_gun"),
        ({"distance": "-1 ft"}, "distance", "below zero"),
        ({"downwind": "-1 ft"}, "downwind", "below zero"),
        ({"source": ""}, "source", "not a name"),
        ({"from": "2026-02-30"}, "from", "not a day"),
        ({"to": "20260401"}, "to", "not a day"),
        ({"to": 2026}, "to", "not a day"),
        ({"from": "2026-06-01", "to": "2026-05-01"}, "to", "ends on 2026-05-01"),
        ({"example": "yes"}, "example", "Write true or false"),
        ({"place": ""}, "place", "not a name"),
        ({"speed": "1 mph"}, "speed", "not part of a plan request"),
    ],
)
def test_a_slip_in_a_rule_is_told_at_its_member(members: Any, where: str, words: str) -> None:
    faults = faults_of(rule("5 ft") | members, on="2026-05-20")

    assert list(faults) == [f"setback_rules[0].{where}"]
    assert words in faults[f"setback_rules[0].{where}"]


def test_what_a_rule_must_have_is_told_together() -> None:
    assert set(faults_of({}, "strict")) == {
        "setback_rules[0].kind",
        "setback_rules[0].distance",
        "setback_rules[0].source",
        "setback_rules[1]",
    }


@pytest.mark.parametrize(
    ("days", "where"), [({"from": "2026-04-01"}, "from"), ({"to": "2026-04-01"}, "to")]
)
def test_a_rule_with_days_needs_the_day_of_the_work(days: dict[str, str], where: str) -> None:
    faults = faults_of(rule("5 ft", **days))

    assert list(faults) == [f"setback_rules[0].{where}"]
    assert "does not say on which day" in faults[f"setback_rules[0].{where}"]


def test_a_day_that_cannot_be_read_is_the_only_fault() -> None:
    assert list(faults_of(rule("5 ft", to="2026-04-01"), on="tomorrow")) == ["on"]


@pytest.mark.parametrize(
    ("asked", "where", "words"),
    [
        ({}, "", "No distance is given"),
        ({"boom": "-1 ft"}, ".boom", "below zero"),
        ({"drone": "1 ft"}, ".drone", "not part of a plan request"),
        (5, "", "has no unit"),
    ],
)
def test_a_slip_in_a_label_s_distances_is_told(asked: Any, where: str, words: str) -> None:
    herbicide = HERBICIDE | {"label": HERBICIDE["label"] | {"setbacks": {"pond": asked}}}

    faults = faults_of(mix=[herbicide])

    assert words in faults[f"mix[0].label.setbacks.pond{where}"]
