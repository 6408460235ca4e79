"""A plan from text alone, with the example distances that ship."""

import json

from planner.selectors.typed_plans import example_rules, plan_of_text
from properties.core.features import KINDS, Role
from tests.planner.core.asking import LAWN, area, asking, corners_of, place

POND = area("pond", "pond", corners_of(0, 50, 100, 60))


def test_there_is_an_example_for_every_protected_kind_and_each_says_so() -> None:
    claims = example_rules().setback_defaults

    assert set(claims) == {kind.token for kind in KINDS.values() if kind.role is Role.PROTECTED}
    assert all(claim.distance.si > 0 for claim in claims.values())
    assert all("to be checked locally" in claim.reason for claim in claims.values())


def test_an_example_distance_is_used_with_a_warning() -> None:
    plan = plan_of_text(json.dumps(asking(property=place(LAWN, POND), passes=False)))

    assert [warning["code"] for warning in plan["warnings"]] == ["setback_default"]
    assert "to be checked locally" in plan["warnings"][0]["message"]
    (zone,) = plan["no_spray"]["features"]
    assert zone["properties"]["distance"] == {"value": 25, "unit": "ft"}


def test_an_example_distance_is_the_same_ground_in_metric_units() -> None:
    us, metric = (
        plan_of_text(json.dumps(asking(property=place(LAWN, POND), units=units)))
        for units in ("us", "metric")
    )

    assert us["treatable"] == metric["treatable"]
