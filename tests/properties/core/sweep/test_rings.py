"""Rings make the ground that they were taken from, whatever lies in its holes."""

import numpy as np
import pytest
import shapely
from shapely import MultiPolygon, Polygon

from properties.core.sweep.rings import Rings, areas_of, joined
from tests.properties.core.sweep.test_sections import rings_of


def square(middle: float, half: float, *holes: float) -> Polygon:
    """A square with square holes about its middle, by their half sides."""
    return Polygon(
        shapely.box(middle - half, middle - half, middle + half, middle + half).exterior,
        [shapely.box(middle - h, middle - h, middle + h, middle + h).exterior for h in holes],
    )


@pytest.mark.parametrize(
    "ground",
    [
        pytest.param(square(0, 5), id="plain"),
        pytest.param(square(0, 5, 3), id="a hole"),
        pytest.param(MultiPolygon([square(0, 9, 7), square(0, 5, 3)]), id="an island in a hole"),
        pytest.param(
            MultiPolygon([square(0, 9, 7), square(0, 5, 3), square(0, 1), square(40, 2, 1)]),
            id="islands in islands, and one beside them",
        ),
    ],
)
def test_rings_of_a_ground_make_it_again(ground: Polygon | MultiPolygon) -> None:
    rings = rings_of(ground, square(100, 1))

    first, other, missing = areas_of(rings, number=3)

    assert first.is_valid
    assert first.equals(ground)
    assert other.equals(square(100, 1))
    assert missing is None


def test_a_hole_in_no_outline_makes_no_ground() -> None:
    islands = MultiPolygon([square(0, 1), square(9, 1)])
    stray = rings_of(square(50, 1)).turned_back()
    rings = joined([rings_of(islands), stray])

    assert areas_of(rings, number=1).tolist() == [None]


def test_rings_are_wound_as_they_are_asked_to_be() -> None:
    rings = rings_of(square(1e5, 5, 3))

    assert rings.areas_m2.tolist() == [100, -36]
    assert rings.wound(np.array([False, False])).areas_m2.tolist() == [-100, -36]
    assert rings.turned_back().areas_m2.tolist() == [36, -100]
    assert Rings(np.empty((0, 2)), rings.counts[:0], rings.owner[:0]).areas_m2.tolist() == []
