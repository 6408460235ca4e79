"""Treatable ground is turf without obstacles and no-spray zones; and why the rest is left.

One sweep finds it, see ``sweep``. Overlays find what is left, feature by feature, when it
is asked for; they also find what may be treated where the sweep cannot be trusted.

Metres and m², in the plane of the property's frame; areas on the ground, slope applied.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property

import numpy as np
from shapely import MultiPolygon
from shapely.geometry.base import BaseGeometry

from properties.core.features import Role
from properties.core.frame import Frame
from properties.core.free_ground import Site, require_setbacks, site_of
from properties.core.left_out import LeftOut
from properties.core.outlines import Drawing, Note
from properties.core.plane import Area, polygons_of
from properties.core.sweep import Drawn, laid_out, treatable_ground
from properties.core.unsprayed import AsGiven, Unsprayed, WithinSetbacks
from properties.core.zones import Setback, Zone, in_degrees, zones_in_degrees

__all__ = ["Setback", "Treatment", "Zone", "treat", "treated"]


@dataclass(frozen=True)
class Treatment:
    """What may be treated on a property, and why the rest may not.

    ``turf`` is the sum of ``obstacles`` (turf under them), ``no_spray`` (turf under
    a zone and no obstacle) and ``treatable``; so are their areas. What nobody asks for
    is not worked out.
    """

    site: Site
    treatable: Area
    unsprayed: Unsprayed

    @property
    def frame(self) -> Frame:
        """The plane that all ground is in."""
        return self.site.frame

    @property
    def turf(self) -> Area:
        """All turf."""
        return self.site.turf

    @property
    def obstacles(self) -> Area:
        """Turf under obstacles."""
        return self.site.obstacles

    @property
    def no_spray(self) -> Area:
        """Turf under a zone and no obstacle, or left for another reason."""
        return self.unsprayed.no_spray

    @property
    def zones(self) -> tuple[Zone, ...]:
        """The no-spray zone of each feature."""
        return self.unsprayed.zones

    @property
    def left_out(self) -> tuple[LeftOut, ...]:
        """Each feature's share of what is left."""
        return self.unsprayed.left_out

    @property
    def slope_factors(self) -> dict[str, float]:
        """How much larger each turf shape is than on the map, by its ref."""
        return self.site.slope_factors

    @property
    def notes(self) -> tuple[Note, ...]:
        """What is worth saying about the turf."""
        return self.site.notes

    @cached_property
    def turf_area_m2(self) -> float:
        """Area of all turf on the ground."""
        return self.site.ground.area_m2

    @cached_property
    def obstacle_area_m2(self) -> float:
        """Area of the turf under obstacles."""
        return self.area_of(self.obstacles)

    @cached_property
    def no_spray_area_m2(self) -> float:
        """Area of the free turf that is left."""
        return self.area_of(self.no_spray)

    @cached_property
    def treatable_area_m2(self) -> float:
        """Area of what may be treated."""
        return self.area_of(self.treatable)

    @cached_property
    def shape_areas_m2(self) -> dict[str, float]:
        """The area of each shape that was drawn, by its ref."""
        factors = self.slope_factors
        return {ref: factors.get(ref, 1) * shape.area for ref, shape in self.site.plane.items()}

    def area_of(self, geometry: BaseGeometry) -> float:
        """Area on the ground of a part of the turf, slope applied."""
        return self.site.area_of(geometry)

    def treatable_degrees(self) -> MultiPolygon:
        """The treatable ground in degrees of longitude and latitude."""
        return in_degrees([self.treatable], self.frame)[0]

    def zones_degrees(self) -> dict[str, MultiPolygon]:
        """Each feature's zone in degrees of longitude and latitude, by its ref."""
        return zones_in_degrees(self.zones, self.frame)


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
    require_setbacks(drawing, setbacks)
    site = site_of(drawing)
    unsprayed = WithinSetbacks(site, setbacks)
    swept = _swept(site, setbacks)
    return Treatment(site, unsprayed.beyond if swept is None else swept, unsprayed)


def treated(
    site: Site,
    *,
    no_spray: Area,
    treatable: Area,
    zones: tuple[Zone, ...],
    left_out: tuple[LeftOut, ...],
) -> Treatment:
    """Measure a property once it is known what may be treated.

    Parameters
    ----------
    site : Site
        The ground. [m]
    no_spray : area
        Free turf that is left. [m]
    treatable : area
        Free turf that may be treated; with the other it is all of it. [m]
    zones : tuple of Zone
        The no-spray zone of each feature. [m]
    left_out : tuple of LeftOut
        Each feature's share of what is left. [m²]

    Returns
    -------
    Treatment
        The ground and its areas. [m and m²]

    Raises
    ------
    None
        Any areas can be measured.

    References
    ----------
    Our own derivation.
    """
    return Treatment(site, treatable, AsGiven(no_spray, zones, left_out))


def _swept(site: Site, setbacks: Mapping[str, Setback]) -> Area | None:
    """The treatable ground in one sweep; nothing if it cannot be trusted.

    Turf that nothing comes near stays as it is, to the last bit, and what the wind decides
    is left to overlays.
    """
    shapes = site.drawing.shapes
    if not shapes or not all(setback.is_plain for setback in setbacks.values()):
        return None
    rows = laid_out(
        Drawn(
            shapes=np.array([shape.geometry for shape in shapes], dtype=object),
            setbacks=[setbacks.get(shape.ref) for shape in shapes],
            row=np.zeros(len(shapes), dtype=np.intp),
            is_turf=np.array([shape.kind.role is Role.TURF for shape in shapes], dtype=bool),
            number=1,
        ),
        lambda lonlat, _: site.frame.xy(lonlat),
    )
    ground = treatable_ground(rows)
    if not (ground.is_sound[0] and ground.is_cut[0]):
        return None
    treatable = ground.treatable[0]
    return None if treatable is None or not treatable.is_valid else polygons_of(treatable)
