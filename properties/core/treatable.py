"""Treatable ground is turf without obstacles and no-spray zones; and why the rest is left.

Metres and m², in the plane of the property's frame; areas on the ground, slope applied.
"""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np
import shapely
from shapely import MultiPolygon
from shapely.geometry.base import BaseGeometry

from properties.core.downwind import Downwind, with_downwind
from properties.core.errors import Refused
from properties.core.features import Role
from properties.core.frame import Frame, frame_around
from properties.core.left_out import LeftOut, first_come
from properties.core.outlines import Drawing, Note, Shape
from properties.core.plane import Area, cut, polygons_of, union_of
from properties.core.slopes import SlopedGround, slope_factor, sloped_ground

#: Distances in the frame are true to less than this share, so each is kept that much longer.
_FRAME_SHARE = 5e-6
_OVERLAP_WORTH_SAYING_M2 = 0.01
_SQ_FT_M2 = 0.3048**2


@dataclass(frozen=True)
class Setback:
    """The distance to keep from one feature, and what decided it.

    ``downwind`` asks for more on the side the wind comes from, which must be known then.
    """

    distance_m: float
    reason: str
    downwind: Downwind | None = None
    wind_from_deg: float | None = None

    def zone_of(self, feature: BaseGeometry) -> Area:
        """The ground it keeps unsprayed round a feature, never short in the plane of a frame."""
        longer = 1 + _FRAME_SHARE
        downwind = self.downwind
        return polygons_of(
            with_downwind(
                feature,
                setback_m=self.distance_m * longer,
                downwind=downwind and replace(downwind, distance_m=downwind.distance_m * longer),
                wind_from_deg=self.wind_from_deg,
            )
        )


@dataclass(frozen=True)
class Zone:
    """The no-spray zone of one feature, whether or not it reaches turf."""

    ref: str
    setback: Setback
    geometry: Area


@dataclass(frozen=True)
class Treatment:
    """What may be treated on a property, and why the rest may not.

    ``turf`` is the sum of ``obstacles`` (turf under them), ``no_spray`` (turf under
    a zone and no obstacle) and ``treatable``; so are their areas.
    """

    frame: Frame
    turf: Area
    obstacles: Area
    no_spray: Area
    treatable: Area
    turf_area_m2: float
    obstacle_area_m2: float
    no_spray_area_m2: float
    treatable_area_m2: float
    zones: tuple[Zone, ...]
    shape_areas_m2: dict[str, float]
    left_out: tuple[LeftOut, ...]
    slope_factors: dict[str, float]
    notes: tuple[Note, ...]
    ground: SlopedGround

    def area_of(self, geometry: BaseGeometry) -> float:
        """Area on the ground of a part of the turf, slope applied."""
        return self.ground.area_of(geometry)

    def treatable_degrees(self) -> MultiPolygon:
        """The treatable ground in degrees of longitude and latitude."""
        return _in_degrees(self.frame, self.treatable)

    def zones_degrees(self) -> dict[str, MultiPolygon]:
        """Each feature's zone in degrees of longitude and latitude, by its ref."""
        return {zone.ref: _in_degrees(self.frame, zone.geometry) for zone in self.zones}


def treat(drawing: Drawing, setbacks: Mapping[str, Setback]) -> Treatment:
    """Work out what may be treated: turf without obstacles and no-spray zones.

    Ground under several shapes is counted once. Turf under an obstacle counts as
    obstacle even where a zone covers it too.

    Parameters
    ----------
    drawing : Drawing
        The property as it was read. [degree]
    setbacks : Mapping of str to Setback
        The distance to keep from each protected shape, by its ref; an obstacle may
        have one too. [m]

    Returns
    -------
    Treatment
        The ground, its areas, and what each feature keeps unsprayed. [m and m²]

    Raises
    ------
    Refused
        If a protected shape has no setback, a setback is not a distance of zero or
        more, or it belongs to no shape that can have one.

    References
    ----------
    Our own derivation.
    """
    _check_setbacks(drawing, setbacks)
    turf_shapes = drawing.of_role(Role.TURF)
    frame = frame_around(shape.geometry for shape in turf_shapes or drawing.shapes)
    plane = _in_plane(frame, drawing.shapes)
    factors = {shape.ref: slope_factor(shape.slope) for shape in turf_shapes}
    ground, contested_m2 = sloped_ground([(factors[ref], plane[ref]) for ref in factors])
    turf = union_of(plane[ref] for ref in factors)
    covers = union_of(_near([plane[shape.ref] for shape in drawing.of_role(Role.OBSTACLE)], turf))
    zones = _zones(drawing, plane, setbacks)
    kept = union_of(_near([zone.geometry for zone in zones], turf))
    obstacles, free = cut(turf, covers)
    no_spray, treatable = cut(free, kept)
    return Treatment(
        frame=frame,
        turf=turf,
        obstacles=obstacles,
        no_spray=no_spray,
        treatable=treatable,
        turf_area_m2=ground.area_m2,
        obstacle_area_m2=ground.area_of(obstacles),
        no_spray_area_m2=ground.area_of(no_spray),
        treatable_area_m2=ground.area_of(treatable),
        zones=zones,
        shape_areas_m2={ref: factors.get(ref, 1) * shape.area for ref, shape in plane.items()},
        left_out=_left_out(zones, plane, kept, free, ground),
        slope_factors=factors,
        notes=_notes([plane[ref].area for ref in factors], turf, contested_m2),
        ground=ground,
    )


def _check_setbacks(drawing: Drawing, setbacks: Mapping[str, Setback]) -> None:
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
    zones = []
    for ref in (shape.ref for shape in drawing.shapes if shape.ref in setbacks):
        setback = setbacks[ref]
        try:
            zones.append(Zone(ref, setback, setback.zone_of(plane[ref])))
        except Refused as refused:
            raise refused.at(ref) from None
    return tuple(zones)


def _left_out(
    zones: Sequence[Zone],
    plane: Mapping[str, BaseGeometry],
    kept: Area,
    free: Area,
    ground: SlopedGround,
) -> tuple[LeftOut, ...]:
    """Each feature's share of the turf under the zones that reach turf."""
    shares = first_come([zone.geometry for zone in zones], free, clusters=kept)
    return tuple(
        _share_of(zone.ref, pieces, plane[zone.ref], ground)
        for zone, pieces in zip(zones, shares, strict=True)
    )


def _share_of(
    ref: str, pieces: Sequence[Area], feature: BaseGeometry, ground: SlopedGround
) -> LeftOut:
    halves = [cut(piece, polygons_of(feature)) for piece in pieces]
    return LeftOut(
        ref,
        own_ground_m2=math.fsum(ground.area_of(own) for own, _ in halves),
        strip_m2=math.fsum(ground.area_of(strip) for _, strip in halves),
    )


def _notes(areas_m2: Sequence[float], turf: Area, contested_m2: float) -> tuple[Note, ...]:
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


def _in_degrees(frame: Frame, area: Area) -> MultiPolygon:
    turned = frame.to_degrees(shapely.orient_polygons(area))
    return MultiPolygon(shapely.get_parts(turned).tolist())
