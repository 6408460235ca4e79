"""Which sides to measure again, against every choice there is and by hand."""

from collections.abc import Callable, Sequence
from itertools import chain, combinations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely import LineString, Polygon, box

from properties.core.accuracy import Measured, Position, treatable_spread
from properties.core.errors import Refused
from properties.core.fewest import fewest_reaching
from properties.core.remeasuring import edge_gains, halving_edges

#: Worked by hand: each corner adds s²/4 (100² + 80²) = 4,100, the lawn 16,400; unit square ft.
LAWN = Measured("lawn", box(0, 0, 100, 80), Position(sigma_m=1))


def test_a_side_brings_what_its_two_corners_add() -> None:
    gains = edge_gains([LAWN], [], sigma_better_m=0.5)

    # Half the error leaves a quarter of the variance.
    assert [gain.side is None for gain in gains] == [True, False, False, False, False]
    assert gains[0].variance_fall_m4 == pytest.approx(0.75 * 16_400)
    assert [gain.variance_fall_m4 for gain in gains[1:]] == pytest.approx([0.75 * 8_200] * 4)
    assert gains[0].half_width_after_m2 == pytest.approx(1.96 * (16_400 / 4) ** 0.5)
    drawn = {frozenset(gain.side.coords) for gain in gains if gain.side is not None}
    assert frozenset({(0.0, 0.0), (100.0, 0.0)}) in drawn
    assert len(drawn) == 4


def test_the_largest_gain_comes_first_and_a_shape_counts_by_its_border_inside() -> None:
    pond = Measured("pond", box(20, 20, 40, 40), Position(sigma_m=8))
    drive = Measured("drive", box(90, 10, 110, 30), Position(sigma_m=1))

    gains = edge_gains([LAWN], [pond, drive], sigma_better_m=0.5)

    falls = [gain.variance_fall_m4 for gain in gains]
    assert falls == sorted(falls, reverse=True)
    assert gains[0].ref == "pond"
    # s² (a² + b²), by hand; from 8 to a half is all but 1/256. Half of the drive is inside.
    assert gains[0].variance_fall_m4 == pytest.approx(64 * 800 * (1 - 1 / 256))
    assert gains[-1].ref == "drive"
    assert gains[-1].variance_fall_m4 == pytest.approx(0.5 * 800 * 0.75)


def test_measuring_again_no_better_brings_nothing() -> None:
    perfect = Measured("patio", box(5, 5, 9, 9), Position(sigma_m=0))

    gains = edge_gains([LAWN], [perfect], sigma_better_m=1)

    assert {gain.variance_fall_m4 for gain in gains} == {0}
    spread = treatable_spread([LAWN], [perfect])
    assert {gain.half_width_after_m2 for gain in gains} == {spread.half_width_m2}


@pytest.mark.parametrize("width", [100, 37.3, 61.7, 12.9])
@pytest.mark.parametrize("sigma", [1, 0.3, 0.7])
def test_two_opposite_sides_of_a_rectangle_measured_twice_as_well_halve_its_error(
    width: float, sigma: float
) -> None:
    lawn = Measured("lawn", box(0, 0, width, 80), Position(sigma_m=sigma))

    remeasuring = halving_edges([lawn], [], sigma_better_m=sigma / 2)

    assert remeasuring.halves
    one, other = (gain.side for gain in remeasuring.gains)
    assert isinstance(one, LineString)
    assert isinstance(other, LineString)
    assert one.disjoint(other)
    assert remeasuring.half_width_after_m2 == pytest.approx(remeasuring.half_width_m2 / 2)


def test_the_one_badly_placed_shape_is_all_there_is_to_measure() -> None:
    turf = Measured("lawn", box(0, 0, 100, 80), Position(sigma_m=0.1))
    pond = Measured("pond", box(20, 20, 60, 60), Position(sigma_m=5))

    remeasuring = halving_edges([turf], [pond], sigma_better_m=0.1)

    assert [(gain.ref, gain.side) for gain in remeasuring.gains] == [("pond", None)]
    assert remeasuring.half_width_after_m2 == remeasuring.gains[0].half_width_after_m2
    assert remeasuring.half_width_after_m2 < remeasuring.half_width_m2 / 2


def test_an_error_that_no_measuring_halves_is_said_to_stay() -> None:
    remeasuring = halving_edges([LAWN], [], sigma_better_m=0.6)

    assert not remeasuring.halves
    assert remeasuring.gains == ()
    assert remeasuring.half_width_after_m2 == pytest.approx(0.6 * remeasuring.half_width_m2)


def test_a_bias_of_more_than_half_the_error_cannot_be_measured_away_at_corners() -> None:
    biased = Measured("lawn", box(0, 0, 100, 80), Position(sigma_m=1, bias_m=1))

    remeasuring = halving_edges([biased], [], sigma_better_m=0)

    # Of 251 + 360 the 360 by bias stay.
    assert not remeasuring.halves
    assert remeasuring.half_width_after_m2 == pytest.approx(360)


def test_a_bias_of_less_than_half_leaves_more_to_measure() -> None:
    biased = Measured("lawn", box(0, 0, 100, 80), Position(sigma_m=1, bias_m=0.3))
    # By hand: half of 251 + 108 is 179.5, of which 71.5 by chance; 36.5² of 128² may stay.
    assert halving_edges([biased], [], sigma_better_m=0.28).halves
    assert not halving_edges([biased], [], sigma_better_m=0.29).halves


def test_an_area_without_error_needs_no_measuring() -> None:
    exact = Measured("lawn", box(0, 0, 100, 80), Position(sigma_m=0))

    remeasuring = halving_edges([exact], [], sigma_better_m=0)

    assert remeasuring.halves
    assert remeasuring.gains == ()
    assert remeasuring.half_width_after_m2 == 0


def test_a_hole_of_the_turf_has_sides_to_measure_too() -> None:
    lawn = Polygon(box(0, 0, 100, 80).exterior.coords, [box(30, 30, 50, 50).exterior.coords])

    gains = edge_gains([Measured("lawn", lawn, Position(sigma_m=1))], [], sigma_better_m=0)

    assert len(gains) == 1 + 4 + 4
    assert gains[-1].variance_fall_m4 == pytest.approx(2 * 800 / 4)


@pytest.mark.parametrize("ask", [edge_gains, halving_edges])
def test_a_better_error_below_nought_is_refused(ask: Callable[..., object]) -> None:
    with pytest.raises(Refused) as refused:
        ask([LAWN], [], sigma_better_m=-1)

    assert refused.value.field == "sigma_better_m"


def test_the_largest_side_first_is_not_always_the_fewest() -> None:
    # Corners of 1, 3, 3, 1 and two of nothing between them: two sides reach all eight.
    best = fewest_reaching([[1, 3, 3, 1, 0, 0]], [], needed=8)

    assert best == (8, ((0, 0), (0, 2)))


def test_the_side_that_closes_a_ring_is_a_side() -> None:
    assert fewest_reaching([[5, 1, 1, 5]], [], needed=10) == (10, ((0, 3),))


@pytest.mark.parametrize(("corners", "sides"), [(3, 2), (4, 2), (5, 3), (6, 3), (7, 4)])
def test_every_other_side_reaches_every_corner(corners: int, sides: int) -> None:
    best = fewest_reaching([[1] * corners], [], needed=corners)

    assert best is not None
    assert best[0] == corners
    assert len(best[1]) == sides


def sum_of(
    picks: Sequence[tuple[int, int]], rings: Sequence[Sequence[int]], singles: Sequence[int]
) -> int:
    corners = {
        (group, (number + step) % len(rings[group]))
        for group, number in picks
        if group < len(rings)
        for step in (0, 1)
    }
    return sum(rings[group][number] for group, number in corners) + sum(
        singles[number] for group, number in picks if group == len(rings)
    )


@given(
    rings=st.lists(st.lists(st.integers(0, 9), min_size=3, max_size=6), max_size=2),
    singles=st.lists(st.integers(0, 9), max_size=3),
    share=st.integers(0, 21),
)
def test_no_smaller_choice_reaches_the_sum_and_no_equal_one_gains_more(
    rings: list[list[int]], singles: list[int], share: int
) -> None:
    sides = [(group, number) for group, ring in enumerate(rings) for number in range(len(ring))]
    all_picks = [*sides, *((len(rings), number) for number in range(len(singles)))]

    needed = -(-sum(chain(singles, *rings)) * share // 20)

    best = fewest_reaching(rings, singles, needed=needed)

    if best is None:
        assert sum(chain(singles, *rings)) < needed
        return
    gain, picks = best
    assert gain == sum_of(picks, rings, singles) >= needed
    fewer = range(len(picks))
    assert not any(
        sum_of(choice, rings, singles) >= needed
        for count in fewer
        for choice in combinations(all_picks, count)
    )
    assert gain == max(
        sum_of(choice, rings, singles) for choice in combinations(all_picks, len(picks))
    )
