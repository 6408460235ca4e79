"""The faces into which outlines cut ground, and which areas each face lies under.

Metres, in the plane of the property's frame.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry.base import BaseGeometry

from properties.core.errors import Refused

#: Corners are put on a grid of a nanometre: off it, outlines that share an edge but for
#: rounding are not always cut where they meet, and once in thousands of such properties not
#: even on it. Then the next grid is tried.
_GRIDS_M = (1e-9, 2e-9, 5e-9, 1e-8)
#: A square centimetre: more than the grid can move, less than any face that is worth having.
_SOUND_M2 = 1e-4


@dataclass(frozen=True)
class Faces:
    """Disjoint polygons that fill ground; neighbours share their edges to the last bit.

    ``under[i, j]`` says whether face i lies under area j.
    """

    polygons: NDArray[Any]
    under: NDArray[np.bool_]


@dataclass(frozen=True)
class SharedEdges:
    """Pairs of neighbouring faces and the length of the edge between them, each way once."""

    face: NDArray[np.int64]
    neighbour: NDArray[np.int64]
    length_m: NDArray[np.float64]


def faces_of(ground: BaseGeometry, areas: Sequence[BaseGeometry]) -> Faces:
    """Cut ground along the outlines of areas.

    All outlines are cut where they meet, once for the whole property, so no two
    faces overlap and none leaves a gap. The faces are checked by their sum, over the
    ground and under each area.

    Parameters
    ----------
    ground : BaseGeometry
        Polygons, valid; may be empty. [m]
    areas : Sequence of BaseGeometry
        Valid areas that may overlap each other and reach beyond the ground. [m]

    Returns
    -------
    Faces
        The faces of the ground. [m]

    Raises
    ------
    Refused
        If the outlines cannot be cut so that the faces add up.

    References
    ----------
    Our own derivation.
    """
    under_m2 = [shapely.intersection(ground, area, grid_size=_GRIDS_M[0]).area for area in areas]
    for grid_m in _GRIDS_M:
        faces = _cut(ground, areas, grid_m)
        face_m2 = shapely.area(faces.polygons)
        told_m2 = [face_m2.sum(), *(face_m2 @ faces.under)]
        if np.allclose(told_m2, [ground.area, *under_m2], rtol=0, atol=_SOUND_M2):
            return faces
    raise Refused(
        "applications",
        "The outlines of these applications lie so close together that they cannot be told apart.",
        "Draw the newest one again, snapped to the others.",
    )


def _cut(ground: BaseGeometry, areas: Sequence[BaseGeometry], grid_m: float) -> Faces:
    outlines = shapely.boundary(np.array([ground, *areas], dtype=object))
    lines = shapely.get_parts(shapely.union_all(outlines, grid_size=grid_m))
    polygons = shapely.get_parts(shapely.polygonize(lines))
    tree = shapely.STRtree(shapely.point_on_surface(polygons))
    polygons_in = np.unique(tree.query(ground, predicate="intersects"))
    under = np.zeros((len(polygons), len(areas)), dtype=bool)
    area, face = tree.query(np.array(areas, dtype=object), predicate="intersects")
    under[face, area] = True
    return Faces(polygons[polygons_in], under[polygons_in])


def shared_edges(polygons: NDArray[Any]) -> SharedEdges:
    """Which faces are neighbours, and how long the edge between them is.

    Parameters
    ----------
    polygons : array of Polygon
        Faces whose common edges agree to the last bit. [m]

    Returns
    -------
    SharedEdges
        Every pair of neighbours in both orders. [m]

    Raises
    ------
    None
        Faces without neighbours share no edge.

    References
    ----------
    Our own derivation: each inner edge occurs in two faces.
    """
    rings, of_ring = shapely.get_rings(polygons, return_index=True)
    corners, ring = shapely.get_coordinates(rings, return_index=True)
    on_ring = ring[1:] == ring[:-1]
    begin, end = corners[:-1][on_ring], corners[1:][on_ring]
    owner = of_ring[ring[1:][on_ring]]
    turned = (begin[:, 0] > end[:, 0]) | ((begin[:, 0] == end[:, 0]) & (begin[:, 1] > end[:, 1]))
    edges = np.where(turned[:, None], np.hstack((end, begin)), np.hstack((begin, end)))
    order = np.lexsort(edges.T)
    twin = np.flatnonzero((edges[order][1:] == edges[order][:-1]).all(axis=1))
    one, other = owner[order[twin]], owner[order[twin + 1]]
    steps = edges[order[twin], 2:] - edges[order[twin], :2]
    pairs = np.concatenate((one, other)) * len(polygons) + np.concatenate((other, one))
    lengths = np.tile(np.hypot(steps[:, 0], steps[:, 1]), 2)
    found, which = np.unique(pairs, return_inverse=True)
    face, neighbour = np.divmod(found, max(1, len(polygons)))
    return SharedEdges(face, neighbour, lengths_of(which, lengths, len(found)))


def lengths_of(
    which: NDArray[np.int64], lengths_m: NDArray[np.float64], count: int
) -> NDArray[np.float64]:
    """Sum lengths group by group.

    Parameters
    ----------
    which : array of int
        The group of each length. [-]
    lengths_m : array of float
        The lengths. [m]
    count : int
        Number of groups. [-]

    Returns
    -------
    array of float
        The sum of each group. [m]

    Raises
    ------
    None
        A group may be empty.

    References
    ----------
    Our own derivation.
    """
    sums = np.zeros(count)
    np.add.at(sums, which, lengths_m)
    return sums
