"""From metres east and north of an anchor to degrees, by the radii of the ellipsoid.

Over the few hundred metres of a property a degree of latitude and a degree of
longitude have one length each: that of the anchor. So a picture that is laid
between bounds in degrees fits a drawing that was placed the same way.
"""

import math
from dataclasses import dataclass
from functools import cached_property

import numpy as np
import numpy.typing as npt
import shapely
from shapely.geometry.base import BaseGeometry

# WGS 84 (NGA.STND.0036): the equatorial radius in metres and the first eccentricity squared.
_RADIUS_M = 6378137.0
_E2 = 0.00669437999014


@dataclass(frozen=True)
class Anchor:
    """The point of the map that local metres are counted from."""

    lon: float
    lat: float

    @cached_property
    def degrees_per_metre(self) -> tuple[float, float]:
        """Degrees of longitude in a metre east, of latitude in a metre north."""
        latitude = math.radians(self.lat)
        curve = 1 - _E2 * math.sin(latitude) ** 2
        meridian_m = _RADIUS_M * (1 - _E2) / curve**1.5
        parallel_m = _RADIUS_M / math.sqrt(curve) * math.cos(latitude)
        return math.degrees(1 / parallel_m), math.degrees(1 / meridian_m)

    def placed(self, geometry: BaseGeometry) -> BaseGeometry:
        """The shape in degrees of longitude and latitude."""

        def to_degrees(xy: npt.NDArray[np.float64]) -> npt.NDArray[np.float64]:
            lonlat: npt.NDArray[np.float64] = xy * self.degrees_per_metre + (self.lon, self.lat)
            return lonlat

        return shapely.transform(geometry, to_degrees)
