"""The borders of treatable ground, and how well each is placed.

Metres and m², in the plane of the property's frame. On a slope an error in the plane
counts for as much more as the ground is larger than its map.
"""

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

import shapely
from shapely.geometry.base import BaseGeometry

from planner.core.ground.ground import Ground
from planner.core.placing import Placing
from properties.core.accuracy import Measured, Position, treatable_spread
from properties.core.features import Role
from properties.core.outlines import Shape
from properties.core.plane import NOWHERE
from properties.core.zones import Zone

#: Ground so near a border lies along it.
_ALONG_M = 0.01


@dataclass(frozen=True)
class TurfBorder:
    """The outline of a lawn; ``along`` is the share of it that each tool sprays along."""

    shape: Shape
    sigma_m2: float
    along: tuple[float, ...]

    def deviation_of(self, per_m2: Sequence[float]) -> float:
        """The standard deviation of what each tool puts down, so much per area."""
        squares = (share * each**2 for share, each in zip(self.along, per_m2, strict=True))
        return self.sigma_m2 * math.sqrt(math.fsum(squares))


@dataclass(frozen=True)
class FeatureBorder:
    """The edge of what is kept from a feature, by the tool that comes nearer and by the machine.

    Both move together. Between them the hand tool sprays: it gains there what the machine
    loses, so what counts at the machine's edge is by how much the tools differ. If the hand
    tool puts down more, one edge makes up for a part of the other, and their squares are
    added to be on the safe side; else they add up.
    """

    shape: Shape
    sigma_m2: float
    machine_sigma_m2: float

    def deviation_of(self, per_m2: Sequence[float]) -> float:
        """The standard deviation of what each tool puts down, so much per area, at most."""
        machine, nearest = per_m2[0], per_m2[-1]
        near, far = nearest * self.sigma_m2, (machine - nearest) * self.machine_sigma_m2
        return near + far if far > 0 else math.hypot(near, far)


Border = TurfBorder | FeatureBorder


@dataclass(frozen=True)
class Borders:
    """Every border whose error is known, as it was measured and as it counts.

    ``without_error`` are features beside the turf whose error nobody knows. Errors of
    ``turf`` and ``removed`` are those of the plane times their slope factor, ``steepest``
    the largest of these.
    """

    turf: tuple[Measured, ...]
    removed: tuple[Measured, ...]
    steepest: float
    counted: tuple[Border, ...]
    without_error: tuple[Shape, ...]


def borders_of(ground: Ground, turf: Sequence[Shape], placing: Placing) -> Borders:
    """Find the borders of treatable ground, and what each adds to the spread of its area.

    Parameters
    ----------
    ground : Ground
        The ground of a plan. [m²]
    turf : Sequence of Shape
        Turf that is entered, one at least, the error of each known. [degree]
    placing : Placing
        How far corners may be out. [m]

    Returns
    -------
    Borders
        The borders. [m and m²]

    Raises
    ------
    Nothing
        Every ground has its borders.

    References
    ----------
    Our own derivation: an area on the ground is the slope factor times that in the plane,
    and so is its error. What is taken out of turf counts with the steepest slope.
    """
    factors = ground.treatment.slope_factors
    steepest = max(factors[shape.ref] for shape in turf)
    sigmas_m = placing.sigmas_m(ground.drawing)
    lawns = tuple(
        Measured(
            shape.ref,
            ground.plane[shape.ref],
            Position(sigmas_m[shape.ref] * factors[shape.ref]),
        )
        for shape in turf
    )
    nearest = machine = _edges(ground, ground.treatment.zones)
    if len(ground.tools) > 1:
        machine = _edges(ground, ground.tools[0].zones)
    beside = _beside(ground, nearest, machine)
    known = [shape for shape in beside if shape.ref in sigmas_m]
    removed, by_machine = (
        tuple(
            Measured(
                shape.ref,
                edges.get(shape.ref, NOWHERE),
                Position(sigmas_m[shape.ref] * steepest),
            )
            for shape in known
        )
        for edges in (nearest, machine)
    )
    of_turf, of_nearest = _sigmas_m2(lawns, removed)
    of_machine = of_nearest if machine is nearest else _sigmas_m2(lawns, by_machine)[1]
    return Borders(
        lawns,
        removed,
        steepest,
        counted=(
            *map(TurfBorder, turf, of_turf, _along(ground, turf)),
            *map(FeatureBorder, known, of_nearest, of_machine),
        ),
        without_error=tuple(shape for shape in beside if shape.ref not in sigmas_m),
    )


def _edges(ground: Ground, zones: Iterable[Zone]) -> dict[str, BaseGeometry]:
    """What is taken out of turf: each obstacle, or the zone where one is kept from a shape."""
    drawing = ground.drawing
    edges = {shape.ref: ground.plane[shape.ref] for shape in drawing.of_role(Role.OBSTACLE)}
    return edges | {zone.ref: zone.geometry for zone in zones}


def _beside(ground: Ground, *edges: Mapping[str, BaseGeometry]) -> list[Shape]:
    """The shapes of which an edge meets the turf, in drawing order."""
    shapely.prepare(ground.treatment.turf)
    met = {
        ref
        for each in edges
        for ref, edge in each.items()
        if shapely.intersects(ground.treatment.turf, edge)
    }
    return [shape for shape in ground.drawing.shapes if shape.ref in met]


def _sigmas_m2(
    turf: Sequence[Measured], removed: Sequence[Measured]
) -> tuple[list[float], list[float]]:
    """The standard deviations that turf and what is taken out add to the treatable area."""
    parts = treatable_spread(turf, removed).parts
    sigmas_m2 = [math.sqrt(part.corner_variance_m4) for part in parts]
    return sigmas_m2[: len(turf)], sigmas_m2[len(turf) :]


def _along(ground: Ground, turf: Sequence[Shape]) -> list[tuple[float, ...]]:
    """Of each lawn's outline the share that each tool sprays along."""
    sprayed = [tool.ground.buffer(_ALONG_M) for tool in ground.tools]
    borders = [ground.plane[shape.ref].boundary for shape in turf]
    return [_shares([border.intersection(each).length for each in sprayed]) for border in borders]


def _shares(lengths_m: Sequence[float]) -> tuple[float, ...]:
    """The share of each in the sum; equal shares of nothing."""
    whole_m = math.fsum(lengths_m)
    if not whole_m:
        return tuple(1 / len(lengths_m) for _ in lengths_m)
    return tuple(length_m / whole_m for length_m in lengths_m)
