"""Extra distance from a protected feature on the side the wind comes from.

Spray drifts with the wind, so ground upwind of a feature is kept unsprayed
farther than the plain distance all round. This is a rule of caution, not a
forecast of drift. Wind is told by the bearing it comes from, in degrees clockwise
from north; lengths in metres, in the plane of the property's frame, where north at
the centre is true north.
"""

import math
from dataclasses import dataclass
from typing import Literal

import numpy as np
import shapely
from shapely import LineString, Polygon
from shapely.geometry.base import BaseGeometry

from properties.core.errors import Refused
from properties.core.facing import Window, ground_facing
from properties.core.frame import Floats
from properties.core.no_spray import no_spray_zone
from properties.core.plane import cut, polygons_of, union_of
from properties.core.sectors import Convex, angle_of_bearing, sector, swept_by_edges, swept_by_ring

JUDGED = ("sector", "facing")


@dataclass(frozen=True)
class Downwind:
    """A distance to keep from a feature that the wind blows to, and how that is judged.

    ``sector``: a point is upwind if the feature is met within the distance and within
    the half-angle of the direction the wind blows to. ``facing``: the same, but only
    the nearest point of the feature is asked.
    """

    distance_m: float
    half_angle_deg: float = 45.0
    judged: Literal["sector", "facing"] = "sector"

    def __post_init__(self) -> None:
        _require_distance(distance_m=self.distance_m)
        _require_half_angle(self.half_angle_deg)
        if self.judged not in JUDGED:
            raise Refused(
                "judged",
                f"{self.judged} is not a way to judge what is downwind.",
                f"Choose one of: {', '.join(JUDGED)}.",
            )


def sector_zone(
    feature: BaseGeometry, *, downwind_m: float, wind_from_deg: float, half_angle_deg: float
) -> BaseGeometry:
    """Ground from which the feature is met downwind, and the feature itself.

    A point is in the zone if a sector from it, as long as the distance and opening by
    the half-angle to either side of the direction the wind blows to, meets the
    feature. So the zone is what a sector that opens to where the wind comes from
    covers while its point moves over the feature. Its arcs are drawn outside the true
    circle by less than a centimetre, so it is never short.

    Parameters
    ----------
    feature : BaseGeometry
        Area, line or point to protect, valid. [m]
    downwind_m : float
        Distance to keep, >= 0. [m]
    wind_from_deg : float
        Bearing the wind comes from, 0 to 360, clockwise from north. [°]
    half_angle_deg : float
        Angle to either side of the wind, above 0 and up to 90. [°]

    Returns
    -------
    Polygon or MultiPolygon
        The zone; with no distance the feature's own ground. [m]

    Raises
    ------
    Refused
        If the distance, the wind or the angle is out of range.

    References
    ----------
    Our own derivation: the sum of the feature and the sector. The sector is seen whole
    from its point, so the sum is the feature and what the sector covers along its
    outline.
    """
    _require_rule(downwind_m, wind_from_deg, half_angle_deg)
    if downwind_m == 0 or feature.is_empty:
        return polygons_of(feature)
    swept = sector(
        middle_rad=angle_of_bearing(wind_from_deg),
        half_angle_rad=math.radians(half_angle_deg),
        radius_m=downwind_m,
    )
    parts = shapely.get_parts(np.array([shapely.remove_repeated_points(feature)])).tolist()
    return union_of(_swept_by_part(part, swept) for part in parts)


def facing_zone(
    feature: BaseGeometry, *, downwind_m: float, wind_from_deg: float, half_angle_deg: float
) -> BaseGeometry:
    """Ground whose bearing to the nearest point of the feature is downwind; and the feature.

    A point is in the zone if its nearest point of the feature lies within the distance
    and within the half-angle of the direction the wind blows to. Arcs and parabolas
    are drawn outside by less than a centimetre, so the zone is never short.

    Parameters
    ----------
    feature : BaseGeometry
        Area, line or point to protect, valid. [m]
    downwind_m : float
        Distance to keep, >= 0. [m]
    wind_from_deg : float
        Bearing the wind comes from, 0 to 360, clockwise from north. [°]
    half_angle_deg : float
        Angle to either side of the wind, above 0 and up to 90. [°]

    Returns
    -------
    Polygon or MultiPolygon
        The zone; with no distance the feature's own ground. [m]

    Raises
    ------
    Refused
        If the distance, the wind or the angle is out of range.

    References
    ----------
    Our own derivation, see ``properties.core.facing``.
    """
    _require_rule(downwind_m, wind_from_deg, half_angle_deg)
    if downwind_m == 0 or feature.is_empty:
        return polygons_of(feature)
    window = Window(angle_of_bearing(wind_from_deg), math.radians(half_angle_deg))
    return ground_facing(feature, window=window, reach_m=downwind_m)


def with_downwind(
    feature: BaseGeometry,
    *,
    setback_m: float,
    downwind: Downwind | None,
    wind_from_deg: float | None,
) -> BaseGeometry:
    """The no-spray zone of a feature: the plain distance all round, and more upwind of it.

    Parameters
    ----------
    feature : BaseGeometry
        Area, line or point to protect, valid. [m]
    setback_m : float
        Distance to keep all round, >= 0. [m]
    downwind : Downwind or None
        The rule for the side the wind comes from, if there is one. [m, °]
    wind_from_deg : float or None
        Bearing the wind comes from, 0 to 360, clockwise from north, if known. [°]

    Returns
    -------
    Polygon or MultiPolygon
        The zone. [m]

    Raises
    ------
    Refused
        If a number is out of range, or there is a downwind rule and no wind.

    References
    ----------
    Our own derivation.
    """
    plain = no_spray_zone(feature, setback_m=setback_m)
    if wind_from_deg is not None:
        _require_wind(wind_from_deg)
    if downwind is None:
        return plain
    if wind_from_deg is None:
        raise Refused(
            "wind_from_deg",
            "A downwind distance is set, and the direction of the wind is not known.",
            "Read the wind on the spot and enter where it comes from.",
        )
    if downwind.distance_m <= setback_m:
        return plain
    zone = {"sector": sector_zone, "facing": facing_zone}[downwind.judged]
    upwind = zone(
        feature,
        downwind_m=downwind.distance_m,
        wind_from_deg=wind_from_deg,
        half_angle_deg=downwind.half_angle_deg,
    )
    return union_of((plain, upwind))


def _swept_by_part(part: BaseGeometry, swept: Convex) -> BaseGeometry:
    if isinstance(part, Polygon):
        return _swept_by_area(part, swept)
    corners = shapely.get_coordinates(part)
    if not isinstance(part, LineString) or part.length == 0:
        return Polygon(corners[0] + swept.corners)
    if part.is_simple and not part.is_ring:
        return swept_by_ring(np.concatenate((corners, corners[-2::-1])), convex=swept)
    return swept_by_edges(_edges(corners), convex=swept)


def _swept_by_area(area: Polygon, swept: Convex) -> BaseGeometry:
    """What is swept from the outer outline, without the middle of a hole that stays clear."""
    outline = shapely.get_coordinates(shapely.orient_polygons(area).exterior)
    zone = swept_by_ring(outline, convex=swept)
    clear = [
        cut(Polygon(hole), swept_by_edges(_edges(shapely.get_coordinates(hole)), convex=swept))[1]
        for hole in area.interiors
    ]
    return cut(zone, union_of(clear))[1]


def _edges(corners: Floats) -> Floats:
    return np.stack((corners[:-1], corners[1:]), axis=1)


def _require_rule(downwind_m: float, wind_from_deg: float, half_angle_deg: float) -> None:
    _require_distance(downwind_m=downwind_m)
    _require_wind(wind_from_deg)
    _require_half_angle(half_angle_deg)


def _require_distance(**named: float) -> None:
    for name, value in named.items():
        if not (math.isfinite(value) and value >= 0):
            raise Refused(
                name, f"{value:g} is not a distance of zero or more.", "Enter the distance to keep."
            )


def _require_wind(wind_from_deg: float) -> None:
    if not 0 <= wind_from_deg <= 360:
        raise Refused(
            "wind_from_deg",
            f"{wind_from_deg:g}° is not a bearing: it must be from 0° to 360°.",
            "Enter where the wind comes from, in degrees clockwise from north.",
        )


def _require_half_angle(half_angle_deg: float) -> None:
    if not 0 < half_angle_deg <= 90:
        raise Refused(
            "half_angle_deg",
            f"{half_angle_deg:g}° is not an angle above 0° and up to 90°.",
            "Enter the angle to either side of the wind that counts as downwind.",
        )
