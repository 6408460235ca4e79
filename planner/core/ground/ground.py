"""The ground of a plan: which distance is kept from each feature, what may be sprayed.

Lengths in m and areas in m², in the plane of the property's frame.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace

import numpy as np
import shapely
from shapely import MultiPolygon
from shapely.geometry.base import BaseGeometry

from planner.core.ground.distances import KeptFrom
from planner.core.ground.sharing import Reach, Shares, reach_of, shared_alone, shared_by_two
from planner.core.limits import Faces, faces_of
from planner.core.limits.faces import Mixed
from planner.core.machine.barred import Barred
from planner.core.request import PlanRequest
from planner.core.tools import Tool
from properties.core.features import Role
from properties.core.free_ground import Site, site_of
from properties.core.outlines import Drawing, Shape
from properties.core.plane import DUST_M2, Area, cut, polygons_of, union_of
from properties.core.setbacks import Claim
from properties.core.treatable import Treatment, treated
from properties.core.zones import Zone


@dataclass(frozen=True)
class Rules:
    """What is gone by where a request is silent.

    ``setback_defaults`` are distances by kind of feature, each with its source.
    They count only for a request that brings no defaults of its own.
    """

    setback_defaults: Mapping[str, Claim] = field(default_factory=dict)


@dataclass(frozen=True)
class ToolGround:
    """The ground that one tool sprays, and what it keeps away from."""

    tool: Tool
    kept_from: tuple[KeptFrom, ...]
    zones: tuple[Zone, ...]
    barred: tuple[Barred, ...]
    unchecked_gates: tuple[Shape, ...]
    ground: Area
    area_m2: float

    @property
    def slope_factor(self) -> float:
        """How much larger the ground is than its map."""
        return self.area_m2 / self.ground.area if self.ground.area else 1.0


@dataclass(frozen=True)
class Ground:
    """The areas of a plan, and what they follow from.

    With two tools ``kept_from`` and the zones of the treatment are those of the tool
    that may come nearer; ``tools`` has each tool's own. ``fits`` is where the machine's
    swath fits, ``plane`` every shape in metres by its ref. ``spared`` is turf that the mix is
    not for. ``faces`` divide what could be sprayed by what it has had; ``closed_area_m2`` is
    that of the faces closed on the day.
    """

    drawing: Drawing
    plane: Mapping[str, BaseGeometry]
    kept_from: tuple[KeptFrom, ...]
    treatment: Treatment
    under_obstacles_m2: tuple[float, ...]
    fits: Area
    machine_area_m2: float
    hand_pieces_m2: tuple[float, ...]
    hand_area_m2: float
    tools: tuple[ToolGround, ...]
    too_narrow_m2: float
    barred_m2: float
    spared: tuple[Barred, ...]
    spared_m2: float
    faces: Faces
    closed_area_m2: float

    @property
    def follows_wind(self) -> bool:
        """Whether a distance that is asked for depends on the wind."""
        return any(
            kept.decided_downwind is not None for each in self.tools for kept in each.kept_from
        )


def ground_of(request: PlanRequest, *, rules: Rules) -> Ground:
    """Work out what may be sprayed, and where the machine fits.

    Parameters
    ----------
    request : PlanRequest
        What is asked for. [-]
    rules : Rules
        Defaults of the firm. [-]

    Returns
    -------
    Ground
        The areas and what they follow from. [m²]

    Raises
    ------
    FaultsFound
        If outlines of the past cannot be told apart.

    References
    ----------
    See ``shared_alone`` and ``shared_by_two``, and ``faces_of`` for what is closed.
    """
    asked = request.setback_defaults
    defaults = rules.setback_defaults if asked is None else asked
    site = site_of(request.drawing)
    reaches = [
        reach_of(site, request, tool, sprayer, defaults=defaults) for tool, sprayer in request.tools
    ]
    machine, nearer = reaches[0], reaches[-1]
    faces = _faces(site, request, reaches)
    free = _without_dust(cut(site.free, faces.closed)[1]) if faces.faces else site.free
    if machine is nearer:
        shares = shared_alone(free, machine)
        kept_from, zones = machine.kept_from, machine.zones
    else:
        shares = shared_by_two(free, machine, nearer)
        kept_from, zones = _kept_by_both(machine, nearer)
    if faces.faces:
        shares = _sprayed_without_dust(shares)
    left_out = site.left_out(nearer.zones, kept=nearer.kept, unsprayed=shares.by_features)
    treatment = treated(
        site,
        no_spray=shares.unsprayed,
        treatable=shares.treatable,
        zones=zones,
        left_out=left_out,
    )
    return _measured(site, treatment, kept_from, reaches, shares, faces)


def _faces(site: Site, request: PlanRequest, reaches: Sequence[Reach]) -> Faces:
    """Divide what could be sprayed, if nothing were closed, by what it has had."""
    asked = Mixed(request.products, request.past, request.on)
    if not asked.matters:
        return Faces()
    within = cut(site.free, reaches[-1].kept)[1]
    # Of two tools either may enter what is closed to the other, but not what the mix is not for.
    spared = union_of(site.plane[each.shape.ref] for each in reaches[0].spared)
    within = cut(within, reaches[0].closed if len(reaches) == 1 else spared)[1]
    lawns = {shape.ref: site.plane[shape.ref] for shape in site.drawing.of_role(Role.TURF)}
    return faces_of(within, lawns, site.frame, asked)


def _without_dust(area: Area) -> Area:
    """Leave out what is rounding, where the outlines of faces and turf are the same."""
    parts = shapely.get_parts(area)
    return MultiPolygon(parts[shapely.area(parts) > DUST_M2].tolist())


def _sprayed_without_dust(shares: Shares) -> Shares:
    """Leave out what is rounding, where closed ground ends at the zone of a feature."""
    return replace(
        shares,
        sprayed=tuple(_without_dust(ground) for ground in shares.sprayed),
        treatable=_without_dust(shares.treatable),
        fits=_without_dust(shares.fits),
        hand=_without_dust(shares.hand),
    )


def _measured(
    site: Site,
    treatment: Treatment,
    kept_from: tuple[KeptFrom, ...],
    reaches: Sequence[Reach],
    shares: Shares,
    faces: Faces,
) -> Ground:
    area_of = treatment.area_of
    spared = union_of(site.plane[each.shape.ref] for each in reaches[0].spared)
    kept_from_mix, closed_to_tools = cut(shares.barred, spared)
    return Ground(
        site.drawing,
        site.plane,
        kept_from,
        treatment,
        under_obstacles_m2=_under_obstacles_m2(site.drawing, treatment),
        fits=shares.fits,
        machine_area_m2=area_of(shares.fits),
        hand_pieces_m2=tuple(area_of(piece) for piece in shapely.get_parts(shares.hand)),
        hand_area_m2=area_of(shares.hand),
        tools=tuple(
            ToolGround(
                reach.tool,
                reach.kept_from,
                reach.zones,
                reach.barred,
                reach.unchecked,
                ground,
                area_of(ground),
            )
            for reach, ground in zip(reaches, shares.sprayed, strict=True)
        ),
        too_narrow_m2=area_of(shares.too_narrow),
        barred_m2=area_of(closed_to_tools),
        spared=reaches[0].spared,
        spared_m2=area_of(kept_from_mix),
        faces=faces,
        closed_area_m2=area_of(faces.closed),
    )


def _kept_by_both(one: Reach, other: Reach) -> tuple[tuple[KeptFrom, ...], tuple[Zone, ...]]:
    """For each feature who may come nearer, and the ground that both keep unsprayed."""
    kept_from, zones = [], []
    of_one, of_other = (zip(each.kept_from, each.zones, strict=True) for each in (one, other))
    for pair in zip(of_one, of_other, strict=True):
        (kept, zone), (_, wider) = sorted(pair, key=lambda each: each[0].reach_m)
        ground = zone.geometry
        if kept.reach_m[1] > wider.setback.distance_m:
            ground = cut(ground, wider.geometry)[0]
        kept_from.append(kept)
        zones.append(Zone(kept.shape.ref, kept.setback, ground))
    return tuple(kept_from), tuple(zones)


def _under_obstacles_m2(drawing: Drawing, treatment: Treatment) -> tuple[float, ...]:
    """Turf under each obstacle; what lies under two of them is part of both."""
    outlines = [shape.geometry for shape in drawing.of_role(Role.OBSTACLE)]
    plane = np.array(treatment.frame.all_to_plane(outlines), dtype=object)
    covers = shapely.make_valid(plane, method="structure")
    parts = shapely.get_parts(treatment.obstacles)
    which, part = shapely.STRtree(parts).query(covers, predicate="intersects")
    areas_m2 = [0.0] * len(outlines)
    for index, piece in zip(
        which.tolist(), shapely.intersection(covers[which], parts[part]), strict=True
    ):
        areas_m2[index] += treatment.area_of(polygons_of(piece))
    return tuple(areas_m2)


def called(shape: Shape) -> str:
    """Say which shape is meant, by its name if it has one.

    Parameters
    ----------
    shape : Shape
        A shape of the drawing. [-]

    Returns
    -------
    str
        Its name or its id, with its kind. [-]

    Raises
    ------
    Nothing
        Every shape has an id.

    References
    ----------
    Our own wording.
    """
    return f"{shape.name or shape.ref} ({shape.kind.name.lower()})"
