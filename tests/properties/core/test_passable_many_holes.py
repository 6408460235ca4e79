"""Where a swath fits between very many beds, against the plain shrinking of the whole ground."""

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry.base import BaseGeometry

from properties.core import passable
from properties.core.passable import split_by_swath


def dotted(count: int, *, apart_m: float, radius_m: float) -> BaseGeometry:
    """Two lawns side by side, the first with a square of round beds."""
    beds = [
        shapely.Point(apart_m * (1 + east), apart_m * (1 + north)).buffer(radius_m)
        for east in range(count)
        for north in range(count)
    ]
    side_m = apart_m * (count + 1)
    first = shapely.box(0, 0, side_m, side_m).difference(shapely.union_all(beds))
    return first.union(shapely.box(side_m + 5, 0, side_m + 9, 30))


@settings(max_examples=20)
@given(apart_m=st.floats(1.2, 6), swath_m=st.floats(0.5, 3))
def test_very_many_beds_are_gone_round_as_few_are(apart_m: float, swath_m: float) -> None:
    lawn = dotted(11, apart_m=apart_m, radius_m=0.5)
    machine, hand = split_by_swath(lawn, swath_m=swath_m)

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(passable, "_MANY_HOLES", 1000)
        plain, by_hand = split_by_swath(lawn, swath_m=swath_m)

    # Both draw an arc with 16 edges a quarter, and not with the same corners: 0.5 % of a
    # radius along the rims of 121 beds, at most.
    slack_m2 = 121 * 2 * 3.1416 * (0.5 + swath_m / 2) * 0.005 * swath_m / 2
    assert machine.area == pytest.approx(plain.area, abs=slack_m2)
    assert machine.area + hand.area == pytest.approx(lawn.area, rel=1e-9)
    assert by_hand.area == pytest.approx(hand.area, abs=slack_m2)


def test_between_two_thousand_beds_no_machine_fits_and_beside_them_it_does() -> None:
    machine, hand = split_by_swath(dotted(45, apart_m=1.5, radius_m=0.5), swath_m=2)

    assert machine.area == pytest.approx(4 * 30, rel=1e-9)
    assert hand.area > 45 * 45
