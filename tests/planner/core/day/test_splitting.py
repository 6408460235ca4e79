"""Splitting a route: nothing over the tank, the fewest loads, of those the most even."""

from itertools import combinations, pairwise
from math import fsum

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.core.day.splitting import fewest_loads, reloads_missing, too_long

gallons = st.integers(1, 120).map(float)
routes = st.lists(gallons, min_size=1, max_size=9)
places = st.sets(st.integers(0, 9))


def every_split(volumes: list[float], points: set[int], most: float) -> list[list[float]]:
    """Every way to split a route at some of its reload points, by brute force."""
    inside = sorted(point for point in points if 0 < point < len(volumes))
    ways = []
    for count in range(len(inside) + 1):
        for chosen in combinations(inside, count):
            cuts = (0, *chosen, len(volumes))
            loads = [fsum(volumes[begin:end]) for begin, end in pairwise(cuts)]
            if max(loads) <= most:
                ways.append(loads)
    return ways


@given(volumes=routes, points=places, most=st.integers(20, 400).map(float))
def test_no_other_split_has_fewer_loads_or_is_more_even_with_as_many(
    volumes: list[float], points: set[int], most: float
) -> None:
    found = fewest_loads(volumes, reload_before=points, most=most)
    ways = every_split(volumes, points, most)

    if found is None:
        assert ways == []
        return
    loads = [fsum(volumes[begin:end]) for begin, end in found]
    assert len(loads) == min(map(len, ways))
    as_few = [way for way in ways if len(way) == len(loads)]
    # Whole gallons: the squares are exact.
    assert sum(load**2 for load in loads) == min(sum(load**2 for load in way) for way in as_few)


@given(volumes=routes, points=places, most=st.integers(20, 400).map(float))
def test_the_stretches_are_the_whole_route_end_at_reload_points_and_fit(
    volumes: list[float], points: set[int], most: float
) -> None:
    found = fewest_loads(volumes, reload_before=points, most=most)

    if found is None:
        assert too_long(volumes, reload_before=points, most=most)
        return
    assert [stop for begin, end in found for stop in range(begin, end)] == list(range(len(volumes)))
    assert {begin for begin, _ in found} - {0} <= points
    assert all(fsum(volumes[begin:end]) <= most for begin, end in found)


@given(volumes=routes, points=places, most=st.integers(20, 400).map(float))
def test_a_route_cannot_be_split_if_and_only_if_a_stretch_is_too_long(
    volumes: list[float], points: set[int], most: float
) -> None:
    stretches = too_long(volumes, reload_before=points, most=most)

    assert (fewest_loads(volumes, reload_before=points, most=most) is None) == bool(stretches)


@given(volumes=routes, most=st.integers(120, 400).map(float))
def test_with_a_reload_where_one_is_missing_the_route_fits(
    volumes: list[float], most: float
) -> None:
    missing = reloads_missing(volumes, stretch=(0, len(volumes)), most=most)

    assert fewest_loads(volumes, reload_before=missing, most=most) is not None


def test_a_job_of_125_gallons_with_a_tank_of_50_takes_three_loads_the_last_a_half() -> None:
    # Derived from definitions: 62,500 sq ft at 2 gal/1,000 sq ft are two full loads and 25 gal.
    stops = [25.0] * 5

    found = fewest_loads(stops, reload_before=range(5), most=50)

    assert found is not None
    assert sorted(25 * (end - begin) for begin, end in found) == [25, 50, 50]


def test_even_loads_are_preferred_to_a_full_one_and_a_small_one() -> None:
    found = fewest_loads([40.0, 40.0, 40.0, 40.0], reload_before=[2, 3], most=120)

    assert found == ((0, 2), (2, 4))


@pytest.mark.parametrize(
    ("volumes", "missing"),
    [
        ([60.0, 60.0, 60.0], (1, 2)),
        ([30.0, 30.0, 60.0, 30.0], (2,)),
        ([150.0, 20.0], (1,)),
    ],
)
def test_the_reloads_that_are_missing_are_told(
    volumes: list[float], missing: tuple[int, ...]
) -> None:
    most = 90

    assert reloads_missing(volumes, stretch=(0, len(volumes)), most=most) == missing
