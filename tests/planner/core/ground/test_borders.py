"""What a border counts for where two tools put down different amounts along it."""

import math
from typing import Any

import numpy as np
import pytest
import shapely

from planner.core.ground.borders import FeatureBorder, TurfBorder
from properties.core.accuracy import area_sigma_m2
from properties.core.outlines import Shape, read_drawing
from tests.planner.core.asking import LAWN, place

BED = np.array([(0.0, 0.0), (24.0, 0.0), (24.0, 10.0), (0.0, 10.0)])
#: Feet that the hand tool and the machine keep away from it.
NEAR, FAR = 1.5, 6.0


@pytest.fixture
def shape() -> Shape:
    return read_drawing(place(LAWN)).shapes[0]


def zone(corners: "np.ndarray[Any, np.dtype[np.float64]]", distance: float) -> shapely.Polygon:
    return shapely.Polygon(corners).buffer(distance, join_style="mitre")


@pytest.mark.parametrize("per_area", [(0.9, 2.2), (2.2, 0.9), (1.0, 1.0), (0.0, 2.0), (2.0, 0.0)])
def test_the_deviation_at_a_bed_is_never_less_than_that_of_corners_moved_by_chance(
    shape: Shape, per_area: tuple[float, float]
) -> None:
    machine, hand = per_area
    border = FeatureBorder(
        shape,
        *(area_sigma_m2(zone(BED, distance), sigma_m=1) for distance in (NEAR, FAR)),
    )
    chance = np.random.default_rng(64)

    sprayed = []
    for _ in range(400):
        corners = BED + chance.normal(size=BED.shape)
        near, far = zone(corners, NEAR).area, zone(corners, FAR).area
        sprayed.append(machine * (10_000 - far) + hand * (far - near))

    # A spread of 400 draws is within 1/√800 of the true one, three times over.
    assert border.deviation_of(per_area) > np.std(sprayed) * (1 - 3 / math.sqrt(800))


def test_a_bed_with_one_tool_counts_by_its_amount(shape: Shape) -> None:
    assert FeatureBorder(shape, 30.0, 30.0).deviation_of([0.9]) == pytest.approx(27)


def test_a_lawn_counts_by_the_tool_that_sprays_along_it(shape: Shape) -> None:
    assert TurfBorder(shape, 10.0, (1.0, 0.0)).deviation_of([0.9, 2.2]) == pytest.approx(9)
    # Half of the corners each: variances of halves add.
    both = TurfBorder(shape, 10.0, (0.5, 0.5)).deviation_of([3, 4])
    assert both == pytest.approx(10 * math.sqrt((9 + 16) / 2))
