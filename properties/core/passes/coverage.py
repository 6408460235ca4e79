"""What swaths do to ground: covered, covered again, missed, and sprayed outside it.

Metres and m², in the plane of the property's frame.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from properties.core.passes.overlay import strips_on
from properties.core.plane import union_of


@dataclass(frozen=True)
class Coverage:
    """Where the spray of all swaths lands.

    ``swept_m2``, the sum of all swaths, is ``covered_m2`` + ``double_m2`` +
    ``outside_m2``; the ground is ``covered_m2`` + ``missed_m2``. Ground under three
    swaths counts twice in ``double_m2``: that is the spray it gets too much.
    """

    ground_m2: float
    swept_m2: float
    covered_m2: float
    double_m2: float
    missed_m2: float
    outside_m2: float

    @property
    def double_share(self) -> float:
        """Spray that falls on ground already sprayed, as a share of the ground."""
        return self.double_m2 / self.ground_m2 if self.ground_m2 else 0.0


def cover(ground: BaseGeometry, strips: Sequence[BaseGeometry]) -> Coverage:
    """Account for the spray of swaths over ground.

    Parameters
    ----------
    ground : BaseGeometry
        What is to be treated, valid. [m]
    strips : Sequence of BaseGeometry
        The ground under each swath, valid. [m]

    Returns
    -------
    Coverage
        The areas. [m²]

    Raises
    ------
    None
        Valid areas always have an overlay.

    References
    ----------
    Our own derivation: overlap is the sum of the swaths less their union.
    """
    swaths = np.array(strips, dtype=object)
    inside = strips_on(ground, swaths)
    layers_m2 = float(shapely.area(inside).sum())
    covered_m2 = union_of(inside.tolist()).area
    swept_m2 = float(shapely.area(swaths).sum())
    return Coverage(
        ground_m2=ground.area,
        swept_m2=swept_m2,
        covered_m2=covered_m2,
        double_m2=max(0.0, layers_m2 - covered_m2),
        missed_m2=max(0.0, ground.area - covered_m2),
        outside_m2=max(0.0, swept_m2 - layers_m2),
    )
