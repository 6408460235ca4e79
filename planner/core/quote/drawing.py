"""A property as a drawing for paper: shapes in metres, what may be treated, what is left.

Metres east and north of the lower left corner, so that paper and page need no map.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

import shapely
from shapely.geometry import shape as shape_of
from shapely.geometry.base import BaseGeometry

from properties.core.features import Role
from properties.core.frame import Frame, frame_around
from properties.core.outlines import Drawing, Shape
from properties.core.plane import NOWHERE, Area, cut, polygons_of, union_of
from properties.core.units import Quantity

Json = dict[str, Any]

#: Corners nearer than this to a straight line tell nothing on paper.
FLATTER_THAN_M = 0.02
MARGIN_M = 1.5
#: How exactly the roomiest spot of a shape is looked for.
NEAR_ENOUGH_M = 0.1
SCALES = {
    "us": [Quantity(length, "ft") for length in (5, 10, 20, 50, 100, 200, 500, 1000)],
    "metric": [Quantity(length, "m") for length in (2, 5, 10, 20, 50, 100, 200, 500)],
}
#: How much of the width the bar of the scale may take.
SCALE_SHARE = 0.3

_LOOKS = {
    "water": {"pool", "pond", "stream", "well", "storm_drain"},
    "plants": {"flower_bed", "vegetable_garden", "tree_or_shrub"},
}


@dataclass(frozen=True)
class Ground:
    """What one visit treats, and the part of it that is done by hand, as GeoJSON in degrees."""

    treatable: Mapping[str, Any]
    by_hand: Mapping[str, Any] | None = None


def lot_drawing(drawing: Drawing, grounds: Sequence[Ground], *, units: str) -> Json:
    """Draw a property with the ground that any of some visits treats.

    Turf that no visit treats is left. Ground that is done by hand at every visit that
    treats it is drawn as such. Protected features are numbered in the order of the drawing.

    Parameters
    ----------
    drawing : Drawing
        What is drawn at the property; some turf. [degree]
    grounds : Sequence[Ground]
        What each visit treats. [degree]
    units : str
        ``us`` or ``metric``, for the bar of the scale. [-]

    Returns
    -------
    dict
        ``width`` and ``height``; ``areas``, each with its ``look`` and its ``rings``;
        ``lines`` and ``points``; ``numbers`` and ``names`` with where they stand and how much
        ``room`` is across there; ``scale``. [m]

    Raises
    ------
    Nothing
        Every drawing can be drawn again.

    References
    ----------
    Our own way of drawing.
    """
    plane = _Plane(drawing)
    everywhere = {name: plane.area(of) for name, of in _ground(drawing, grounds, plane).items()}
    numbered = _numbered(drawing)
    return {
        "width": plane.width,
        "height": plane.height,
        "areas": [
            *({"look": look, "rings": rings} for look, rings in everywhere.items() if rings),
            *_areas(drawing, plane),
        ],
        "lines": [
            {"look": _look(shape), "line": plane.corners(line)}
            for shape in drawing.shapes
            for line in _parts(shape, "LineString")
        ],
        "points": [
            {"look": _look(shape), "at": plane.corners(point)[0]}
            for shape in drawing.shapes
            for point in _parts(shape, "Point")
        ],
        "numbers": [
            {"number": number, "feature": shape.ref, "at": plane.spot(shape)[0]}
            for number, shape in enumerate(numbered, 1)
        ],
        "names": [
            {"text": shape.name or shape.kind.name, "at": at, "room": room}
            for shape in drawing.shapes
            if shape.kind.role is not Role.PROTECTED
            for at, room in [plane.spot(shape)]
        ],
        "scale": _scale(plane.width, units),
    }


def _numbered(drawing: Drawing) -> list[Shape]:
    return [shape for shape in drawing.shapes if shape.kind.role is Role.PROTECTED]


class _Plane:
    """The sheet: metres from the lower left corner of all that is drawn."""

    def __init__(self, drawing: Drawing) -> None:
        geometries = [shape.geometry for shape in drawing.shapes]
        self.frame: Frame = frame_around(geometries)
        bounds = shapely.total_bounds(self.frame.all_to_plane(geometries)).tolist()
        self.west, self.south = bounds[0] - MARGIN_M, bounds[1] - MARGIN_M
        self.width = round(bounds[2] - self.west + MARGIN_M, 2)
        self.height = round(bounds[3] - self.south + MARGIN_M, 2)

    def flat(self, geometry: BaseGeometry) -> BaseGeometry:
        return self.frame.to_plane(geometry)

    def corners(self, geometry: BaseGeometry) -> list[list[float]]:
        return self._from_corner(shapely.get_coordinates(self.flat(geometry)).tolist())

    def area(self, flat: BaseGeometry) -> list[list[list[float]]]:
        """The rings of an area that is in the plane already."""
        parts = shapely.get_parts(shapely.simplify(flat, FLATTER_THAN_M)).tolist()
        return [
            self._from_corner(shapely.get_coordinates(ring).tolist())
            for part in parts
            for ring in (part.exterior, *part.interiors)
        ]

    def spot(self, shape: Shape) -> tuple[list[float], float]:
        """Somewhere well inside a shape, or on it, and how much room is across there."""
        flat = self.flat(shape.geometry)
        if not flat.area:
            on_it = shapely.get_coordinates(flat.representative_point()).tolist()
            return self._from_corner(on_it)[0], 0.0
        part = max(shapely.get_parts(flat).tolist(), key=lambda one: one.area)
        radius = shapely.maximum_inscribed_circle(part, NEAR_ENOUGH_M)
        middle = self._from_corner(shapely.get_coordinates(radius).tolist())[0]
        return middle, round(2 * radius.length, 2)

    def _from_corner(self, xy: list[list[float]]) -> list[list[float]]:
        return [[round(x - self.west, 2), round(y - self.south, 2)] for x, y in xy]


def _ground(drawing: Drawing, grounds: Sequence[Ground], plane: _Plane) -> dict[str, Area]:
    """Divide the turf into what is left, what the machine treats and what is done by hand."""
    turf, obstacles = (
        union_of(
            polygons_of(plane.flat(shape.geometry))
            for shape in drawing.shapes
            if shape.kind.role is role
        )
        for role in (Role.TURF, Role.OBSTACLE)
    )
    treated = _joined(plane, [ground.treatable for ground in grounds])
    by_machine = union_of(
        cut(_joined(plane, [ground.treatable]), by=_joined(plane, [ground.by_hand]))[1]
        for ground in grounds
    )
    by_hand = cut(treated, by=by_machine)[1]
    left = cut(cut(turf, by=obstacles)[1], by=treated)[1]
    return {"left": left, "treatable": by_machine, "hand": by_hand}


def _joined(plane: _Plane, areas: Sequence[Mapping[str, Any] | None]) -> Area:
    told = [polygons_of(plane.flat(shape_of(dict(area)))) for area in areas if area is not None]
    return union_of(told) if told else NOWHERE


def _areas(drawing: Drawing, plane: _Plane) -> Iterator[Json]:
    """The shapes that stand on or in the turf, large ones below."""
    standing = [
        (shape, plane.flat(shape.geometry))
        for shape in drawing.shapes
        if shape.kind.role is not Role.TURF and shape.geometry.area
    ]
    for shape, flat in sorted(standing, key=lambda one: -one[1].area):
        yield {"look": _look(shape), "rings": plane.area(flat)}


def _parts(shape: Shape, form: str) -> list[BaseGeometry]:
    return [part for part in shapely.get_parts(shape.geometry) if part.geom_type == form]


def _look(shape: Shape) -> str:
    for look, kinds in _LOOKS.items():
        if shape.kind.token in kinds:
            return look
    return "obstacle" if shape.kind.role is Role.OBSTACLE else "people"


def _scale(width_m: float, units: str) -> Json:
    fitting = [length for length in SCALES[units] if length.si <= SCALE_SHARE * width_m]
    length = fitting[-1] if fitting else SCALES[units][0]
    return {"length": round(length.si, 4), "text": f"{length.value:g} {length.unit}"}
