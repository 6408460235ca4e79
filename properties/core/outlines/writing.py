"""A drawing as GeoJSON again, every coordinate to its last bit."""

from typing import Any

import geojson
import shapely

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


def _feature(shape: Shape) -> geojson.Feature:
    properties = {"kind": shape.kind.token}
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
    drawn = shapely.geometry.mapping(shape.geometry)
    outline = getattr(geojson, drawn["type"])(drawn["coordinates"], precision=_EVERY_DECIMAL)
    return geojson.Feature(id=shape.ref, properties=properties, geometry=outline)
