"""A drawing that has been read: its shapes, and a note for every repair."""

from dataclasses import dataclass

from shapely.geometry.base import BaseGeometry

from properties.core.errors import Refused
from properties.core.features import Kind, Role
from properties.core.units import Quantity


@dataclass(frozen=True)
class Shape:
    """One thing that was drawn, cleaned: where it is, in degrees, and what it is.

    ``downwind_setback`` is kept on the side the wind comes from. ``by_hand_only`` and
    ``gate``, the width of the narrowest way in, belong to turf, and so do ``turfgrasses``, the
    words of what grows there, empty where nobody told. ``position_error`` is the standard
    deviation of a corner along either axis, ``measured_by`` how it was measured.
    """

    ref: str
    kind: Kind
    name: str
    geometry: BaseGeometry
    setback: Quantity | None = None
    slope: Quantity | None = None
    downwind_setback: Quantity | None = None
    by_hand_only: bool = False
    gate: Quantity | None = None
    position_error: Quantity | None = None
    measured_by: str | None = None
    turfgrasses: tuple[str, ...] = ()


@dataclass(frozen=True)
class Note:
    """A repair or a choice that was made, in plain words, and the shape it was made to."""

    shape: str | None
    message: str
    code: str


@dataclass(frozen=True)
class Drawing:
    """Every shape in the order it was drawn, and what was mended on the way in."""

    shapes: tuple[Shape, ...]
    notes: tuple[Note, ...] = ()

    def of_role(self, role: Role) -> tuple[Shape, ...]:
        """The shapes of one role, in drawing order."""
        return tuple(shape for shape in self.shapes if shape.kind.role is role)


class ShapeFault(Refused):
    """Something about a shape that cannot be used, and where on the map to look."""

    def __init__(
        self,
        field: str,
        problem: str,
        remedy: str = "",
        *,
        shape: str | None = None,
        at_lonlat: tuple[float, float] | None = None,
    ) -> None:
        super().__init__(field, problem, remedy)
        self.shape = shape
        self.at_lonlat = at_lonlat

    def at(self, field: str) -> "ShapeFault":
        """Say the same of another field, so that an outer caller can add the path."""
        return ShapeFault(
            field, self.problem, self.remedy, shape=self.shape, at_lonlat=self.at_lonlat
        )
