"""One load of a route: what is in the tank already, what is added, what stays in it.

Volumes in L, amounts in L or kg, areas in m², outputs in L/m².
"""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace

from planner.core.label.labels import SAME_NUMBER
from planner.core.label.rates import water_to_add_l
from planner.core.mix.measures import Measured, Measures, Span, to_measure
from planner.core.mix.products import Product
from planner.core.route import ReloadPoint

#: What is missing by less than this share of all is the rounding of the machine.
_NOTHING_MISSING = 1e-9


@dataclass(frozen=True)
class Leftover:
    """What is in the tank before it is filled: the spray, and each product by its position."""

    volume_l: float
    amounts: tuple[float, ...]

    def per_l(self, position: int) -> float:
        """How much of a product is in a litre of it."""
        return self.amounts[position] / self.volume_l if self.volume_l else 0.0


@dataclass(frozen=True)
class Need:
    """What a stretch of the route needs: its ground, and the spray that puts down on it.

    ``stops`` are the first of them and the one after the last, counted from 0. ``caps`` is
    the highest rate that all of them may still get, by the product's name.
    """

    number: int
    stops: tuple[int, int]
    filled_at: ReloadPoint | None
    area_m2: float
    output_l_per_m2: float
    caps: Mapping[str, float] = field(default_factory=dict)

    @property
    def spray_l(self) -> float:
        """The finished spray that is put down."""
        return self.area_m2 * self.output_l_per_m2


@dataclass(frozen=True)
class TopUp:
    """One product of a load: what the leftover holds of it, what all the tank should hold.

    ``extent`` is the area or the volume that the whole tank is enough for.
    """

    product: Product
    carried: float
    wanted: float
    extent: float
    measured: Measured | None
    cap: float = math.inf

    @property
    def may_be_mixed(self) -> bool:
        """Whether the label and the lawns allow the rate asked for."""
        return self.product.may_be_mixed(self.cap)

    @property
    def span(self) -> Span:
        """The rates that what is added may lead to."""
        return self.product.span(self.cap)

    @property
    def span_of_added(self) -> Span:
        """The same, less what the leftover brings."""
        there = self.carried / self.extent
        return Span(self.span.lowest - there, self.span.highest - there)

    @property
    def amount(self) -> float:
        """What is to be added; below zero where the leftover holds too much."""
        return self.wanted - self.carried

    @property
    def is_too_strong(self) -> bool:
        """Whether the leftover alone holds more than the whole tank should."""
        return self.amount < -_NOTHING_MISSING * self.wanted

    @property
    def in_tank(self) -> float:
        """What the tank holds of it when it is filled."""
        added = max(0.0, self.amount) if self.measured is None else self.measured.si
        return self.carried + added

    @property
    def rate(self) -> float:
        """The rate that the tank gives."""
        return self.in_tank / self.extent


@dataclass(frozen=True)
class RouteLoad:
    """A tank filled once on the route, onto what was left in it."""

    need: Need
    carried: Leftover
    tank_l: float
    products: tuple[TopUp, ...]

    @property
    def fill_l(self) -> float:
        """Finished spray to add."""
        return self.tank_l - self.carried.volume_l

    @property
    def water_l(self) -> float | None:
        """Water to add; None where the products alone are more than the room."""
        liquids_l = [max(0.0, each.amount) for each in self.products if each.product.is_liquid]
        water_l = water_to_add_l(spray_l=self.fill_l, liquids_l=liquids_l)
        return max(0.0, water_l) if water_l >= -SAME_NUMBER * self.tank_l else None

    @property
    def left(self) -> Leftover:
        """What is in the tank when the stretch is done."""
        left_l = self.tank_l - self.need.spray_l
        share = left_l / self.tank_l
        return Leftover(left_l, tuple(each.in_tank * share for each in self.products))


def concentration(product: Product, *, output_l_per_m2: float) -> float:
    """How much of a product a litre of finished spray should hold.

    Parameters
    ----------
    product : Product
        The product, at its rate. [-]
    output_l_per_m2 : float
        The machine's output, > 0. [L/m²]

    Returns
    -------
    float
        The concentration. [L/L or kg/L]

    Raises
    ------
    Nothing
        The arguments were checked at the door.

    References
    ----------
    University of Georgia, Waltz and Murphy, Calibrate sprayer: share = rate per
    area / output.
    """
    return product.rate.si / output_l_per_m2 if product.by_area else product.rate.si


def load_onto(
    carried: Leftover,
    need: Need,
    products: Sequence[Product],
    *,
    stays_l: float,
    measures: Measures,
) -> RouteLoad:
    """Work out what to add to a leftover for the next stretch.

    Parameters
    ----------
    carried : Leftover
        What is in the tank. [L, L or kg]
    need : Need
        The next stretch. [m²]
    products : Sequence[Product]
        The mix, in mixing order. [-]
    stays_l : float
        What cannot be sprayed, ≥ 0. [L]
    measures : Measures
        The marks of what is on the truck. [-]

    Returns
    -------
    RouteLoad
        The load; a product of which the leftover holds too much says so. [L, L or kg]

    Raises
    ------
    Nothing
        What cannot be measured out is None.

    References
    ----------
    Our own derivation: added product = all the spray × new concentration − what is there;
    what cannot be sprayed holds product at the same concentration.
    """
    tank_l = max(need.spray_l + stays_l, carried.volume_l)
    top_ups = tuple(
        _top_up(product, amount, need=need, tank_l=tank_l, measures=measures)
        for product, amount in zip(products, carried.amounts, strict=True)
    )
    return RouteLoad(need, carried, tank_l, top_ups)


def _top_up(
    product: Product, carried: float, *, need: Need, tank_l: float, measures: Measures
) -> TopUp:
    extent = tank_l / need.output_l_per_m2 if product.by_area else tank_l
    cap = need.caps.get(product.name, math.inf)
    exact = TopUp(product, carried, product.rate.si * extent, extent, None, cap)
    if exact.is_too_strong or not exact.may_be_mixed:
        return exact
    return replace(exact, measured=_measured(exact, measures))


def _measured(exact: TopUp, measures: Measures) -> Measured | None:
    """Round what is added, with the rate of the whole tank kept inside what is allowed."""
    marks = measures.for_form(exact.product.kind.form)
    nothing = Measured(0, marks[-1])
    if exact.amount <= _NOTHING_MISSING * exact.wanted:
        return nothing
    measured = to_measure(
        rate=exact.amount / exact.extent,
        extent=exact.extent,
        span=exact.span_of_added,
        marks=marks,
    )
    is_enough = exact.span.holds(exact.carried / exact.extent)
    return nothing if measured is None and is_enough else measured


def loads_in_a_row(
    carried: Leftover,
    needs: Sequence[Need],
    products: Sequence[Product],
    *,
    stays_l: float,
    measures: Measures,
) -> tuple[RouteLoad, ...]:
    """Work out load after load, each onto what the one before leaves in the tank.

    Parameters
    ----------
    carried : Leftover
        What is in the tank before the first. [L, L or kg]
    needs : Sequence[Need]
        The stretches in order. [m²]
    products : Sequence[Product]
        The mix, in mixing order. [-]
    stays_l : float
        What cannot be sprayed, ≥ 0. [L]
    measures : Measures
        The marks of what is on the truck. [-]

    Returns
    -------
    tuple[RouteLoad, ...]
        The loads in order. [L, L or kg]

    Raises
    ------
    Nothing
        What cannot be measured out is None.

    References
    ----------
    See ``load_onto``.
    """
    loads: list[RouteLoad] = []
    for need in needs:
        loads.append(load_onto(carried, need, products, stays_l=stays_l, measures=measures))
        carried = loads[-1].left
    return tuple(loads)


def ground_of_stops(areas_m2: Sequence[float], stops: tuple[int, int]) -> float:
    """Add up the ground of a stretch.

    Parameters
    ----------
    areas_m2 : Sequence[float]
        The ground of each stop. [m²]
    stops : tuple of (int, int)
        The stretch. [-]

    Returns
    -------
    float
        Its ground. [m²]

    Raises
    ------
    Nothing
        The stretch lies within the stops.

    References
    ----------
    Our own derivation.
    """
    return math.fsum(areas_m2[slice(*stops)])
