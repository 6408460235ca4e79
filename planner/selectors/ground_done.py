"""The ground that a machine has done since a calibration, by what its firm recorded."""

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date

import shapely
from shapely.geometry.base import BaseGeometry

from planner.models import Calibration, CatchTest, Machine, PastApplication
from properties.core.frame import frame_around
from properties.core.units import Quantity, quantity_of_si
from properties.core.working import Figure, Input
from properties.selectors.places import day_of_firm

SOURCE = (
    "Recorded applications with this machine from the day of the calibration on, each day's "
    "ground on a property once, measured on the map; and what was told besides."
)


@dataclass(frozen=True)
class Visit:
    """The ground that a machine did at one property on one day, whatever was put down."""

    applied_on: date
    place: str
    products: tuple[str, ...]
    area_m2: float


@dataclass(frozen=True)
class GroundDone:
    """What was done since a day: visit by visit, what was told besides, what nobody knows.

    ``untold`` is how many entries of the firm since then do not say with which machine.
    """

    visits: tuple[Visit, ...]
    elsewhere: Quantity | None
    untold: int

    @property
    def area(self) -> Quantity | None:
        """All of it; None where nothing was recorded and nobody told anything."""
        if not self.visits and self.elsewhere is None:
            return None
        told_m2 = 0.0 if self.elsewhere is None else self.elsewhere.si
        done_m2 = math.fsum((told_m2, *(visit.area_m2 for visit in self.visits)))
        if not self.visits and self.elsewhere is not None:
            return self.elsewhere
        return quantity_of_si(done_m2, self.unit)

    @property
    def unit(self) -> str:
        """The unit it is told in: that of what was typed, acres else."""
        return "acre" if self.elsewhere is None else self.elsewhere.unit

    @property
    def working(self) -> Figure | None:
        """How the sum came about; None where there is none."""
        area = self.area
        if area is None:
            return None
        terms = [
            Input(
                f"{visit.place} on {visit.applied_on:%b %-d %Y}",
                quantity_of_si(visit.area_m2, self.unit),
            )
            for visit in self.visits
        ]
        if self.elsewhere is not None:
            terms.append(Input("told besides", self.elsewhere))
        formula = " + ".join(term.name for term in terms)
        name = "Ground done since the calibration"
        return Figure("area_since", name, formula, tuple(terms), area, SOURCE)


def ground_done_since(
    machine: Machine, day: date, *, until: date | None = None, elsewhere: Quantity | None = None
) -> GroundDone:
    """Sum what a firm recorded of a machine since a day, that day included.

    Entries that were struck out do not count; one that names no machine is not nothing, but
    unknown.
    """
    rows = PastApplication.objects.filter(
        property__firm=machine.firm_id, applied_on__gte=day, struck_at=None
    ).select_related("property")
    if until is not None:
        rows = rows.filter(applied_on__lte=until)
    known = rows.filter(machine=machine).order_by("applied_on", "property__name", "pk")
    return GroundDone(_visits(known), elsewhere, rows.filter(machine=None).count())


def day_made(row: Calibration | CatchTest) -> date:
    """The day a calibration or a catch test was made, where the firm is."""
    return day_of_firm(row.done_at, row.machine.firm_id)


def done_since(calibration: Calibration, *, until: date | None = None) -> GroundDone:
    """Sum what was done with a machine since one of its calibrations."""
    return ground_done_since(
        calibration.machine,
        day_made(calibration),
        until=until,
        elsewhere=calibration.area_since,
    )


def _visits(rows: Iterable[PastApplication]) -> tuple[Visit, ...]:
    """Put entries of one day and place together: a mix of three products is one drive."""
    together: dict[tuple[date, str, int], list[PastApplication]] = {}
    for row in rows:
        key = (row.applied_on, row.property.name, row.property_id)
        together.setdefault(key, []).append(row)
    return tuple(
        Visit(
            day,
            place,
            tuple(dict.fromkeys(row.product_name for row in done)),
            _area_m2([row.geometry for row in done]),
        )
        for (day, place, _), done in together.items()
    )


def _area_m2(grounds: Sequence[BaseGeometry]) -> float:
    ground = grounds[0] if len(grounds) == 1 else shapely.union_all(list(grounds))
    return float(frame_around([ground]).to_plane(ground).area)
