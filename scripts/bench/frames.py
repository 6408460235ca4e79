"""The same question put to geopandas, where it is installed."""

from collections.abc import Callable, Sequence
from importlib import import_module
from importlib.util import find_spec
from typing import Any

from properties.core.features import Role
from properties.core.zones import Setback
from scripts.bench.clock import Took, clocked
from scripts.bench.lots import Place

_PLANE = "+proj=laea +lat_0=40 +lon_0=-90 +ellps=WGS84 +units=m +no_defs"
_NONE = Setback(0.0, "an obstacle")


def is_installed() -> bool:
    """Whether geopandas can be imported."""
    return find_spec("geopandas") is not None


def ready(places: Sequence[Place]) -> Callable[[], Took]:
    """A clock over all properties, whose shapes lie ready in frames in degrees."""
    geopandas = import_module("geopandas")
    rows = [
        (number, shape.geometry, setbacks.get(shape.ref, _NONE).distance_m, shape.kind.role)
        for number, (drawing, setbacks) in enumerate(places)
        for shape in drawing.shapes
    ]
    turf, cut = (
        geopandas.GeoDataFrame(
            {"place": [row[0] for row in some], "distance_m": [row[2] for row in some]},
            geometry=[row[1] for row in some],
            crs="EPSG:4326",
        )
        for some in (
            [row for row in rows if row[3] is Role.TURF],
            [row for row in rows if row[3] is not Role.TURF],
        )
    )
    return lambda: clocked(lambda: _measure(turf, cut))


def _measure(turf: Any, cut: Any) -> None:
    """Buffers, one union for each property, an aligned difference."""
    turf, cut = turf.to_crs(_PLANE), cut.to_crs(_PLANE)
    cut = cut.set_geometry(cut.geometry.buffer(cut.distance_m, quad_segs=8))
    lawns = turf.dissolve("place").geometry
    lawns.difference(cut.dissolve("place").geometry, align=True).area.sum()
