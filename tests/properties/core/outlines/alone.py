"""One shape read alone: what became of it, or the one fault it has and where that points."""

import numpy as np
import pytest

from properties.core.errors import FaultsFound
from properties.core.frame import Frame
from properties.core.outlines import Shape, ShapeFault
from tests.properties.core.drawn import Json, Point, box, drawing, feature, on_the_map

FRAME = Frame(-90, 40)
SQUARE = box(0, 0, 10, 10)


def read(kind: str, geometry: Json) -> tuple[Shape, list[str]]:
    """The only shape of a drawing, and the codes of what was mended."""
    whole = drawing(feature("a", kind, geometry, name="Shape A"))
    return whole.shapes[0], [note.code for note in whole.notes]


def area_m2(shape: Shape) -> float:
    return FRAME.to_plane(shape.geometry).area


def fault(kind: str, geometry: object) -> ShapeFault:
    with pytest.raises(FaultsFound) as found:
        drawing(feature("a", kind, geometry, name="Shape A"))
    (only,) = found.value.faults
    assert isinstance(only, ShapeFault)
    assert only.shape == "a"
    return only


def place_m(only: ShapeFault) -> tuple[float, float]:
    """Where a fault points to, in metres from the anchor."""
    assert only.at_lonlat is not None
    x, y = FRAME.xy(np.array([only.at_lonlat]))[0].tolist()
    return x, y


def line(kind: str, points_m: list[Point]) -> Json:
    return {"type": kind, "coordinates": on_the_map(points_m)}
