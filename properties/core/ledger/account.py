"""The ledger of a property: what every part, and any spot, has received.

Metres and amounts per m², in the plane of the property's frame.
"""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import MultiPolygon, Point, Polygon
from shapely.geometry.base import BaseGeometry

from properties.core.errors import Refused
from properties.core.ledger.faces import Faces, faces_of
from properties.core.ledger.redrawn import distinct_outlines
from properties.core.ledger.slivers import homes_of, slivers_among
from properties.core.plane import DUST_M2, polygons_of

THIN_M = 0.02
SMALL_M2 = 0.05
#: On a grid the overlay is sound even where two outlines run within rounding of each other.
_GRID_M = 1e-9

Area = Polygon | MultiPolygon


@dataclass(frozen=True)
class Application:
    """One past application: when, where, and how much of what per m².

    The keys of ``amounts`` are the caller's: a product, an ingredient, a nutrient.
    """

    ref: str
    applied_on: date
    geometry: BaseGeometry
    amounts: Mapping[str, float]


@dataclass(frozen=True)
class Cell:
    """All ground that has received the same applications.

    ``sums`` is the total per key. ``highest`` is the most that any of its ground has
    received: more than ``sums`` only where a merged sliver, as of two outlines that
    overlap by a centimetre, has received more.
    """

    geometry: Area
    refs: tuple[str, ...]
    sums: dict[str, float]
    highest: dict[str, float]
    area_m2: float


@dataclass(frozen=True)
class Ledger:
    """Turf divided into cells, and the applications in order of date and ref."""

    turf: Area
    applications: tuple[Application, ...]
    cells: tuple[Cell, ...]
    thinner_than_m: float
    smaller_than_m2: float

    def received_at(self, spot: Point) -> tuple[Application, ...]:
        """The applications that a spot has received, the oldest first.

        A spot in a sliver counts with the cell that the sliver was merged into as well
        as with what was drawn over it, so it never counts as having received less.
        """
        drawn = {entry.ref for entry in self.applications if entry.geometry.intersects(spot)}
        for cell in self.cells:
            if cell.geometry.intersects(spot):
                drawn.update(cell.refs)
        return tuple(entry for entry in self.applications if entry.ref in drawn)

    def sums_in(self, part: BaseGeometry) -> tuple[Cell, ...]:
        """The cells of the turf that lies in a part of the property, cut to the part."""
        _require_area("part", part)
        inside = polygons_of(shapely.intersection(self.turf, part, grid_size=_GRID_M))
        return _cells(inside, self.applications, self.thinner_than_m, self.smaller_than_m2)


def ledger(
    turf: BaseGeometry,
    applications: Sequence[Application],
    *,
    thinner_than_m: float = THIN_M,
    smaller_than_m2: float = SMALL_M2,
) -> Ledger:
    """Lay past applications over the turf of one property.

    The turf is divided into cells, one for each set of applications that some of it
    has received; turf that has received nothing is a cell too. Slivers, as they come
    from an edge drawn twice, are no cells: each joins the cell beside it, that with
    the larger sums if there are two. No ground is lost or counted twice.

    Parameters
    ----------
    turf : BaseGeometry
        The turf, valid; may be empty. [m]
    applications : Sequence of Application
        What was applied, in any order. Ground beyond the turf is ignored. [per m²]
    thinner_than_m : float, optional
        Ground in which no circle of this diameter fits is a sliver; 0 for none. [m]
    smaller_than_m2 : float, optional
        So is ground smaller than this; 0 for none. [m²]

    Returns
    -------
    Ledger
        The cells in order of their applications. [m, m² and per m²]

    Raises
    ------
    Refused
        If two applications have one ref, an amount is not a number of zero or more,
        an outline crosses itself or has no area, or outlines cannot be told apart.

    References
    ----------
    Our own derivation.
    """
    if not turf.is_empty:
        _require_area("turf", turf)
    seen: set[str] = set()
    for index, entry in enumerate(applications):
        _check(f"applications[{index}]", entry, seen)
    ordered = tuple(sorted(applications, key=lambda entry: (entry.applied_on, entry.ref)))
    ground = polygons_of(turf)
    cells = _cells(ground, ordered, thinner_than_m, smaller_than_m2)
    return Ledger(ground, ordered, cells, thinner_than_m, smaller_than_m2)


def _check(path: str, entry: Application, seen: set[str]) -> None:
    if entry.ref in seen:
        raise Refused(
            f"{path}.ref", f"“{entry.ref}” is there twice.", "Enter each application once."
        )
    seen.add(entry.ref)
    for key, amount in entry.amounts.items():
        if not (math.isfinite(amount) and amount >= 0):
            raise Refused(
                f"{path}.amounts",
                f"{amount:g} of {key} is not an amount of zero or more.",
                "Enter what was applied.",
            )
    _require_area(f"{path}.geometry", entry.geometry)


def _require_area(field: str, geometry: BaseGeometry) -> None:
    if not (geometry.is_valid and geometry.area > 0):
        raise Refused(
            field,
            "This outline crosses itself or holds no ground.",
            "Draw it again as an area.",
        )


def _cells(
    ground: Area, applications: Sequence[Application], thin_m: float, small_m2: float
) -> tuple[Cell, ...]:
    """Divide ground into cells, one for each set of applications."""
    faces = _faces(ground, applications, thin_m)
    sets, kind = np.unique(faces.under, axis=0, return_inverse=True)
    members = [[applications[index] for index in np.flatnonzero(row).tolist()] for row in sets]
    sums = [_sums(entries) for entries in members]
    sliver = slivers_among(faces.polygons, thinner_than_m=thin_m, smaller_than_m2=small_m2)
    home = homes_of(faces.polygons, kind, _loads(sums), sliver)
    # Ground by rounding, where two outlines share an edge, has received nothing of its own.
    real = shapely.area(faces.polygons) > DUST_M2
    cells = []
    for number in sorted(np.unique(home).tolist(), key=lambda n: np.flatnonzero(sets[n]).tolist()):
        here = home == number
        geometry = polygons_of(shapely.coverage_union_all(faces.polygons[here]))
        kinds_here = [number, *np.unique(kind[here & real]).tolist()]
        cells.append(
            Cell(
                geometry=geometry,
                refs=tuple(entry.ref for entry in members[number]),
                sums=sums[number],
                highest=_highest([sums[other] for other in kinds_here]),
                area_m2=geometry.area,
            )
        )
    return tuple(cells)


def _faces(ground: Area, applications: Sequence[Application], thin_m: float) -> Faces:
    """The faces of the ground; an outline is cut once however often it was used."""
    geometries = [entry.geometry for entry in applications]
    outlines, which = distinct_outlines(geometries, thinner_than_m=thin_m)
    distinct = np.array(outlines, dtype=object)
    near = np.sort(shapely.STRtree(distinct).query(ground, predicate="intersects"))
    cut = faces_of(ground, distinct[near].tolist())
    under = np.zeros((len(cut.polygons), len(distinct)), dtype=bool)
    under[:, near] = cut.under
    return Faces(cut.polygons, under[:, which])


def _sums(entries: Sequence[Application]) -> dict[str, float]:
    keys = sorted({key for entry in entries for key in entry.amounts})
    return {key: math.fsum(entry.amounts.get(key, 0) for entry in entries) for key in keys}


def _loads(sums: Sequence[Mapping[str, float]]) -> NDArray[np.float64]:
    """One number to compare sums of several keys: each key as a share of its largest sum."""
    largest = _highest(sums)
    return np.array(
        [math.fsum(sum_ / largest[key] for key, sum_ in each.items() if sum_) for each in sums]
    )


def _highest(sums: Sequence[Mapping[str, float]]) -> dict[str, float]:
    """The largest sum of every key."""
    keys = sorted({key for each in sums for key in each})
    return {key: max(each.get(key, 0.0) for each in sums) for key in keys}
