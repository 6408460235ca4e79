"""The ground of a plan: which distance is kept from each feature, what may be sprayed.

Lengths in m and areas in m², in the plane of the property's frame.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from planner.core.machines import Machine
from planner.core.products import Product
from planner.core.request import PlanRequest
from properties.core.features import Kind, Role
from properties.core.outlines import Drawing, Shape
from properties.core.passable import split_by_swath
from properties.core.plane import polygons_of
from properties.core.setbacks import NOBODY_KNOWS, Claim, own_claim, strictest
from properties.core.treatable import Setback, Treatment, treat

_WITHOUT_ARTICLE = ("beehives", "neighbours_land")


@dataclass(frozen=True)
class Rules:
    """What is gone by where a request is silent.

    ``setback_defaults`` are distances by kind of feature, each with its source.
    They count only for a request that brings no defaults of its own.
    """

    setback_defaults: Mapping[str, Claim] = field(default_factory=dict)


@dataclass(frozen=True)
class KeptFrom:
    """A feature, every distance that is asked from it, and the one that decides."""

    shape: Shape
    claims: tuple[Claim, ...]
    by_default: bool = False

    @property
    def decided(self) -> Claim | None:
        """The strictest claim, None where the distance is unknown."""
        return strictest(self.claims)

    @property
    def setback(self) -> Setback:
        """What the geometry needs: where the distance is unknown, the feature alone."""
        decided = self.decided
        if decided is None:
            return Setback(0.0, NOBODY_KNOWS)
        return Setback(decided.distance.si, decided.reason)


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


def keep_away(
    drawing: Drawing, products: Sequence[Product], *, defaults: Mapping[str, Claim]
) -> tuple[KeptFrom, ...]:
    """Gather the distances asked from each feature: labels first, then the feature itself.

    A default counts only where neither gives one. An obstacle is kept away from
    only if it has a distance of its own.

    Parameters
    ----------
    drawing : Drawing
        What is drawn. [-]
    products : Sequence[Product]
        The mix, whose labels may ask for distances by kind of feature. [-]
    defaults : Mapping[str, Claim]
        A claim by kind of feature where nobody else makes one. [-]

    Returns
    -------
    tuple[KeptFrom, ...]
        The features to keep away from, in drawing order. [-]

    Raises
    ------
    Nothing
        An unknown distance is a finding, not a fault.

    References
    ----------
    Our own rule: the strictest distance wins, and unknown is not zero.
    """
    kept = []
    for shape in drawing.shapes:
        is_protected = shape.kind.role is Role.PROTECTED
        labels = label_claims(shape.kind, products) if is_protected else ()
        own = own_claim(shape)
        claims = (*labels, own) if own is not None else labels
        default = defaults.get(shape.kind.token)
        if is_protected and not claims and default is not None:
            kept.append(KeptFrom(shape, (default,), by_default=True))
        elif is_protected or claims:
            kept.append(KeptFrom(shape, claims))
    return tuple(kept)


def label_claims(kind: Kind, products: Sequence[Product]) -> tuple[Claim, ...]:
    """Gather what the labels of a mix ask for from a kind of feature.

    Parameters
    ----------
    kind : Kind
        The kind of feature. [-]
    products : Sequence[Product]
        The mix. [-]

    Returns
    -------
    tuple[Claim, ...]
        A claim for each label that names the kind. [-]

    Raises
    ------
    Nothing
        A label that is silent makes no claim.

    References
    ----------
    The labels.
    """
    return tuple(
        Claim(distance, f"label of {product.name}: {distance} from {_a(kind)}")
        for product in products
        for token, distance in product.label.setbacks.items()
        if token == kind.token
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
    Nothing
        A request that was read can be measured.

    References
    ----------
    See ``treat`` and ``split_by_swath``.
    """
    asked = request.setback_defaults
    defaults = rules.setback_defaults if asked is None else asked
    kept = keep_away(request.drawing, request.products, defaults=defaults)
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


def _a(kind: Kind) -> str:
    name = kind.name.lower()
    if kind.token in _WITHOUT_ARTICLE:
        return name
    return f"an {name}" if name[0] in "aeiou" else f"a {name}"


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
