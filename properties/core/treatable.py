"""Treatable ground is turf without obstacles and no-spray zones; and why the rest is left.

Metres and m², in the plane of the property's frame; areas on the ground, slope applied.
"""

from collections.abc import Mapping
from dataclasses import dataclass

from shapely import MultiPolygon
from shapely.geometry.base import BaseGeometry

from properties.core.frame import Frame
from properties.core.free_ground import Site, site_of
from properties.core.left_out import LeftOut
from properties.core.outlines import Drawing, Note
from properties.core.plane import Area, cut
from properties.core.slopes import SlopedGround
from properties.core.zones import Setback, Zone, in_degrees, zones_in_degrees

__all__ = ["Setback", "Treatment", "Zone", "treat", "treated"]


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
    site = site_of(drawing)
    zones = site.zones(setbacks)
    kept = site.kept_by(zones)
    no_spray, treatable = cut(site.free, kept)
    return treated(
        site,
        no_spray=no_spray,
        treatable=treatable,
        zones=zones,
        left_out=site.left_out(zones, kept=kept, unsprayed=site.free),
    )


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
    factors, ground = site.slope_factors, site.ground
    return Treatment(
        frame=site.frame,
        turf=site.turf,
        obstacles=site.obstacles,
        no_spray=no_spray,
        treatable=treatable,
        turf_area_m2=ground.area_m2,
        obstacle_area_m2=ground.area_of(site.obstacles),
        no_spray_area_m2=ground.area_of(no_spray),
        treatable_area_m2=ground.area_of(treatable),
        zones=zones,
        shape_areas_m2={ref: factors.get(ref, 1) * shape.area for ref, shape in site.plane.items()},
        left_out=left_out,
        slope_factors=factors,
        notes=site.notes,
        ground=ground,
    )
