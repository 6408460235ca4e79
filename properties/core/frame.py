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
Counts = npt.NDArray[np.intp]
Flags = npt.NDArray[np.bool_]
Shapes = npt.NDArray[np.object_]

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
class Centres:
    """Where some frames touch the earth, in degrees, and what their maps need of that.

    Sine and cosine of the authalic latitude, and Snyder's D (equation 24-20).
    """

    lon: Floats
    sine: Floats
    cosine: Floats
    stretch: Floats

    def of(self, which: Counts) -> "Centres":
        """The centre of each corner, from the number of its frame."""
        return Centres(self.lon[which], self.sine[which], self.cosine[which], self.stretch[which])

    def xy(self, lonlat: Floats) -> Floats:
        """Metres east and north for rows of longitude and latitude, each with its centre."""
        sine = _authalic_q(np.sin(np.radians(lonlat[:, 1]))) / _Q_POLE
        cosine = np.sqrt((1 - sine) * (1 + sine))
        # Wrapped, so that a property on both sides of the 180th meridian is one property.
        turn = np.radians((lonlat[:, 0] - self.lon + 180) % 360 - 180)
        along = cosine * np.cos(turn)
        scale = _AUTHALIC_RADIUS_M * np.sqrt(2 / (1 + self.sine * sine + self.cosine * along))
        east = scale * self.stretch * cosine * np.sin(turn)
        north = scale / self.stretch * (self.cosine * sine - self.sine * along)
        return np.column_stack((east, north))


def centres_at(lon: Floats, lat: Floats) -> Centres:
    """Prepare frames that touch the earth at some points.

    Parameters
    ----------
    lon, lat : arrays
        The points. [degree]

    Returns
    -------
    Centres
        What their maps need. [-]

    Raises
    ------
    None
        Any points but the poles will do.

    References
    ----------
    Snyder (1987), equations 3-11, 3-12 and 24-20.
    """
    latitude = np.radians(lat)
    sine = _authalic_q(np.sin(latitude)) / _Q_POLE
    cosine = np.sqrt((1 - sine) * (1 + sine))
    parallel = np.cos(latitude) / np.sqrt(1 - _E2 * np.sin(latitude) ** 2)
    stretch = EQUATORIAL_RADIUS_M * parallel / (_AUTHALIC_RADIUS_M * cosine)
    return Centres(lon, sine, cosine, stretch)


@dataclass(frozen=True)
class Frame:
    """A plane in metres that touches the earth at one point, and the two ways through it."""

    lon0: float
    lat0: float

    @cached_property
    def _centre(self) -> Centres:
        return centres_at(np.array(self.lon0), np.array(self.lat0))

    def xy(self, lonlat: Floats) -> Floats:
        """Metres east and north of the centre for rows of longitude and latitude."""
        return self._centre.xy(lonlat)

    def lonlat(self, xy: Floats) -> Floats:
        """Longitude and latitude for rows of metres east and north of the centre."""
        centre = self._centre
        sin0, cos0, stretch = centre.sine, centre.cosine, centre.stretch
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
    lon, lat = middles_of(corners, corners=np.array([len(corners)]))
    return Frame(float(lon[0]), float(lat[0]))


def middles_of(lonlat: Floats, *, corners: Counts) -> tuple[Floats, Floats]:
    """The middle of each of many groups of corners, as for ``frame_around``.

    Parameters
    ----------
    lonlat : array of shape (n, 2)
        Corners of one group after another. [degree]
    corners : array of int
        How many each group has, one at least. [-]

    Returns
    -------
    tuple of arrays
        Longitude and latitude of each middle. [degree]

    Raises
    ------
    None
        Any corners will do.

    References
    ----------
    Our own derivation: the middle of the bounds keeps the farthest corner nearest.
    """
    starts = np.cumsum(corners) - corners
    first = lonlat[starts, 0]
    turns = (lonlat[:, 0] - np.repeat(first, corners) + 180) % 360 - 180
    lon = first + (np.minimum.reduceat(turns, starts) + np.maximum.reduceat(turns, starts)) / 2
    lat = lonlat[:, 1]
    middle = (np.minimum.reduceat(lat, starts) + np.maximum.reduceat(lat, starts)) / 2
    return (lon + 180) % 360 - 180, middle


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
