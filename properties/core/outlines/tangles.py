"""Rings that cross or retrace themselves: what they enclose, and what they leave dangling.

Metres on the flat map round the shape.
"""

from collections.abc import Iterable
from itertools import pairwise

import shapely
from shapely import LineString, MultiPolygon, Polygon

from properties.core.frame import Floats
from properties.core.plane import Area, polygons_of, union_of

#: So many pairs of edges may lie across each other's box before nobody can tell what was meant.
_MOST_CLOSE_PAIRS = 200_000
_EDGES_AT_ONCE = 64
#: A micrometre: some three hundred times the rounding of a degree.
GRID_M = 1e-6


def is_tangle(lines: Iterable[Floats]) -> bool:
    """Whether lines cross so often that mending or joining them is very slow, or guesswork.

    Parameters
    ----------
    lines : Iterable of arrays of shape (n, 2)
        Corners in order, of each line. [m]

    Returns
    -------
    bool
        Whether to give up on them. [-]

    Raises
    ------
    None
        Any lines will do.

    References
    ----------
    Our own derivation: the work grows with the pairs of edges whose boxes overlap.
    """
    edges = [LineString(pair) for line in lines for pair in pairwise(line)]
    tree = shapely.STRtree(edges)
    most = max(_MOST_CLOSE_PAIRS, 8 * len(edges))
    pairs = 0
    for start in range(0, len(edges), _EDGES_AT_ONCE):
        pairs += tree.query(edges[start : start + _EDGES_AT_ONCE]).shape[1]
        if pairs > most:
            return True
    return False


def enclosed_by(ring: Floats) -> Area:
    """All ground that a ring goes round at least once, whichever way.

    Both lobes of a bow-tie, the middle of a star drawn in one line, a ring wound
    twice counted once; not the hole at the end of a slit, which the ring goes
    round once each way.

    Parameters
    ----------
    ring : array of shape (n, 2)
        Corners of a closed ring in order. [m]

    Returns
    -------
    Polygon or MultiPolygon
        Valid areas; empty if the ring encloses nothing. [m]

    Raises
    ------
    None
        Any ring of finite numbers will do.

    References
    ----------
    Our own derivation: the faces of the ring's own arrangement whose winding
    number is not zero.
    """
    whole = Polygon(ring)
    if whole.is_valid:
        return whole
    noded = shapely.get_parts(shapely.union_all([LineString(ring)]))
    faces = shapely.get_parts(shapely.polygonize(noded))
    inside = shapely.get_coordinates(shapely.point_on_surface(faces))
    return union_of(
        face for face, point in zip(faces, inside, strict=True) if _winding_number(ring, point)
    )


def settled(ground: Area, *, least_m2: float) -> Area:
    """Ground with every corner on a fine grid: it stays valid when it is written in degrees.

    Hairs thinner than the grid vanish, and no corner is left so near to an edge that
    the rounding of a degree (3 nm) could carry it across.

    Parameters
    ----------
    ground : Polygon or MultiPolygon
        Valid areas. [m]
    least_m2 : float
        Parts that are smaller are left out. [m²]

    Returns
    -------
    Polygon or MultiPolygon
        Nearly the same areas. [m]

    Raises
    ------
    None
        Any ground can be settled.

    References
    ----------
    Hobby, J. D. (1999), Practical segment intersection with finite precision output,
    Computational Geometry 13: rounding to a grid keeps every crossing a corner.
    """
    on_grid = shapely.set_precision(shapely.set_precision(ground, GRID_M), 0, mode="pointwise")
    # A little more, so that a second reading does not find too little.
    parts = [part for part in shapely.get_parts(on_grid) if part.area > 1.01 * least_m2]
    return polygons_of(MultiPolygon(parts))


def _winding_number(ring: Floats, point: Floats) -> int:
    """How many times a ring goes round a point that is not on it."""
    start, end = ring[:-1] - point, ring[1:] - point
    left = start[:, 0] * end[:, 1] - start[:, 1] * end[:, 0]
    up = (start[:, 1] <= 0) & (end[:, 1] > 0) & (left > 0)
    down = (start[:, 1] > 0) & (end[:, 1] <= 0) & (left < 0)
    return int(up.sum()) - int(down.sum())
