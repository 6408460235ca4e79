"""Slivers, the traces of an edge drawn twice, and the neighbours that they join.

Metres, in the plane of the property's frame.
"""

from typing import Any

import numpy as np
import shapely
from numpy.typing import NDArray

from properties.core.ledger.faces import SharedEdges, lengths_of, shared_edges

#: A neighbour with at least this share of a sliver's longest edge is beside it, not at its end.
_BESIDE = 0.5

Whole = NDArray[np.int64]
Floats = NDArray[np.float64]


def slivers_among(
    polygons: NDArray[Any], *, thinner_than_m: float, smaller_than_m2: float
) -> NDArray[np.bool_]:
    """Which polygons are too thin or too small to be ground of their own.

    Parameters
    ----------
    polygons : array of Polygon
        The polygons. [m]
    thinner_than_m : float
        A polygon in which no circle of this diameter fits is a sliver. [m]
    smaller_than_m2 : float
        So is a polygon of less than this area. [m²]

    Returns
    -------
    array of bool
        True for the slivers. [-]

    Raises
    ------
    None
        Any polygon is a sliver or not.

    References
    ----------
    Our own derivation: the largest circle in a polygon of area A and perimeter P has
    a radius of A/P at least and 2 A/P at most, which spares most polygons a closer look.
    """
    area_m2 = shapely.area(polygons)
    fringe_m2 = shapely.length(polygons) * thinner_than_m / 2
    sliver = (area_m2 < smaller_than_m2) | (2 * area_m2 < fringe_m2)
    unsure = np.flatnonzero(~sliver & (area_m2 < fringe_m2))
    sliver[unsure] = shapely.is_empty(shapely.buffer(polygons[unsure], -thinner_than_m / 2))
    return sliver


def homes_of(polygons: NDArray[Any], kind: Whole, load: Floats, sliver: NDArray[np.bool_]) -> Whole:
    """The kind of ground that each face counts as, slivers as that of a neighbour.

    A sliver joins the kind that it shares its longest edge with. Both long sides of a
    sliver are about equally long, so of the kinds beside it the one with the larger
    load has it. Slivers beside slivers follow those; slivers that touch no other ground
    keep their own kind.

    Parameters
    ----------
    polygons : array of Polygon
        Faces whose common edges agree to the last bit. [m]
    kind : array of int
        The kind of ground of each face. [-]
    load : array of float
        How much each kind has received. [-]
    sliver : array of bool
        Which faces are slivers. [-]

    Returns
    -------
    array of int
        The kind that each face counts as. [-]

    Raises
    ------
    None
        Every face counts as some kind.

    References
    ----------
    Our own derivation.
    """
    home = np.where(sliver, -1, kind)
    if not sliver.any():
        return home
    edges = shared_edges(polygons)
    longest = np.zeros(len(polygons))
    np.maximum.at(longest, edges.face, edges.length_m)
    while True:
        faces, kinds, lengths = _neighbours(edges, home, len(load))
        if not faces.size:
            return np.where(home < 0, kind, home)
        beside = lengths >= _BESIDE * longest[faces]
        if beside.any():
            faces, kinds, lengths = faces[beside], kinds[beside], lengths[beside]
        # The last entry of a face wins: the largest load, then the longest edge.
        order = np.lexsort((kinds, lengths.round(6), load[kinds], faces))
        home[faces[order]] = kinds[order]


def _neighbours(edges: SharedEdges, home: Whole, kinds: int) -> tuple[Whole, Whole, Floats]:
    """Each homeless face with each kind that it borders on and the length of that border."""
    border = (home[edges.face] < 0) & (home[edges.neighbour] >= 0)
    pairs = edges.face[border] * kinds + home[edges.neighbour[border]]
    found, which = np.unique(pairs, return_inverse=True)
    lengths = lengths_of(which, edges.length_m[border], len(found))
    return found // kinds, found % kinds, lengths
