"""The ground of a place, divided by what it has had, and where each part stands.

Metres, in the plane of the property's frame.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date

import shapely
from shapely.geometry.base import BaseGeometry

from planner.core.limits.calendar import blackout_closures, first_open_day, seed_closures
from planner.core.limits.ceilings import Ceiling, ceilings_of
from planner.core.limits.standing import Closure, Standing, standing_of
from planner.core.mix.products import Product
from planner.core.past import Past, PastApplication, Seeding
from properties.core.errors import FaultsFound, Refused
from properties.core.frame import Frame
from properties.core.ledger import Application, ledger
from properties.core.plane import DUST_M2, Area, polygons_of, union_of

#: Less of a lawn than this is an edge drawn twice.
_OF_A_LAWN_M2 = 0.05


@dataclass(frozen=True)
class Mixed:
    """What is asked about: a mix, on a day, with what is told of the past."""

    products: tuple[Product, ...]
    past: Past
    on: date | None

    @property
    def day(self) -> date:
        """The day; where none was given nothing depends on it."""
        return self.on or date.min

    @property
    def matters(self) -> bool:
        """Whether any ground could be closed, or have less room than other ground."""
        return bool(ceilings_of(self.products) or self.past.blackouts or self.past.seedings)


@dataclass(frozen=True)
class Piece:
    """All ground that has had the same."""

    geometry: Area
    applications: tuple[PastApplication, ...]
    seedings: tuple[Seeding, ...]


@dataclass(frozen=True)
class Face:
    """All ground that has had the same. ``features`` are the lawns that it is part of."""

    geometry: Area
    features: tuple[str, ...]
    applications: tuple[PastApplication, ...]
    seedings: tuple[Seeding, ...]
    standings: tuple[Standing, ...]
    closures: tuple[Closure, ...]
    open_on: date | None

    @property
    def is_open(self) -> bool:
        """Whether it may be sprayed on the day."""
        return not self.closures


@dataclass(frozen=True)
class Faces:
    """Every face of some ground, in the order of what it has had."""

    ceilings: tuple[Ceiling, ...] = ()
    faces: tuple[Face, ...] = ()

    @property
    def closed(self) -> Area:
        """All ground that is closed on the day."""
        return union_of(face.geometry for face in self.faces if not face.is_open)

    def open_under(self, area: BaseGeometry) -> tuple[Face, ...]:
        """The open faces that an area has some ground of."""
        shapely.prepare(area)
        near = (face for face in self.faces if face.is_open and face.geometry.intersects(area))
        return tuple(face for face in near if face.geometry.intersection(area).area > DUST_M2)


def faces_of(
    ground: BaseGeometry, lawns: Mapping[str, BaseGeometry], frame: Frame, asked: Mixed
) -> Faces:
    """Divide ground by what it has had, and find where each part stands.

    Parameters
    ----------
    ground : BaseGeometry
        The ground that is asked about. [m]
    lawns : Mapping of str to BaseGeometry
        Each turf shape by its ref, to say where a face lies. [m]
    frame : Frame
        The plane of the property. [-]
    asked : Mixed
        The mix, the past and the day. [-]

    Returns
    -------
    Faces
        The faces; none where nothing is limited. [m]

    Raises
    ------
    FaultsFound
        If outlines of the past lie so close together that they cannot be told apart.

    References
    ----------
    See ``ledger`` and ``standing_of``.
    """
    ceilings = ceilings_of(asked.products)
    if not asked.matters or ground.is_empty:
        return Faces(ceilings)
    pieces = pieces_of(ground, asked.past, frame)
    return Faces(ceilings, tuple(_face(piece, lawns, ceilings, asked) for piece in pieces))


def pieces_of(ground: BaseGeometry, past: Past, frame: Frame) -> tuple[Piece, ...]:
    """Divide ground by what it has had.

    Parameters
    ----------
    ground : BaseGeometry
        The ground that is asked about. [m]
    past : Past
        What is told of its past. [-]
    frame : Frame
        The plane of the property. [-]

    Returns
    -------
    tuple[Piece, ...]
        The pieces; together the ground. [m]

    Raises
    ------
    FaultsFound
        If outlines of the past lie so close together that they cannot be told apart.

    References
    ----------
    See ``ledger``.
    """
    by_ref: dict[str, PastApplication | Seeding] = {}
    by_ref |= {each.ref: each for each in past.history or ()}
    by_ref |= {each.ref: each for each in past.seedings}
    try:
        laid = ledger(ground, [_laid(each, frame) for each in by_ref.values()])
    except Refused as refused:
        raise FaultsFound([refused.at("history")]) from None
    found = []
    for cell in laid.cells:
        had = [by_ref[ref] for ref in cell.refs]
        applications = tuple(each for each in had if isinstance(each, PastApplication))
        seedings = tuple(each for each in had if isinstance(each, Seeding))
        found.append(Piece(cell.geometry, applications, seedings))
    return tuple(found)


def _laid(each: PastApplication | Seeding, frame: Frame) -> Application:
    where = polygons_of(shapely.make_valid(frame.to_plane(each.where), method="structure"))
    if isinstance(each, Seeding):
        return Application(each.ref, each.sown_on, where, {})
    # One number is enough here: where slivers go, those with more have the right of way.
    return Application(each.ref, each.applied_on, where, {each.product.casefold(): each.rate.si})


def _face(
    piece: Piece, lawns: Mapping[str, BaseGeometry], ceilings: Sequence[Ceiling], asked: Mixed
) -> Face:
    def closures_on(day: date) -> tuple[Closure, ...]:
        return tuple(closures_of(ceilings, piece.applications, piece.seedings, asked=asked, on=day))

    closures = closures_on(asked.day)
    return Face(
        piece.geometry,
        lawns_of(piece.geometry, lawns),
        piece.applications,
        piece.seedings,
        tuple(standing_of(each, piece.applications, on=asked.day) for each in ceilings),
        closures,
        open_on=first_open_day(closures_on, on=asked.day) if closures else asked.on,
    )


def lawns_of(geometry: BaseGeometry, lawns: Mapping[str, BaseGeometry]) -> tuple[str, ...]:
    """Find the lawns that some ground is part of.

    Parameters
    ----------
    geometry : BaseGeometry
        The ground. [m]
    lawns : Mapping of str to BaseGeometry
        Each turf shape by its ref. [m]

    Returns
    -------
    tuple[str, ...]
        The refs of those that hold more of it than an edge drawn twice. [-]

    Raises
    ------
    Nothing
        Ground beside every lawn has none.

    References
    ----------
    Our own rule.
    """
    least_m2 = min(_OF_A_LAWN_M2, geometry.area / 2)
    near = ((ref, lawn) for ref, lawn in lawns.items() if geometry.intersects(lawn))
    return tuple(ref for ref, lawn in near if geometry.intersection(lawn).area > least_m2)


def closures_of(
    ceilings: Sequence[Ceiling],
    applications: Sequence[PastApplication],
    seedings: Sequence[Seeding],
    *,
    asked: Mixed,
    on: date,
) -> Iterator[Closure]:
    """Find everything that closes a piece of ground on a day.

    Parameters
    ----------
    ceilings : Sequence[Ceiling]
        The limits. [-]
    applications : Sequence[PastApplication]
        What the ground has had. [-]
    seedings : Sequence[Seeding]
        What was or will be sown there. [-]
    asked : Mixed
        The mix and the blackouts. [-]
    on : date
        The day. [-]

    Returns
    -------
    Iterator[Closure]
        Each reason. [-]

    Raises
    ------
    Nothing
        Open ground has no closure.

    References
    ----------
    See ``standing_of``, ``blackout_closures`` and ``seed_closures``.
    """
    for ceiling in ceilings:
        yield from standing_of(ceiling, applications, on=on).closures
    yield from blackout_closures(asked.past.blackouts, asked.products, on=on)
    yield from seed_closures(seedings, asked.products, on=on)
