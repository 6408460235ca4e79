"""Single rings and lines: closed, without repeated corners, wound the right way.

Each carries its corners twice, in degrees as they were drawn and in metres.
"""

from dataclasses import dataclass

import numpy as np
from shapely import LineString, Point

from properties.core.frame import Floats
from properties.core.outlines.draft import Draft
from properties.core.outlines.flat_map import FlatMap

#: Corners nearer than this are one corner: some thirty times the rounding of a degree.
SAME_CORNER_M = 1e-7
SPIKE_COSINE = -np.cos(np.radians(0.5))
SPIKE_EDGE_M = 0.5


@dataclass(frozen=True)
class Line:
    """Corners in order, as drawn and in metres. A ring ends where it begins."""

    lonlat: Floats
    xy: Floats

    @property
    def is_point(self) -> bool:
        """Whether only one place is left."""
        return len(self.xy) == 1

    @property
    def is_flat(self) -> bool:
        """Whether a ring has too few corners to enclose anything."""
        return len(self.xy) < 4

    @property
    def start(self) -> tuple[float, float]:
        """Longitude and latitude of the first corner."""
        lon, lat = self.lonlat[0].tolist()
        return lon, lat

    @property
    def signed_area_m2(self) -> float:
        """Area of a ring by the shoelace formula, positive if it runs counter-clockwise."""
        x, y = (self.xy - self.xy[0]).T
        return float(np.sum(x[:-1] * y[1:] - x[1:] * y[:-1])) / 2

    def wound(self, sign: int) -> "Line":
        """The ring so that its area has a sign; itself if it has that already."""
        if self.signed_area_m2 * sign > 0:
            return self
        return Line(self.lonlat[::-1], self.xy[::-1])

    def bare(self) -> Point | LineString:
        """The corners as a line, or as a point if they are one place."""
        return Point(self.lonlat[0]) if self.is_point else LineString(self.lonlat)


def line_of(draft: Draft, lonlat: Floats, flat: FlatMap) -> Line:
    """A drawn line without repeated corners; says so if some were dropped.

    Parameters
    ----------
    draft : Draft
        The feature it belongs to. [-]
    lonlat : array of shape (n, 2)
        Corners as drawn. [degree]
    flat : FlatMap
        The map to measure on. [-]

    Returns
    -------
    Line
        One corner or more. [degree and m]

    Raises
    ------
    None
        Every line has a first corner.

    References
    ----------
    Our own derivation.
    """
    xy = flat.xy(lonlat)
    new = np.ones(len(xy), dtype=bool)
    new[1:] = np.hypot(*np.diff(xy, axis=0).T) > SAME_CORNER_M
    dropped = len(new) - int(new.sum())
    if dropped:
        draft.note(
            "duplicates_dropped",
            f"Repeated corners of {draft.title} were dropped: {dropped}.",
        )
    return Line(lonlat[new], xy[new])


def ring_of(draft: Draft, lonlat: Floats, flat: FlatMap) -> Line:
    """A drawn ring, closed and without repeated corners; says what was mended.

    Parameters
    ----------
    draft : Draft
        The feature it belongs to. [-]
    lonlat : array of shape (n, 2)
        Corners as drawn. [degree]
    flat : FlatMap
        The map to measure on. [-]

    Returns
    -------
    Line
        The ring; fewer than 4 corners if it encloses nothing. [degree and m]

    Raises
    ------
    None
        Every ring has a first corner.

    References
    ----------
    Butler, H. et al. (2016), The GeoJSON Format, RFC 7946, section 3.1.6.
    """
    line = line_of(draft, lonlat, flat)
    if line.is_point:
        return line
    if np.hypot(*(line.xy[0] - line.xy[-1])) <= SAME_CORNER_M:
        line = Line(line.lonlat[:-1], line.xy[:-1])
    else:
        draft.note("ring_closed", f"The outline of {draft.title} was open and has been closed.")
    return Line(
        np.concatenate((line.lonlat, line.lonlat[:1])), np.concatenate((line.xy, line.xy[:1]))
    )


def has_spike(ring: Line) -> bool:
    """Whether a ring turns right back on itself at a corner.

    Parameters
    ----------
    ring : Line
        A ring of 4 corners or more. [m]

    Returns
    -------
    bool
        Whether two edges longer than half a metre meet at less than half a degree. [-]

    Raises
    ------
    None
        Repeated corners were dropped before.

    References
    ----------
    Our own derivation: no edge of turf comes to such a point.
    """
    edges = np.diff(ring.xy, axis=0)
    after = np.roll(edges, -1, axis=0)
    lengths, lengths_after = np.hypot(*edges.T), np.hypot(*after.T)
    turns_back = np.sum(edges * after, axis=1) < SPIKE_COSINE * lengths * lengths_after
    return bool(np.any(turns_back & (np.minimum(lengths, lengths_after) > SPIKE_EDGE_M)))
