"""What readings at every lawn point to."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.core.day.gauge import Cause, StopUse, diagnosed


def uses(*shares: float) -> list[StopUse]:
    return [StopUse(stop, 20 * share, 20) for stop, share in enumerate(shares)]


@pytest.mark.parametrize(
    ("shares", "cause", "stop"),
    [
        ((1.0, 0.98, 1.03, 1.0), Cause.AS_PLANNED, None),
        ((0.93, 0.92, 0.94, 0.93), Cause.CALIBRATION, None),
        ((1.08, 1.09, 1.07), Cause.CALIBRATION, None),
        ((1.0, 0.80, 1.01, 0.99), Cause.AREA, 1),
        ((1.0, 1.0, 1.2), Cause.AREA, 2),
        ((0.99, 0.95, 0.91, 0.87), Cause.GROWING, None),
        ((1.0, 1.06, 1.12), Cause.GROWING, None),
        ((0.8, 1.2, 1.0, 0.7), Cause.UNCLEAR, None),
        ((0.9, 0.6, 0.9, 0.91), Cause.UNCLEAR, None),
        ((0.8, 1.0), Cause.UNCLEAR, None),
        ((1.0, 0.0, 0.0), Cause.UNCLEAR, None),
        ((1.0, -0.5, 1.0), Cause.UNCLEAR, None),
        ((0.95,), Cause.AS_PLANNED, None),
    ],
)
def test_the_cause_is_what_explains_all_lawns(
    shares: tuple[float, ...], cause: Cause, stop: int | None
) -> None:
    found = diagnosed(uses(*shares))

    assert (found.cause, found.stop) == (cause, stop)


@given(share=st.floats(0.5, 1.5).filter(lambda share: abs(share - 1) > 0.051))
def test_an_equal_shortfall_everywhere_is_the_machine(share: float) -> None:
    assert diagnosed(uses(*[share] * 5)).cause is Cause.CALIBRATION


@given(share=st.floats(0.3, 2).filter(lambda share: abs(share - 1) > 0.06), stop=st.integers(0, 5))
def test_a_single_lawn_that_is_off_is_named(share: float, stop: int) -> None:
    shares = [1.0] * 6
    shares[stop] = share

    found = diagnosed(uses(*shares))

    assert (found.cause, found.stop) == (Cause.AREA, stop)
