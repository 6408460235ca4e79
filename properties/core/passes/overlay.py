"""Strips laid over ground: what of each lies on it, and what ground they leave.

Where a strip is flush with an edge but for rounding, the usual overlay of GEOS can lose
the strip without an error, and its difference then agrees with it. On a grid it is
sound, so that is where strips are cut. Metres, in the plane of the property's frame.
"""

from typing import Any

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import MultiPolygon, Polygon
from shapely.geometry.base import BaseGeometry

from properties.core.plane import polygons_of

#: A thousandth of a micrometre, far more than the rounding of a place on a property.
_GRID_M = 1e-9


def strips_on(ground: BaseGeometry, strips: NDArray[Any]) -> NDArray[Any]:
    """The part of each strip that lies on ground.

    Parameters
    ----------
    ground : BaseGeometry
        Valid polygons. [m]
    strips : array of BaseGeometry
        Valid areas. [m]

    Returns
    -------
    array of BaseGeometry
        Of each strip what lies on the ground. [m]

    Raises
    ------
    None
        Valid areas can always be cut.

    References
    ----------
    Our own derivation.
    """
    return np.asarray(shapely.intersection(ground, strips, grid_size=_GRID_M))


def ground_beside(ground: BaseGeometry, strip: BaseGeometry) -> Polygon | MultiPolygon:
    """The ground that a strip leaves.

    Parameters
    ----------
    ground : BaseGeometry
        A valid area. [m]
    strip : BaseGeometry
        A valid area; may be empty. [m]

    Returns
    -------
    Polygon or MultiPolygon
        The ground that does not lie under the strip. [m]

    Raises
    ------
    None
        Valid areas can always be cut.

    References
    ----------
    Our own derivation.
    """
    return polygons_of(shapely.difference(ground, strip, grid_size=_GRID_M))
