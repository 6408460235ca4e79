"""From degrees to metres round one property, and back, so that every area is true.

The plane is a Lambert azimuthal equal-area map of the WGS 84 ellipsoid with its
centre on the property: x to the east and y to the north in metres, degrees of
longitude and latitude outside. Areas are kept exactly; a distance within 10 km
of the centre is true to 3 parts in a million.

Snyder, J. P. (1987), Map Projections: A Working Manual, U.S. Geological Survey
Professional Paper 1395, pages 187 to 190; the equations are numbered as there.
"""

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np
import numpy.typing as npt
import shapely
from shapely.geometry.base import BaseGeometry

Floats = npt.NDArray[np.float64]

# WGS 84 (NGA.STND.0036): the equatorial radius in metres and the flattening.
EQUATORIAL_RADIUS_M = 6378137.0
FLATTENING = 1 / 298.257223563
_E2 = FLATTENING * (2 - FLATTENING)
_E = math.sqrt(_E2)


def _authalic_q(sin_latitude: Floats) -> Floats:
    """Snyder's q, equation 3-12: twice the area between the equator and a latitude, by a²."""
    return (1 - _E2) * (
        sin_latitude / (1 - _E2 * sin_latitude**2) + np.arctanh(_E * sin_latitude) / _E
    )


_Q_POLE = float(_authalic_q(np.array(1.0)))
_AUTHALIC_RADIUS_M = EQUATORIAL_RADIUS_M * math.sqrt(_Q_POLE / 2)


@dataclass(frozen=True)
class Frame:
    """A plane in metres that touches the earth at one point, and the two ways through it."""

    lon0: float
    lat0: float

    @cached_property
    def _centre(self) -> tuple[float, float, float]:
        """Sine and cosine of the centre's authalic latitude, and Snyder's D (equation 24-20)."""
        latitude = math.radians(self.lat0)
        sine = float(_authalic_q(np.array(math.sin(latitude)))) / _Q_POLE
        cosine = math.sqrt((1 - sine) * (1 + sine))
        parallel = math.cos(latitude) / math.sqrt(1 - _E2 * math.sin(latitude) ** 2)
        return sine, cosine, EQUATORIAL_RADIUS_M * parallel / (_AUTHALIC_RADIUS_M * cosine)

    def xy(self, lonlat: Floats) -> Floats:
        """Metres east and north of the centre for rows of longitude and latitude."""
        sin0, cos0, stretch = self._centre
        sine = _authalic_q(np.sin(np.radians(lonlat[:, 1]))) / _Q_POLE
        cosine = np.sqrt((1 - sine) * (1 + sine))
        # Wrapped, so that a property on both sides of the 180th meridian is one property.
        turn = np.radians((lonlat[:, 0] - self.lon0 + 180) % 360 - 180)
        scale = _AUTHALIC_RADIUS_M * np.sqrt(2 / (1 + sin0 * sine + cos0 * cosine * np.cos(turn)))
        east = scale * stretch * cosine * np.sin(turn)
        north = scale / stretch * (cos0 * sine - sin0 * cosine * np.cos(turn))
        return np.column_stack((east, north))

    def lonlat(self, xy: Floats) -> Floats:
        """Longitude and latitude for rows of metres east and north of the centre."""
        sin0, cos0, stretch = self._centre
        east, north = xy[:, 0] / stretch, xy[:, 1] * stretch
        half_sine = np.hypot(east, north) / (2 * _AUTHALIC_RADIUS_M)
        per_metre = np.sqrt(1 - half_sine**2) / _AUTHALIC_RADIUS_M
        cos_arc = 1 - 2 * half_sine**2
        sine = cos_arc * sin0 + north * per_metre * cos0
        turn = np.arctan2(east * per_metre, cos0 * cos_arc - north * sin0 * per_metre)
        lon = self.lon0 + np.degrees(turn)
        lon = np.where(np.abs(lon) > 180, (lon + 180) % 360 - 180, lon)
        return np.column_stack((lon, np.degrees(_latitude_of_q(sine * _Q_POLE))))

    def to_plane(self, geometry: BaseGeometry) -> BaseGeometry:
        """The same shape in metres."""
        return self.all_to_plane([geometry])[0]

    def all_to_plane(self, geometries: Sequence[BaseGeometry]) -> list[BaseGeometry]:
        """The same shapes in metres, in one pass."""
        return list(shapely.transform(np.array(geometries, dtype=object), self.xy))

    def to_degrees(self, geometry: BaseGeometry) -> BaseGeometry:
        """The same shape in degrees of longitude and latitude."""
        turned: BaseGeometry = shapely.transform(geometry, self.lonlat)
        return turned


def frame_around(geometries: Iterable[BaseGeometry]) -> Frame:
    """The frame whose centre is the middle of some shapes.

    Longitudes are counted from the first corner, so that shapes on both sides
    of the 180th meridian have their middle between them and not in Africa.

    Parameters
    ----------
    geometries : Iterable of BaseGeometry
        Shapes in degrees of longitude and latitude. [degree]

    Returns
    -------
    Frame
        The frame; round longitude 0, latitude 0 if there is no corner at all. [-]

    Raises
    ------
    None
        Any shapes will do.

    References
    ----------
    Our own derivation: the middle of the bounds keeps the farthest corner nearest.
    """
    corners = shapely.get_coordinates(list(geometries))
    if not len(corners):
        return Frame(0.0, 0.0)
    turns = (corners[:, 0] - corners[0, 0] + 180) % 360 - 180
    lon = float(corners[0, 0] + (turns.min() + turns.max()) / 2)
    lat = float((corners[:, 1].min() + corners[:, 1].max()) / 2)
    return Frame((lon + 180) % 360 - 180, lat)


def _latitude_of_q(q: Floats) -> Floats:
    """The latitude that has an authalic q, in radians: Newton's steps on equation 3-12.

    The first guess is the authalic latitude, 2.3e-3 rad off at most, and each
    step squares the error, so three steps reach the last bit.
    """
    latitude = np.arcsin(q / _Q_POLE)
    for _ in range(3):
        sine = np.sin(latitude)
        slope = 2 * (1 - _E2) * np.cos(latitude) / (1 - _E2 * sine**2) ** 2
        latitude = latitude + (q - _authalic_q(sine)) / slope
    return latitude
