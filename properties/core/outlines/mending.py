"""Areas whose rings cross, retrace or leave each other: mend them, or say why not.

Metres, on the flat map round the shape's first corner.
"""

import re
from collections.abc import Sequence
from dataclasses import dataclass

import shapely
from shapely import LineString, Point, Polygon

from properties.core.features import Role
from properties.core.outlines.draft import Draft
from properties.core.outlines.flat_map import FlatMap
from properties.core.outlines.rings import Line
from properties.core.outlines.tangles import GRID_M, enclosed_by, is_tangle, settled
from properties.core.plane import DUST_M2, Area, cut, polygons_of, union_of

#: A part that covers less is none: a hand's breadth squared of turf, a square millimetre else.
LEAST_M2 = {Role.TURF: 0.01, Role.OBSTACLE: DUST_M2, Role.PROTECTED: DUST_M2}
#: Half the width of the thread that keeps a spike of a protected feature protected.
THREAD_M = 0.001
#: A mended curl may change the area by less than both.
_CURL_SHARE = 0.001
_CURL_M2 = 1.0
_PLACE = re.compile(r"\[(\S+) (\S+)\]")


@dataclass(frozen=True)
class Tangled:
    """One area that is not valid as it was drawn: its rings, the outer one first."""

    draft: Draft
    role: Role
    rings: Sequence[Line]
    flat: FlatMap

    @property
    def drawn_m2(self) -> float:
        """Area by the shoelace formula, which counts ground twice that is gone round twice."""
        outer, *holes = (abs(ring.signed_area_m2) for ring in self.rings)
        return outer - sum(holes)

    def fault(self, problem: str, remedy: str, place: Point) -> None:
        """Refuse the area and point to the place on the map."""
        lon, lat = shapely.get_coordinates(self.flat.to_degrees(place))[0].tolist()
        self.draft.fault(".geometry", problem, remedy, at=(lon, lat))


def mended(area: Tangled) -> Area | None:
    """Mend an area, with a note, or refuse it in its draft.

    Parameters
    ----------
    area : Tangled
        The area as drawn. [m]

    Returns
    -------
    Polygon, MultiPolygon or None
        Valid ground, empty if the rings enclose none; nothing if it was refused. [m]

    Raises
    ------
    None
        What is wrong is kept in the draft, so that all of it can be told at once.

    References
    ----------
    Our own derivation: a repair that changes the area by less than 0.1 % and less
    than 1 m² is smaller than what a hand can place on a map.
    """
    if is_tangle(ring.xy for ring in area.rings):
        area.fault(
            f"The outline of {area.draft.title} crosses itself in very many places.",
            "Draw it again.",
            Point(area.rings[0].xy[0]),
        )
        return None
    outer, *holes = (enclosed_by(ring.xy) for ring in area.rings)
    outside = [hole for hole in holes if outer.intersection(hole).area <= DUST_M2 < hole.area]
    if outside and area.role is Role.TURF:
        area.fault(
            f"A hole of {area.draft.title} lies outside its outline.",
            "Move the hole into the turf, or draw it as a shape of its own.",
            outside[0].representative_point(),
        )
        return None
    ground = union_of([cut(outer, union_of(holes))[1], *outside])
    ground = settled(ground, least_m2=LEAST_M2[area.role])
    if ground.is_empty:
        return ground
    return _turf(area, ground) if area.role is Role.TURF else _kept(area, ground)


def _turf(area: Tangled, ground: Area) -> Area | None:
    change_m2 = abs(ground.area - area.drawn_m2)
    if change_m2 >= min(_CURL_M2, _CURL_SHARE * ground.area):
        area.fault(
            f"The outline of {area.draft.title} crosses itself, and the turf that is meant "
            "could be one side, the other or both.",
            "Drag the marked corner, or draw two shapes.",
            _crossing(area),
        )
        return None
    area.draft.note(
        "curl_mended",
        f"The outline of {area.draft.title} crossed or touched itself and has been mended; "
        f"its area changed by {change_m2:.2f} m².",
    )
    return ground


def _kept(area: Tangled, ground: Area) -> Area:
    """All ground that the rings go round and, round a protected feature, their loose ends."""
    area.draft.note(
        "crossing_kept",
        f"The outline of {area.draft.title} crosses or touches itself; all ground that it "
        "goes round is kept unsprayed.",
    )
    loose = LineString(area.rings[0].xy).difference(ground.buffer(2 * GRID_M))
    if area.role is Role.OBSTACLE or loose.is_empty:
        return ground
    area.draft.note(
        "spike_kept",
        f"The outline of {area.draft.title} runs out and back on one line; that line is "
        "protected too.",
    )
    thread = polygons_of(LineString(area.rings[0].xy).buffer(THREAD_M))
    return settled(union_of([ground, thread]), least_m2=DUST_M2)


def _crossing(area: Tangled) -> Point:
    """Where the outline first meets itself, as the geometry engine says it."""
    outer, *holes = (ring.xy for ring in area.rings)
    found = _PLACE.search(shapely.is_valid_reason(Polygon(outer, holes)))
    return Point(outer[0]) if found is None else Point(float(found[1]), float(found[2]))
