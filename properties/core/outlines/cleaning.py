"""From outlines as drawn to shapes that can be measured: mend with a note, or refuse.

Refused is what would need a guess about turf. For an obstacle or a protected
feature the reading that keeps more ground unsprayed is taken at once, and noted.
Areas and lengths in metres, on the flat map round the shape's first corner.
"""

import math
from collections.abc import Sequence

import shapely
from shapely import LineString, MultiLineString, MultiPoint, MultiPolygon, Polygon
from shapely.geometry.base import BaseGeometry

from properties.core.features import Role
from properties.core.frame import Floats
from properties.core.outlines.draft import Draft
from properties.core.outlines.flat_map import FlatMap
from properties.core.outlines.mending import LEAST_M2, THREAD_M, Tangled, mended
from properties.core.outlines.positions import AREAS, Outline
from properties.core.outlines.rings import Line, has_spike, line_of, ring_of
from properties.core.outlines.tangles import GRID_M, is_tangle, settled
from properties.core.plane import DUST_M2, polygons_of, union_of

SLIVER_WIDTH_M = 0.02
_A_MILLIMETRE_DEG = 1e-8
_LONG_LINE = 200


def cleaned(draft: Draft, role: Role, outline: Outline) -> BaseGeometry | None:
    """Clean one shape; repairs and faults go to its draft.

    Parameters
    ----------
    draft : Draft
        What else is known of the shape. [-]
    role : Role
        What the shape does to the ground. [-]
    outline : Outline
        The shape as drawn. [degree]

    Returns
    -------
    BaseGeometry or None
        A valid shape, or nothing if it was refused or ignored. [degree]

    Raises
    ------
    None
        What is wrong is kept in the draft, so that all of it can be told at once.

    References
    ----------
    Butler, H. et al. (2016), The GeoJSON Format, RFC 7946, section 3.1.
    """
    flat = FlatMap(*outline.parts[0][0][0].tolist())
    if outline.type in AREAS:
        parts = [_clean_area(draft, role, part, flat) for part in outline.parts]
    else:
        parts = [_clean_line(draft, part[0], outline.type, flat) for part in outline.parts]
    kept = [part for part in parts if part is not None]
    return _together(draft, outline.type, kept, flat) if kept else None


def _clean_line(draft: Draft, lonlat: Floats, drawn: str, flat: FlatMap) -> BaseGeometry | None:
    line = line_of(draft, lonlat, flat)
    if len(line.xy) > _LONG_LINE and is_tangle([line.xy]):
        draft.fault(
            ".geometry",
            f"{draft.title} crosses itself in very many places.",
            "Draw it again.",
            at=line.start,
        )
        return None
    if line.is_point and not drawn.endswith("Point"):
        draft.note("line_kept_as_point", f"{draft.title} has no length and is kept as a point.")
    return line.bare()


def _clean_area(
    draft: Draft, role: Role, drawn: Sequence[Floats], flat: FlatMap
) -> BaseGeometry | None:
    outer, *holes = (ring_of(draft, lonlat, flat) for lonlat in drawn)
    rings = [outer, *(hole for hole in holes if not hole.is_flat)]
    if len(rings) <= len(holes):
        draft.note("flat_hole_dropped", f"A hole of {draft.title} has no area and was dropped.")
    if outer.is_flat:
        return _groundless(draft, role, outer)
    area = Polygon(outer.xy, [hole.xy for hole in rings[1:]])
    on_map = Polygon(outer.lonlat, [hole.lonlat for hole in rings[1:]])
    is_hair = area.area < GRID_M * area.length
    is_sound = not is_hair and _are_valid(area, on_map)
    ground = area if is_sound else mended(Tangled(draft, role, rings, flat))
    if ground is None:
        return None
    if ground.is_empty or (role is Role.TURF and ground.area < LEAST_M2[role]):
        return _groundless(draft, role, outer)
    if ground is area:
        _note_thin(draft, rings, area)
        return _as_drawn(draft, rings)
    return flat.to_degrees(shapely.orient_polygons(ground))


def _are_valid(in_metres: BaseGeometry, on_map: BaseGeometry) -> bool:
    """Whether areas are valid in metres and, if they do not cross the 180th meridian, in degrees.

    Both draw the same lines, and yet rounding may let edges touch in one alone.
    """
    west, _, east, _ = on_map.bounds
    return in_metres.is_valid and (on_map.is_valid or east - west > 180)


def _groundless(draft: Draft, role: Role, outer: Line) -> BaseGeometry | None:
    """An area that encloses nothing: no turf, no obstacle, but still something to protect."""
    if role is Role.TURF:
        draft.fault(
            ".geometry",
            f"{draft.title} has no area.",
            "Draw at least three corners that do not lie on one line, or delete it.",
            at=outer.start,
        )
        return None
    if role is Role.OBSTACLE:
        draft.note("flat_ignored", f"{draft.title} has a part without area, which was ignored.")
        return None
    draft.note(
        "flat_kept",
        f"{draft.title} has a part without area, which is protected as a line or point.",
    )
    return outer.bare()


def _note_thin(draft: Draft, rings: Sequence[Line], area: Polygon) -> None:
    width_m = 2 * area.area / area.length
    if width_m < SLIVER_WIDTH_M:
        draft.note(
            "sliver",
            f"{draft.title} has a part only {width_m * 1000:.1f} mm wide and "
            f"{area.length / 2:.1f} m long. Check whether it is meant.",
        )
    elif any(has_spike(ring) for ring in rings):
        draft.note("spike", f"The outline of {draft.title} has a spike. Check whether it is meant.")


def _as_drawn(draft: Draft, rings: Sequence[Line]) -> Polygon:
    """The rings with every corner as it was drawn, the outer one counter-clockwise."""
    outer, *holes = rings
    wound = [outer.wound(1), *(hole.wound(-1) for hole in holes)]
    if any(one is not ring for one, ring in zip(wound, rings, strict=True)):
        draft.note(
            "rewound", f"The corners of {draft.title} ran the other way round and were turned."
        )
    return Polygon(wound[0].lonlat, [hole.lonlat for hole in wound[1:]])


def _together(
    draft: Draft, drawn: str, parts: Sequence[BaseGeometry], flat: FlatMap
) -> BaseGeometry:
    """One geometry of all parts, which are made areas or lines where one of them is."""
    most = max(shapely.get_dimensions(parts).tolist())
    alike = [_widened(part, most, flat) for part in parts]
    pieces = shapely.get_parts(alike).tolist()
    if len(pieces) == 1 and not drawn.startswith("Multi"):
        piece: BaseGeometry = pieces[0]
        return piece
    one = _MANY[most](pieces)
    if most < 2 or _are_valid(flat.to_plane(one), one):
        return one
    draft.note(
        "parts_joined", f"Parts of {draft.title} overlap or touch; they were joined into one."
    )
    joined = settled(union_of(map(flat.to_plane, pieces)), least_m2=DUST_M2)
    return flat.to_degrees(shapely.orient_polygons(joined))


_MANY = {0: MultiPoint, 1: MultiLineString, 2: MultiPolygon}


def _widened(part: BaseGeometry, dimension: int, flat: FlatMap) -> BaseGeometry:
    """A point or line as a thread of a few millimetres, if its fellow parts have an area."""
    if shapely.get_dimensions(part) == dimension:
        return part
    if dimension == 2:
        thread = polygons_of(flat.to_plane(part).buffer(THREAD_M))
        thread = settled(thread, least_m2=DUST_M2)
        return flat.to_degrees(shapely.orient_polygons(thread))
    lon, lat = shapely.get_coordinates(part)[0].tolist()
    return LineString([(lon, lat), (lon, lat - math.copysign(_A_MILLIMETRE_DEG, lat))])
