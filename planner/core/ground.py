"""The ground of a plan: which distance is kept from each feature, what may be sprayed.

Lengths in m and areas in m², in the plane of the property's frame.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from planner.core.distances import KeptFrom, keep_away
from planner.core.machines import Machine
from planner.core.request import PlanRequest
from properties.core.features import Role
from properties.core.outlines import Drawing, Shape
from properties.core.passable import split_by_swath
from properties.core.plane import polygons_of
from properties.core.setbacks import Claim
from properties.core.treatable import Treatment, treat


@dataclass(frozen=True)
class Rules:
    """What is gone by where a request is silent.

    ``setback_defaults`` are distances by kind of feature, each with its source.
    They count only for a request that brings no defaults of its own.
    """

    setback_defaults: Mapping[str, Claim] = field(default_factory=dict)


@dataclass(frozen=True)
class Ground:
    """The areas of a plan, and what they follow from."""

    drawing: Drawing
    kept_from: tuple[KeptFrom, ...]
    treatment: Treatment
    under_obstacles_m2: tuple[float, ...]
    machine_area_m2: float
    hand_pieces_m2: tuple[float, ...]
    hand_area_m2: float

    @property
    def follows_wind(self) -> bool:
        """Whether a distance that is asked for depends on the wind."""
        return any(kept.decided_downwind is not None for kept in self.kept_from)


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
    Nothing
        A request that was read can be measured.

    References
    ----------
    See ``treat`` and ``split_by_swath``.
    """
    asked = request.setback_defaults
    defaults = rules.setback_defaults if asked is None else asked
    kept = keep_away(request, method=request.machine.kind.method, defaults=defaults)
    treatment = treat(request.drawing, {each.shape.ref: each.setback for each in kept})
    machine, hand = _split(treatment.treatable, request.machine)
    return Ground(
        request.drawing,
        kept,
        treatment,
        under_obstacles_m2=_under_obstacles_m2(request.drawing, treatment),
        machine_area_m2=treatment.area_of(machine),
        hand_pieces_m2=tuple(treatment.area_of(piece) for piece in shapely.get_parts(hand)),
        hand_area_m2=treatment.area_of(hand),
    )


def _split(treatable: BaseGeometry, machine: Machine) -> tuple[BaseGeometry, BaseGeometry]:
    if machine.goes_anywhere or treatable.is_empty:
        return treatable, shapely.MultiPolygon()
    return split_by_swath(treatable, swath_m=machine.swath.si)


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
