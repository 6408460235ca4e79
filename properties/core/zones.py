"""A distance to keep from a feature, and the ground that it keeps unsprayed.

Metres, in the plane of the property's frame.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
import shapely
from shapely import MultiPolygon
from shapely.geometry.base import BaseGeometry

from properties.core.downwind import Downwind, with_downwind
from properties.core.frame import Frame
from properties.core.plane import NOWHERE, Area, polygons_of

#: Distances in the frame are true to less than this share, so each is kept that much longer.
_FRAME_SHARE = 5e-6

_HALF_ROUND_DEG = 180.0


@dataclass(frozen=True)
class Setback:
    """The distance to keep from one feature, and what decided it.

    ``downwind`` asks for more on the side the wind comes from, which must be known then.
    """

    distance_m: float
    reason: str
    downwind: Downwind | None = None
    wind_from_deg: float | None = None

    @property
    def in_frame_m(self) -> float:
        """The distance to keep in the plane of a frame, so that it is never short on the ground."""
        return self.distance_m * (1 + _FRAME_SHARE)

    @property
    def is_plain(self) -> bool:
        """Whether the same distance is kept on every side."""
        return self.downwind is None and self.wind_from_deg is None

    def zone_of(self, feature: BaseGeometry) -> Area:
        """The ground it keeps unsprayed round a feature, never short in the plane of a frame."""
        longer = 1 + _FRAME_SHARE
        downwind = self.downwind
        return polygons_of(
            with_downwind(
                feature,
                setback_m=self.in_frame_m,
                downwind=downwind and replace(downwind, distance_m=downwind.distance_m * longer),
                wind_from_deg=self.wind_from_deg,
            )
        )


@dataclass(frozen=True)
class Zone:
    """The no-spray zone of one feature, whether or not it reaches turf."""

    ref: str
    setback: Setback
    geometry: Area


def zones_in_degrees(zones: Sequence[Zone], frame: Frame) -> dict[str, MultiPolygon]:
    """Turn zones into degrees, all in one pass.

    Parameters
    ----------
    zones : Sequence of Zone
        The zones. [m]
    frame : Frame
        The plane they are in. [-]

    Returns
    -------
    dict
        Each zone by the ref of its feature. [degree]

    Raises
    ------
    None
        Any zones will do.

    References
    ----------
    Our own derivation.
    """
    areas = in_degrees([zone.geometry for zone in zones], frame)
    return dict(zip((zone.ref for zone in zones), areas, strict=True))


def in_degrees(areas: Sequence[Area], frame: Frame) -> list[MultiPolygon]:
    """Turn areas into degrees, exterior rings counter-clockwise, all in one pass.

    Parameters
    ----------
    areas : Sequence of areas
        The areas. [m]
    frame : Frame
        The plane they are in. [-]

    Returns
    -------
    list of MultiPolygon
        The same areas in the same order. [degree]

    Raises
    ------
    None
        Any areas will do.

    References
    ----------
    Butler, H. et al. (2016), The GeoJSON Format, RFC 7946, section 3.1.6.
    """
    turned = shapely.transform(shapely.orient_polygons(np.array(areas, dtype=object)), frame.lonlat)
    for number in np.flatnonzero(~shapely.is_valid(turned)).tolist():
        turned[number] = _mended(turned[number])
    parts, which = shapely.get_parts(turned, return_index=True)
    many = np.full(len(turned), NOWHERE, dtype=object)
    shapely.multipolygons(parts, indices=which, out=many)
    return list(many)


def _mended(area: Area) -> Area:
    """Part rings that touched in metres and cross in degrees, by the last digit of a corner.

    On both sides of the 180th meridian degrees are no plane, and nothing is mended.
    """
    west, _, east, _ = area.bounds
    if east - west > _HALF_ROUND_DEG:
        return area
    return polygons_of(shapely.orient_polygons(shapely.make_valid(area, method="structure")))
