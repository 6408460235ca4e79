"""What a place has had, and what a spot or a part of it may still get: the door of its pages.

Metres and m², in the plane of the property's frame; degrees outside.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date

import numpy as np
from shapely import Point
from shapely.geometry.base import BaseGeometry

from planner.core.limits import Closure, Standing, ceilings_of, standing_of
from planner.core.limits.calendar import first_open_day
from planner.core.limits.faces import Mixed, Piece, closures_of, lawns_of, pieces_of
from planner.core.mix.products import Product
from planner.core.past import Past
from properties.core.errors import Refused
from properties.core.features import Role
from properties.core.free_ground import Site, site_of
from properties.core.outlines import Drawing
from properties.core.plane import cut, union_of

LonLat = tuple[float, float]

#: A spot so near a border lies on it.
_BORDER_M = 0.01


@dataclass(frozen=True)
class Place:
    """A drawn property with its past on a day, divided by what it has had."""

    site: Site
    past: Past
    on: date
    pieces: tuple[Piece, ...]

    @property
    def lawns(self) -> Mapping[str, BaseGeometry]:
        """Each turf shape in metres, by its ref."""
        return {
            shape.ref: self.site.plane[shape.ref] for shape in self.site.drawing.of_role(Role.TURF)
        }

    def names_of(self, piece: Piece) -> list[str]:
        """The lawns that a piece is part of, by name."""
        names = {shape.ref: shape.name or shape.ref for shape in self.site.drawing.shapes}
        return [names[ref] for ref in lawns_of(piece.geometry, self.lawns)]

    def area_m2(self, piece: Piece) -> float:
        """The area of a piece on the ground."""
        return self.site.ground.area_of(piece.geometry)


@dataclass(frozen=True)
class Verdict:
    """What one product may still do on a piece: open or not, and against each limit."""

    product: Product
    standings: tuple[Standing, ...]
    closures: tuple[Closure, ...]
    open_on: date | None


def place_of(drawing: Drawing, past: Past, *, on: date) -> Place:
    """Divide the turf of a property, without what stands on it, by what it has had.

    Parameters
    ----------
    drawing : Drawing
        The property. [degree]
    past : Past
        What is told of its past. [-]
    on : date
        The day that is asked about. [-]

    Returns
    -------
    Place
        The pieces. [m]

    Raises
    ------
    FaultsFound
        If outlines of the past cannot be told apart.

    References
    ----------
    See ``pieces_of``.
    """
    site = site_of(drawing)
    return Place(site, past, on, pieces_of(site.free, past, site.frame))


def piece_at(place: Place, spot: LonLat) -> Piece | None:
    """Find the ground under a spot; on a border it counts with both sides.

    Parameters
    ----------
    place : Place
        The property. [m]
    spot : tuple of float
        Longitude and latitude. [degree]

    Returns
    -------
    Piece or None
        What the spot has had, None beside the turf. [m]

    Raises
    ------
    Nothing
        Any spot can be asked about.

    References
    ----------
    Our own rule: a spot never counts as having had less.
    """
    here = Point(place.site.frame.xy(np.array([spot]))[0])
    under = [piece for piece in place.pieces if piece.geometry.distance(here) <= _BORDER_M]
    if not under:
        return None
    applications = {each.ref: each for piece in under for each in piece.applications}
    seedings = {each.ref: each for piece in under for each in piece.seedings}
    ground = union_of(piece.geometry for piece in under)
    return Piece(ground, tuple(applications.values()), tuple(seedings.values()))


def pieces_in(place: Place, ref: str) -> tuple[Piece, ...]:
    """Find the pieces of one lawn.

    Parameters
    ----------
    place : Place
        The property. [m]
    ref : str
        The turf shape. [-]

    Returns
    -------
    tuple[Piece, ...]
        What of each piece lies in it. [m]

    Raises
    ------
    Refused
        If there is no turf of that name.
    FaultsFound
        If outlines of the past cannot be told apart.

    References
    ----------
    See ``pieces_of``.
    """
    if ref not in place.lawns:
        raise Refused("shape", "There is no such turf here now.", "Choose one of the list.")
    inside = cut(place.site.free, place.lawns[ref])[0]
    if inside.is_empty:
        return ()
    return pieces_of(inside, place.past, place.site.frame)


def verdict_on(product: Product, piece: Piece, place: Place) -> Verdict:
    """Work out what a product may still do on a piece of ground.

    Parameters
    ----------
    product : Product
        The product with its label. [-]
    piece : Piece
        The ground. [m]
    place : Place
        The property with its rules and its day. [-]

    Returns
    -------
    Verdict
        What it has had, the room left, and the day it opens. [L or kg/m²]

    Raises
    ------
    Nothing
        What nobody knows is None.

    References
    ----------
    See ``standing_of`` and ``closures_of``.
    """
    asked = Mixed((product,), place.past, place.on)
    ceilings = ceilings_of(asked.products)

    def closures_on(day: date) -> Sequence[Closure]:
        return tuple(closures_of(ceilings, piece.applications, piece.seedings, asked=asked, on=day))

    return Verdict(
        product,
        tuple(standing_of(each, piece.applications, on=place.on) for each in ceilings),
        tuple(closures_on(place.on)),
        first_open_day(closures_on, on=place.on),
    )
