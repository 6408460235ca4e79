"""Degrees stretched to about metres round one corner, so that straight lines stay straight.

Whether an outline crosses itself is asked of the lines that were drawn, and those are
straight on the map. In the equal-area frame a parallel is bent, by 0.2 mm in 100 m, and
an edge that retraces another would come apart. Areas here are good to 1 % at 20 km: for
what is too small or too thin, never for what is planned.
"""

import math
from dataclasses import dataclass
from functools import cached_property

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from properties.core.frame import Floats

METRES_PER_DEGREE = 111_195.0  # of a great circle on a ball of 6,371 km


@dataclass(frozen=True)
class FlatMap:
    """The map round a corner, in metres east and north of it."""

    lon0: float
    lat0: float

    @cached_property
    def _stretch(self) -> Floats:
        return METRES_PER_DEGREE * np.array([math.cos(math.radians(self.lat0)), 1.0])

    def xy(self, lonlat: Floats) -> Floats:
        """Metres for rows of longitude and latitude, across the 180th meridian too."""
        away = lonlat - np.array([self.lon0, self.lat0])
        beyond = np.abs(away[:, 0]) > 180
        away[beyond, 0] -= np.copysign(360, away[beyond, 0])
        stretched: Floats = away * self._stretch
        return stretched

    def lonlat(self, xy: Floats) -> Floats:
        """Longitude and latitude for rows of metres."""
        lonlat: Floats = xy / self._stretch + np.array([self.lon0, self.lat0])
        beyond = np.abs(lonlat[:, 0]) > 180
        lonlat[beyond, 0] -= np.copysign(360, lonlat[beyond, 0])
        return lonlat

    def to_plane(self, geometry: BaseGeometry) -> BaseGeometry:
        """The same shape in metres."""
        flat: BaseGeometry = shapely.transform(geometry, self.xy)
        return flat

    def to_degrees(self, geometry: BaseGeometry) -> BaseGeometry:
        """The same shape in degrees of longitude and latitude."""
        turned: BaseGeometry = shapely.transform(geometry, self.lonlat)
        return turned
