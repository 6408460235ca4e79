"""Ground that is closed on the day is taken out with its reason, and every bit is told."""

import numpy as np
import pytest

from tests.planner.core.asking import HERBICIDE, area, asking, corners_of, place
from tests.planner.core.limits.asking import (
    EAST,
    EVERY_30_DAYS,
    ON,
    PRODUCT,
    WEST,
    codes,
    ground,
    had,
    job,
    planned,
)
from tests.planner.core.scenarios import LARKFOOT


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


def test_where_all_is_closed_nothing_is_mixed_for_the_slivers_beside_a_bed() -> None:
    rule = {"product": PRODUCT, "from": "06-01", "to": "09-30", "source": "invented county"}
    beds = [
        area(
            f"bed {n}",
            "flower_bed",
            [(x, y), (x + 3.3, y + 0.7), (x + 2.9, y + 4.1), (x - 0.6, y + 2.7)],
            setback="3 ft",
        )
        for n, (x, y) in enumerate([(2.1, 1.3), (8.7, 5.9), (14.3, 2.2), (21.9, 8.1), (26.2, 3.7)])
    ]
    lawn = area("lawn", "turf", corners_of(0, 0, 100, 50))
    tanks = {"tanks": ["25 gal"], "unsprayable": ["0.5 gal"]}
    request = asking(blackouts=[rule], on=ON, property=place(lawn, *beds))

    plan = planned(request | {"machine": request["machine"] | tanks})

    assert codes(plan) == ["nothing_open"]
    assert plan["treatable_area"]["value"] == 0
    assert plan["loads"] == []
    assert "mixed_volume" not in plan


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
