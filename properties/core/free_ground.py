"""The ground of a property before it is known what may be treated.

Metres and m², in the plane of the property's frame; areas on the ground, slope applied.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from properties.core.errors import Refused
from properties.core.features import Role
from properties.core.frame import Frame, frame_around
from properties.core.left_out import LeftOut, first_come, share_of
from properties.core.no_spray import plain_zones
from properties.core.outlines import Drawing, Note, Shape
from properties.core.plane import Area, cut, union_of
from properties.core.slopes import SlopedGround, slope_factor, sloped_ground
from properties.core.zones import Setback, Zone

_OVERLAP_WORTH_SAYING_M2 = 0.01
_SQ_FT_M2 = 0.3048**2


@dataclass(frozen=True)
class Site:
    """The ground of a property before any distance is kept: turf, and what lies on it.

    What follows from the drawing is worked out when it is first asked for.
    """

    drawing: Drawing
    frame: Frame

    @cached_property
    def plane(self) -> dict[str, BaseGeometry]:
        """Every shape in metres by its ref."""
        return _in_plane(self.frame, self.drawing.shapes)

    @cached_property
    def slope_factors(self) -> dict[str, float]:
        """How much larger each turf shape is than on the map, by its ref."""
        turf = self.drawing.of_role(Role.TURF)
        return {shape.ref: slope_factor(shape.slope) for shape in turf}

    @cached_property
    def turf(self) -> Area:
        """All turf."""
        return union_of(self.plane[ref] for ref in self.slope_factors)

    @cached_property
    def _sloped(self) -> tuple[SlopedGround, float]:
        slopes = set(self.slope_factors.values())
        if len(slopes) == 1:
            return SlopedGround(((slopes.pop(), self.turf),)), 0.0
        return sloped_ground(
            [(factor, self.plane[ref]) for ref, factor in self.slope_factors.items()]
        )

    @property
    def ground(self) -> SlopedGround:
        """The turf with its slopes."""
        return self._sloped[0]

    def area_of(self, geometry: BaseGeometry) -> float:
        """Area on the ground of a part of the turf, slope applied."""
        slopes = set(self.slope_factors.values())
        if len(slopes) == 1:
            return slopes.pop() * geometry.area
        return self.ground.area_of(geometry)

    @cached_property
    def _covered(self) -> tuple[Area, Area]:
        shapes = [self.plane[shape.ref] for shape in self.drawing.of_role(Role.OBSTACLE)]
        return cut(self.turf, union_of(_near(shapes, self.turf)))

    @property
    def obstacles(self) -> Area:
        """Turf under obstacles."""
        return self._covered[0]

    @property
    def free(self) -> Area:
        """Turf without obstacles."""
        return self._covered[1]

    @cached_property
    def notes(self) -> tuple[Note, ...]:
        """What is worth saying about turf shapes that overlap."""
        areas_m2 = [self.plane[ref].area for ref in self.slope_factors]
        return _notes(areas_m2, self.turf, contested_m2=self._sloped[1])

    def zones(self, setbacks: Mapping[str, Setback]) -> tuple[Zone, ...]:
        """The no-spray zone of each shape that has a setback; see ``treat`` for what is refused."""
        require_setbacks(self.drawing, setbacks)
        return _zones(self.drawing, self.plane, setbacks)

    def kept_by(self, zones: Sequence[Zone]) -> Area:
        """All ground under some zones near the turf."""
        return union_of(_near([zone.geometry for zone in zones], self.turf))

    def left_out(
        self, zones: Sequence[Zone], *, kept: BaseGeometry, unsprayed: BaseGeometry
    ) -> tuple[LeftOut, ...]:
        """Each feature's share of unsprayed ground under zones, whose union is given too."""
        shares = first_come([zone.geometry for zone in zones], unsprayed, clusters=kept)
        return tuple(
            share_of(zone.ref, pieces, self.plane[zone.ref], self.ground)
            for zone, pieces in zip(zones, shares, strict=True)
        )


def site_of(drawing: Drawing) -> Site:
    """Lay a drawing out in its frame: turf, what lies on it, what is free.

    Parameters
    ----------
    drawing : Drawing
        The property as it was read. [degree]

    Returns
    -------
    Site
        The ground. [m]

    Raises
    ------
    None
        Every drawing can be laid out.

    References
    ----------
    Our own derivation.
    """
    frame = frame_around(shape.geometry for shape in drawing.of_role(Role.TURF) or drawing.shapes)
    return Site(drawing, frame)


def require_setbacks(drawing: Drawing, setbacks: Mapping[str, Setback]) -> None:
    """Refuse a drawing if a distance is missing, or is set where there can be none.

    Parameters
    ----------
    drawing : Drawing
        The property. [degree]
    setbacks : Mapping of str to Setback
        The distance to keep from each shape, by its ref. [m]

    Returns
    -------
    None
        Nothing, where all is well. [-]

    Raises
    ------
    Refused
        If a protected shape has no setback, or one belongs to turf or to no shape.

    References
    ----------
    Our own rule: a distance that nobody gave is unknown, not zero.
    """
    shapes = {shape.ref: shape for shape in drawing.shapes}
    for ref in setbacks:
        if ref not in shapes or shapes[ref].kind.role is Role.TURF:
            raise Refused(
                ref, f"“{ref}” is not a shape that can have a setback.", "Leave its setback out."
            )
    for shape in drawing.of_role(Role.PROTECTED):
        if shape.ref not in setbacks:
            raise Refused(
                shape.ref,
                f"No distance has been decided for {shape.name or shape.ref}.",
                "Give it a setback; zero is a decision too.",
            )


def _in_plane(frame: Frame, shapes: Sequence[Shape]) -> dict[str, BaseGeometry]:
    """Every shape in metres, valid there too: rounding can make two edges touch."""
    plane = np.array(frame.all_to_plane([shape.geometry for shape in shapes]), dtype=object)
    broken = ~shapely.is_valid(plane)
    if broken.any():
        plane[broken] = shapely.make_valid(plane[broken], method="structure")
    return dict(zip((shape.ref for shape in shapes), plane.tolist(), strict=True))


def _near(shapes: Sequence[BaseGeometry], turf: Area) -> list[BaseGeometry]:
    """Those whose box meets the box of the turf."""
    if not shapes or turf.is_empty:
        return []
    boxes = shapely.bounds(np.array(shapes, dtype=object))
    west, south, east, north = turf.bounds
    meets = (boxes[:, 0] <= east) & (boxes[:, 2] >= west)
    meets &= (boxes[:, 1] <= north) & (boxes[:, 3] >= south)
    return [shapes[index] for index in np.flatnonzero(meets).tolist()]


def _zones(
    drawing: Drawing, plane: Mapping[str, BaseGeometry], setbacks: Mapping[str, Setback]
) -> tuple[Zone, ...]:
    refs = [shape.ref for shape in drawing.shapes if shape.ref in setbacks]
    ready = plain_zones(
        np.array([plane[ref] for ref in refs], dtype=object),
        setbacks_m=np.array([_plain_m(setbacks[ref]) for ref in refs]),
    )
    zones = []
    for number, ref in enumerate(refs):
        setback = setbacks[ref]
        try:
            zones.append(Zone(ref, setback, ready.get(number) or setback.zone_of(plane[ref])))
        except Refused as refused:
            raise refused.at(ref) from None
    return tuple(zones)


def _plain_m(setback: Setback) -> float:
    """The distance that is kept on every side alike; none if it depends on the side."""
    return setback.in_frame_m if setback.is_plain else 0.0


def _notes(areas_m2: Sequence[float], turf: Area, *, contested_m2: float) -> tuple[Note, ...]:
    notes = []
    twice_m2 = sum(areas_m2) - turf.area
    if twice_m2 > _OVERLAP_WORTH_SAYING_M2:
        notes.append(
            Note(
                None,
                f"Turf shapes overlap by {_said(twice_m2)}; that ground is counted once.",
                "turf_overlaps",
            )
        )
    if contested_m2 > _OVERLAP_WORTH_SAYING_M2:
        notes.append(
            Note(
                None,
                f"Turf shapes with different slopes overlap by {_said(contested_m2)}; the "
                "gentler slope counts there.",
                "slopes_overlap",
            )
        )
    return tuple(notes)


def _said(area_m2: float) -> str:
    return f"{area_m2:,.2f} m² ({area_m2 / _SQ_FT_M2:,.1f} sq ft)"
