"""How well the mean of a few readings is known, against tables in print."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.core.calibration.spread import (
    StandardError,
    joined,
    standard_error_of,
    t_of_95_percent,
)

# NIST/SEMATECH e-Handbook of Statistical Methods, section 1.3.6.7.2: upper 0.975 of Student's t.
NIST_T = [
    (1, 12.706), (2, 4.303), (3, 3.182), (4, 2.776), (5, 2.571), (6, 2.447), (7, 2.365),
    (8, 2.306), (9, 2.262), (10, 2.228), (15, 2.131), (20, 2.086), (30, 2.042), (60, 2.000),
    (100, 1.984),
]  # fmt: skip


@pytest.mark.parametrize(("freedom", "t"), NIST_T)
def test_students_t_is_the_one_of_the_table(freedom: int, t: float) -> None:
    assert t_of_95_percent(freedom) == t


def test_the_mean_of_three_runs_is_known_to_t_standard_errors() -> None:
    error = standard_error_of([0.72, 0.70, 0.71])

    # By hand: s = 0.01, the mean 0.71, over the root of three; t of 2 degrees is 4.303.
    assert error.freedom == 2
    assert error.share == pytest.approx(0.01 / 0.71 / math.sqrt(3), rel=1e-9)
    assert error.half_width == pytest.approx(4.303 * 0.01 / 0.71 / math.sqrt(3), rel=1e-9)


def test_readings_that_are_all_the_same_have_no_spread() -> None:
    same = standard_error_of([2.0, 2.0, 2.0])

    assert joined([same, same]) == StandardError(0.0, 2)


def test_the_degrees_of_two_equal_errors_add() -> None:
    # Welch and Satterthwaite: (2 s²)² / (s⁴/4 + s⁴/4) = 8.
    joint = joined([StandardError(0.01, 4), StandardError(0.01, 4)])

    assert joint.freedom == 8
    assert joint.share == pytest.approx(0.01 * math.sqrt(2))


@given(
    shares=st.lists(st.floats(1e-6, 0.5), min_size=1, max_size=5),
    freedom=st.integers(1, 50),
)
def test_joined_errors_are_no_smaller_than_the_largest(shares: list[float], freedom: int) -> None:
    joint = joined([StandardError(share, freedom) for share in shares])

    assert joint.share >= max(shares) * (1 - 1e-12)
    assert freedom <= joint.freedom <= freedom * len(shares)


@pytest.mark.parametrize("runs", [3, 4, 6])
def test_the_band_holds_the_true_mean_95_times_in_100(runs: int) -> None:
    chance = np.random.default_rng(runs)
    trials = 4_000
    held = 0
    for _ in range(trials):
        readings = chance.normal(1.0, 0.03, runs).tolist()
        mean = math.fsum(readings) / runs
        held += abs(1.0 - mean) <= standard_error_of(readings).half_width * mean

    # Three standard deviations of a count of 4,000 with a chance of 0.95 are 1.03 %.
    assert held / trials == pytest.approx(0.95, abs=0.0104)
