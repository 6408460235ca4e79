"""Limits by place against a count of points, and what must not change them."""

from datetime import date
from typing import Any

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.planner.core.asking import Json
from tests.planner.core.limits.asking import (
    ON,
    codes,
    had,
    in_degrees,
    job,
    planned,
)

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
