"""What nobody told of a past is warned of, and is not nothing."""

import pytest

from properties.core.errors import FaultsFound
from properties.core.ledger import faces
from tests.planner.core.asking import asking
from tests.planner.core.limits.asking import (
    INGREDIENT,
    ON,
    WEST,
    YEARLY,
    codes,
    ground,
    had,
    job,
    limited,
    planned,
)


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


def test_outlines_that_cannot_be_told_apart_are_a_fault_of_the_history(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    # No grid of five metres can hold a lawn of 30.48 by 15.24.
    monkeypatch.setattr(faces, "_GRIDS_M", (5.0,))

    with pytest.raises(FaultsFound) as found:
        planned(job(YEARLY, had(WEST)))

    assert [fault.field for fault in found.value.faults] == ["history"]
