"""Larkfoot Commons, worked out by hand: 3.4 a year, 30 days, three different pasts."""

from typing import Any

import pytest

from tests.planner.core.asking import place
from tests.planner.core.limits.asking import (
    codes,
    planned,
)
from tests.planner.core.scenarios import LARKFOOT, at_rate


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
