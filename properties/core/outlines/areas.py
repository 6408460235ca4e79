"""Reading one area that is no shape of a drawing: ground that was sprayed, or sown."""

from typing import Any

from shapely.geometry.base import BaseGeometry

from properties.core.errors import FaultsFound, Refused
from properties.core.features import Role
from properties.core.outlines.cleaning import cleaned
from properties.core.outlines.draft import Draft
from properties.core.outlines.positions import AREAS, corners_in, read_outline
from properties.core.outlines.reading import MOST_CORNERS


def read_area(geometry: object, *, field: str) -> BaseGeometry:
    """Read a GeoJSON Polygon or MultiPolygon, cleaned.

    An outline that crosses itself is read as all ground that it may enclose, so that
    ground never counts as left out by a slip of the hand.

    Parameters
    ----------
    geometry : object
        The geometry as it came out of a JSON reader: WGS 84 longitude and latitude. [degree]
    field : str
        What to call it in a refusal. [-]

    Returns
    -------
    BaseGeometry
        A valid area. [degree]

    Raises
    ------
    FaultsFound
        If it is no area, lies off the map or has too many corners.

    References
    ----------
    Butler, H. et al. (2016), The GeoJSON Format, RFC 7946, section 3.1.
    """
    kind = geometry.get("type") if isinstance(geometry, dict) else None
    if kind not in AREAS:
        remedy = f"Write a GeoJSON {' or '.join(AREAS)}."
        raise FaultsFound([Refused(field, "This is not an area.", remedy)])
    if corners_in({"geometry": geometry}) > MOST_CORNERS:
        problem = f"This area has more than {MOST_CORNERS:,} corners."
        raise FaultsFound([Refused(field, problem, "Leave out corners on straight lines.")])
    draft = Draft(0, "this area", field)
    area = _cleaned(draft, geometry)
    if draft.faults:
        raise FaultsFound([fault.at(_here(fault.field)) for fault in draft.faults])
    if area is None:
        raise FaultsFound([Refused(field, "This area holds no ground.", "Draw it again.")])
    return area


def _cleaned(draft: Draft, geometry: Any) -> BaseGeometry | None:
    outline = read_outline(draft, geometry)
    return None if outline is None else cleaned(draft, Role.OBSTACLE, outline)


def _here(field: str) -> str:
    """Leave out the word that a feature has between its own path and its coordinates."""
    return field.replace(".geometry", "", 1)
