"""What jobs need together, and how wide the band is."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.core.calibration.spread import StandardError
from planner.core.stock.needs import Need, total_of
from tests.planner.core.stock.seasons import MAY_1

WELL_KNOWN = 10_000  # degrees of freedom, where t is 1.96


def _need(amount: float, ground: str, share: float, *, pace: float = 0.0) -> Need:
    return Need(
        MAY_1,
        amount,
        {ground: amount * share},
        {"hand gun": StandardError(amount * pace, WELL_KNOWN)} if pace else {},
    )


def test_two_lawns_drawn_apart_add_by_their_squares() -> None:
    total = total_of([_need(10, "front", 0.03), _need(10, "back", 0.04)])

    assert total.amount == 20
    assert total.half_width == pytest.approx(1.96 * 0.5, rel=1e-3)


def test_one_lawn_in_two_rounds_adds_straight() -> None:
    total = total_of([_need(10, "front", 0.03), _need(10, "front", 0.03)])

    assert total.half_width == pytest.approx(1.96 * 0.6, rel=1e-3)


def test_a_shared_calibration_adds_straight_over_a_hundred_lawns() -> None:
    lawns = [_need(1.0, f"lawn {n}", 0.05, pace=0.03) for n in range(100)]

    # 100 × 3 % of the pace stand against only √100 × 5 % of the outlines.
    assert total_of(lawns).half_width == pytest.approx(1.96 * math.hypot(3.0, 0.5), rel=1e-3)


def test_few_runs_of_a_calibration_widen_the_band() -> None:
    by_three_runs = Need(MAY_1, 10, {}, {"boom": StandardError(0.2, 2)})

    # Student’s t of 95 % for two degrees of freedom is 4.303 (NIST/SEMATECH e-Handbook of
    # Statistical Methods, 1.3.6.7.2, column 0.975).
    assert total_of([by_three_runs]).half_width == pytest.approx(4.303 * 0.2, rel=1e-3)


def test_a_job_without_a_range_is_counted_and_told() -> None:
    total = total_of([Need(MAY_1, 4.0, has_range=False), Need(MAY_1, 6.0)])

    assert (total.amount, total.half_width, total.without_range) == (10.0, 0.0, 1)
    assert total.highest == 10.0


def test_no_job_needs_nothing() -> None:
    assert (total_of([]).jobs, total_of([]).amount, total_of([]).highest) == (0, 0.0, 0.0)


def test_the_band_never_reaches_below_nothing() -> None:
    assert total_of([_need(1.0, "scrap", 0.9)]).lowest == 0.0


def test_the_band_holds_95_of_100_drawn_seasons() -> None:
    # Twelve lawns in three rounds with one boom: each drawing and the boom are off once for
    # the whole season. Both are drawn anew 20,000 times; the share that lies within the band
    # has a standard error of 0.15 %.
    rng = np.random.default_rng(20260501)
    amounts = rng.uniform(0.5, 4.0, size=12)
    drawn, boom = 0.06, 0.025
    rounds = [
        _need(float(amount), f"lawn {n}", drawn, pace=boom)
        for _ in range(3)
        for n, amount in enumerate(amounts)
    ]

    total = total_of(rounds)
    areas = 1 + drawn * rng.standard_normal((20_000, 12))
    pace = boom * rng.standard_normal((20_000, 1))
    seasons = 3 * (amounts * (areas + pace)).sum(axis=1)
    held = np.mean(np.abs(seasons - total.amount) <= total.half_width)

    assert held == pytest.approx(0.95, abs=0.006)


needs = st.lists(
    st.builds(
        _need,
        st.integers(1, 9_000).map(lambda ml: ml / 1000),
        st.sampled_from(["front", "back", "verge"]),
        st.sampled_from([0.0, 0.02, 0.2]),
        pace=st.sampled_from([0.0, 0.01, 0.1]),
    ),
    max_size=12,
)


@given(jobs=needs)
def test_the_band_is_no_wider_than_if_all_errors_went_the_same_way(jobs: list[Need]) -> None:
    straight = math.fsum(
        sum(job.by_ground.values()) + sum(error.share for error in job.by_output.values())
        for job in jobs
    )

    assert total_of(jobs).half_width <= 1.9605 * straight + 1e-12


@given(jobs=needs)
def test_one_more_job_never_makes_the_need_smaller(jobs: list[Need]) -> None:
    ends = [total_of(jobs[:count]).highest for count in range(len(jobs) + 1)]

    assert ends == sorted(ends)
