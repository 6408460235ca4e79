"""A drawing as GeoJSON again, every coordinate to its last bit."""

from itertools import pairwise
from typing import Any

import geojson
import numpy as np
import shapely
from shapely import MultiPolygon

from properties.core.outlines.drawing import Drawing, Shape
from properties.core.outlines.turf import BY_HAND

#: Decimals to round coordinates to: so many that no float changes.
_EVERY_DECIMAL = 400


def write_drawing(drawing: Drawing) -> dict[str, Any]:
    """Write a drawing as a GeoJSON FeatureCollection that reads back as the same drawing.

    Parameters
    ----------
    drawing : Drawing
        What to write. [degree]

    Returns
    -------
    dict
        A FeatureCollection of plain lists, strings and numbers. [degree]

    Raises
    ------
    None
        Every drawing can be written.

    References
    ----------
    Butler, H. et al. (2016), The GeoJSON Format, RFC 7946, sections 3.1 to 3.3.
    """
    collection: dict[str, Any] = geojson.FeatureCollection(
        [_feature(shape) for shape in drawing.shapes]
    )
    return collection


def write_areas(areas: MultiPolygon) -> dict[str, Any]:
    """Write areas as a GeoJSON MultiPolygon.

    Parameters
    ----------
    areas : MultiPolygon
        What to write. [degree]

    Returns
    -------
    dict
        A geometry of plain lists and numbers. [degree]

    Raises
    ------
    None
        All areas can be written.

    References
    ----------
    Butler, H. et al. (2016), The GeoJSON Format, RFC 7946, section 3.1.7.
    """
    polygons = shapely.get_parts(areas)
    rings, whose = shapely.get_rings(polygons, return_index=True)
    corners, ring = shapely.get_coordinates(rings, return_index=True)
    positions = corners.tolist()
    ends = np.searchsorted(ring, np.arange(len(rings)), side="right").tolist()
    written: list[list[list[list[float]]]] = [[] for _ in polygons]
    for polygon, (start, end) in zip(whose.tolist(), pairwise([0, *ends]), strict=True):
        written[polygon].append(positions[start:end])
    return {"type": "MultiPolygon", "coordinates": written}


def _feature(shape: Shape) -> geojson.Feature:
    properties: dict[str, Any] = {"kind": shape.kind.token}
    if shape.name:
        properties["name"] = shape.name
    told = {
        "setback": shape.setback,
        "downwind_setback": shape.downwind_setback,
        "slope": shape.slope,
        "gate": shape.gate,
        "position_error": shape.position_error,
    }
    for word, quantity in told.items():
        if quantity is not None:
            properties[word] = quantity.to_the_last_digit
    if shape.by_hand_only:
        properties["only"] = BY_HAND
    if shape.measured_by is not None:
        properties["measured_by"] = shape.measured_by
    if shape.turfgrasses:
        properties["turfgrasses"] = list(shape.turfgrasses)
    drawn = shapely.geometry.mapping(shape.geometry)
    outline = getattr(geojson, drawn["type"])(drawn["coordinates"], precision=_EVERY_DECIMAL)
    return geojson.Feature(id=shape.ref, properties=properties, geometry=outline)
