"""GeoJSON in and out: what was drawn, what was mended, and what cannot be used as it is.

Degrees of longitude and latitude (WGS 84) as they were drawn. A shape across the
180th meridian has longitudes of both signs, never one beyond 180.
"""

from properties.core.outlines.areas import read_area
from properties.core.outlines.drawing import Drawing, Note, Shape, ShapeFault
from properties.core.outlines.reading import MOST_CORNERS, read_drawing
from properties.core.outlines.writing import write_areas, write_drawing

__all__ = [
    "MOST_CORNERS",
    "Drawing",
    "Note",
    "Shape",
    "ShapeFault",
    "read_area",
    "read_drawing",
    "write_areas",
    "write_drawing",
]
