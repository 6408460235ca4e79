"""Outlines of the same ground, drawn more than once.

Metres, in the plane of the property's frame.
"""

from collections.abc import Sequence

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from properties.core.plane import union_of

#: Areas that differ in more than this share of their ground are two, however thin they are.
_APART_SHARE = 0.1
#: A thousandth of a micrometre: on a grid the overlay of GEOS is sound even where two
#: outlines run within rounding of each other.
_GRID_M = 1e-9


def distinct_outlines(
    areas: Sequence[BaseGeometry], *, thinner_than_m: float
) -> tuple[list[BaseGeometry], list[int]]:
    """Take areas that differ by a few slivers for one, so that no edge is cut a hundred times.

    An area is compared with the first of each group. A group covers all ground that any
    of its areas covers.

    Parameters
    ----------
    areas : Sequence of BaseGeometry
        Valid areas. [m]
    thinner_than_m : float
        Ground in which no circle of this diameter fits is a sliver. [m]

    Returns
    -------
    tuple of list of BaseGeometry and list of int
        The ground of each group, and for each area the number of its group. [m]

    Raises
    ------
    None
        Valid areas can always be compared.

    References
    ----------
    Our own derivation.
    """
    groups: list[dict[bytes, BaseGeometry]] = []
    known: dict[bytes, int] = {}
    boxes = np.empty((len(areas), 4))
    which = []
    for area in areas:
        outline = shapely.to_wkb(area)
        if outline not in known:
            near = np.abs(boxes[: len(groups)] - area.bounds).max(axis=1) <= 2 * thinner_than_m
            like = (
                number
                for number in np.flatnonzero(near).tolist()
                if _differ_by_slivers(next(iter(groups[number].values())), area, thinner_than_m)
            )
            known[outline] = number = next(like, len(groups))
            if number == len(groups):
                boxes[number] = area.bounds
                groups.append({})
            groups[number][outline] = area
        which.append(known[outline])
    return [union_of(group.values()) for group in groups], which


def _differ_by_slivers(one: BaseGeometry, other: BaseGeometry, thinner_than_m: float) -> bool:
    apart = shapely.symmetric_difference(one, other, grid_size=_GRID_M)
    if apart.area > _APART_SHARE * one.area:
        return False
    return bool(apart.buffer(-thinner_than_m / 2).is_empty)
