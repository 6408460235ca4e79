"""What is different between two drawings of one property, shape by shape.

A shape is known again by its ref. Areas are on the ground, slope applied, in m².
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum

import numpy as np
import shapely
from shapely import affinity
from shapely.geometry.base import BaseGeometry

from properties.core.features import Role
from properties.core.frame import frame_around
from properties.core.outlines import Drawing, Shape
from properties.core.slopes import slope_factor

#: Nobody can point closer on a picture, so an outline nearer than this is the same.
SAME_PLACE_M = 0.01

#: What can be told of a shape besides its outline, in the order in which it is told.
FACTS = (
    *("kind", "name", "setback", "downwind_setback", "slope", "gate", "by_hand_only"),
    *("turfgrasses", "measured_by", "position_error"),
)


class Fate(StrEnum):
    """What became of a shape."""

    ADDED = "added"
    REMOVED = "removed"
    CHANGED = "changed"


class Redrawn(StrEnum):
    """How the outline of a shape differs."""

    NOT = "not"
    RETRACED = "retraced"
    MOVED = "moved"
    RESHAPED = "reshaped"


@dataclass(frozen=True)
class ShapeChange:
    """One shape that is not the same in both drawings, and in what it differs.

    ``shape`` is the shape as it is now, or as it was last. ``facts`` names the members
    of ``Shape`` that differ; ``moved_m`` is how far a moved shape lies from where it
    was. A line or a point has no area.
    """

    shape: Shape
    before: Shape | None
    after: Shape | None
    area_before_m2: float | None = None
    area_after_m2: float | None = None
    outline: Redrawn = Redrawn.NOT
    moved_m: float = 0.0
    facts: tuple[str, ...] = ()

    @property
    def ref(self) -> str:
        """By what the shape is known in both drawings."""
        return self.shape.ref

    @property
    def fate(self) -> Fate:
        """What became of the shape."""
        if self.before is None:
            return Fate.ADDED
        return Fate.REMOVED if self.after is None else Fate.CHANGED


@dataclass(frozen=True)
class Comparison:
    """Every shape that differs between two drawings, and the refs of those that do not."""

    changes: tuple[ShapeChange, ...]
    unchanged: tuple[str, ...]
    reordered: bool

    def of_fate(self, fate: Fate) -> tuple[ShapeChange, ...]:
        """The changes of one kind, in the order of all."""
        return tuple(change for change in self.changes if change.fate is fate)


def compare(before: Drawing, after: Drawing) -> Comparison:
    """Find what is different between two drawings of one property.

    Parameters
    ----------
    before : Drawing
        The earlier drawing; one without shapes is a drawing too. [degree]
    after : Drawing
        The later drawing. [degree]

    Returns
    -------
    Comparison
        The shapes that differ: those of the later drawing in its order, then those
        that are gone. [m and m²]

    Raises
    ------
    None
        Any two drawings can be compared.

    References
    ----------
    Our own derivation.
    """
    old = {shape.ref: shape for shape in before.shapes}
    new = {shape.ref: shape for shape in after.shapes}
    gone = [shape for shape in before.shapes if shape.ref not in new]
    different = [shape for shape in (*after.shapes, *gone) if not _same(shape, old, new)]
    plane = _in_plane(
        [one[shape.ref] for shape in different for one in (old, new) if shape.ref in one]
    )
    changed = {shape.ref for shape in different}
    return Comparison(
        tuple(_change(shape, old.get(shape.ref), new.get(shape.ref), plane) for shape in different),
        unchanged=tuple(ref for ref in new if ref not in changed),
        reordered=[ref for ref in old if ref in new] != [ref for ref in new if ref in old],
    )


def _same(shape: Shape, old: Mapping[str, Shape], new: Mapping[str, Shape]) -> bool:
    before, after = old.get(shape.ref), new.get(shape.ref)
    if before is None or after is None:
        return False
    return before is after or (not _facts(before, after) and _identical(before, after))


def _facts(before: Shape, after: Shape) -> tuple[str, ...]:
    return tuple(fact for fact in FACTS if getattr(before, fact) != getattr(after, fact))


def _identical(before: Shape, after: Shape) -> bool:
    return bool(shapely.equals_identical(before.geometry, after.geometry))


def _in_plane(shapes: Sequence[Shape]) -> dict[int, BaseGeometry]:
    """The outline of each shape in metres, all in one frame, by the identity of the shape."""
    outlines = [shape.geometry for shape in shapes]
    plane = frame_around(outlines).all_to_plane(outlines)
    return {id(shape): outline for shape, outline in zip(shapes, plane, strict=True)}


def _change(
    shape: Shape, before: Shape | None, after: Shape | None, plane: Mapping[int, BaseGeometry]
) -> ShapeChange:
    areas_m2 = (_area_m2(before, plane), _area_m2(after, plane))
    if before is None or after is None:
        return ShapeChange(shape, before, after, *areas_m2)
    outline, moved_m = Redrawn.NOT, 0.0
    if not _identical(before, after):
        outline, moved_m = _redrawn(plane[id(before)], plane[id(after)])
    return ShapeChange(shape, before, after, *areas_m2, outline, moved_m, _facts(before, after))


def _area_m2(shape: Shape | None, plane: Mapping[int, BaseGeometry]) -> float | None:
    if shape is None or not plane[id(shape)].area:
        return None
    factor = slope_factor(shape.slope) if shape.kind.role is Role.TURF else 1.0
    return factor * plane[id(shape)].area


def _redrawn(before: BaseGeometry, after: BaseGeometry) -> tuple[Redrawn, float]:
    """How an outline differs from another, and how far it was moved as a whole."""
    corners = shapely.get_coordinates(before), shapely.get_coordinates(after)
    if len(corners[0]) == len(corners[1]):
        east_m, north_m = np.mean(corners[1] - corners[0], axis=0).tolist()
        moved_m = float(np.hypot(east_m, north_m))
        if moved_m > SAME_PLACE_M and shapely.equals_exact(
            affinity.translate(before, east_m, north_m), after, tolerance=SAME_PLACE_M
        ):
            return Redrawn.MOVED, moved_m
    retraced = _covers(before, after) and _covers(after, before)
    return (Redrawn.RETRACED if retraced else Redrawn.RESHAPED), 0.0


def _covers(one: BaseGeometry, other: BaseGeometry) -> bool:
    """Whether the outline of one runs within a hair of all of the other's."""
    return bool(_line_of(one).buffer(SAME_PLACE_M).covers(_line_of(other)))


def _line_of(geometry: BaseGeometry) -> BaseGeometry:
    return geometry.boundary if geometry.area else geometry
