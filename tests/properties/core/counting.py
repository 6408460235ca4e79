"""An independent count: which points of a grid lie inside an outline."""

import itertools

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry.base import BaseGeometry

Floats = NDArray[np.float64]


def inside(outline: BaseGeometry, x: Floats, y: Floats) -> NDArray[np.bool_]:
    """Count how often a ray to the east crosses the outline: odd is inside."""
    odd = np.zeros(x.shape, dtype=bool)
    for ring in shapely.get_rings(shapely.get_parts(outline)).tolist():
        for (x1, y1), (x2, y2) in itertools.pairwise(np.array(ring.coords)):
            if y1 != y2:
                crosses = (y1 > y) != (y2 > y)
                odd ^= crosses & (x < x1 + (y - y1) / (y2 - y1) * (x2 - x1))
    return odd
