"""A route worked out: its loads, what the gauge said, where the leftover goes, the rinses.

Volumes in L, amounts in L or kg, areas in m², outputs in L/m².
"""

from collections.abc import Sequence
from dataclasses import dataclass
from math import fsum

from planner.core.calibration import Output, output_of
from planner.core.day.filling import Leftover, RouteLoad, TopUp, loads_in_a_row
from planner.core.day.gauge import Diagnosis, StopUse, diagnosed
from planner.core.day.ground import RouteStop, stops_of
from planner.core.day.leftover import Ending, ending_of
from planner.core.day.limits import TankLimits, limits_of
from planner.core.day.needs import needs_of, reloads_before
from planner.core.day.refill import Done, Refill, done_with, follows, naive_refill
from planner.core.day.rinsing import Rinse, rinse_of
from planner.core.ground.ground import Rules
from planner.core.mix.products import Product
from planner.core.request import PlanRequest
from planner.core.route import ReloadPoint, Route
from planner.core.shown import Shown


@dataclass(frozen=True)
class Day:
    """What was asked, and what follows from it.

    There are no ``loads`` where a stretch does not fit into one or a lawn has no ground,
    and then nothing that follows from them. ``refill`` is None where nobody read the gauge.
    """

    request: PlanRequest
    route: Route
    products: tuple[Product, ...]
    output: Output
    limits: TankLimits
    stops: tuple[RouteStop, ...]
    next_lawns: tuple[RouteStop, ...]
    start: Leftover
    loads: tuple[RouteLoad, ...]
    refill: Refill | None
    diagnosis: Diagnosis | None
    ending: Ending | None
    rinse: Rinse | None

    @property
    def shown(self) -> Shown:
        """The units the route is shown in."""
        return self.request.shown

    @property
    def areas_m2(self) -> tuple[float, ...]:
        """The ground of each lawn."""
        return tuple(stop.area_m2 for stop in self.stops)

    @property
    def area_m2(self) -> float:
        """All the ground of the day."""
        return fsum(self.areas_m2)

    @property
    def spray_l(self) -> float:
        """All the spray of the day, as planned."""
        return self.area_m2 * self.output.l_per_m2

    def load_of(self, stop: RouteStop) -> RouteLoad | None:
        """The load, as planned, that a lawn gets its spray from; None where it gets none."""
        if not stop.area_m2:
            return None
        return next((each for each in self.loads if stop.position < each.need.stops[1]), None)

    def amounts_on(self, stop: RouteStop) -> tuple[tuple[TopUp, float], ...]:
        """How much of each product of its load a lawn gets, as planned."""
        load = self.load_of(stop)
        if load is None:
            return ()
        share = stop.area_m2 * self.output.l_per_m2 / load.tank_l
        return tuple((each, each.in_tank * share) for each in load.products)

    @property
    def reload_before(self) -> dict[int, ReloadPoint]:
        """The lawns before which the tank may be filled, each with the place."""
        return reloads_before(self.route)

    @property
    def read_at_the_end(self) -> Done | None:
        """What the gauge showed after the last load, None where it was not read then."""
        done = None if self.refill is None else self.refill.done
        return done if done is not None and _is_last(done, self.stops) else None

    @property
    def loads_to_come(self) -> tuple[RouteLoad, ...]:
        """The loads as they are known best: those of the refill where there is one."""
        if self.refill is None:
            return self.loads
        return (*self.loads[: self.refill.done.load.need.number], *self.refill.loads)


def day_of(request: PlanRequest, route: Route, in_order: Sequence[Product], rules: Rules) -> Day:
    """Work out a route.

    Parameters
    ----------
    request : PlanRequest
        What holds for all of it: the machine, the rules, the measures. [-]
    route : Route
        The lawns and the reload points. [-]
    in_order : Sequence[Product]
        The mix in mixing order. [-]
    rules : Rules
        What the firm goes by where the request is silent. [-]

    Returns
    -------
    Day
        The loads and what follows from them. [L, L or kg, m²]

    Raises
    ------
    FaultsFound
        If outlines of what a lawn has had cannot be told apart. What cannot be done
        is left empty, and told among the findings.

    References
    ----------
    See ``stops_of`` and ``day_over``.
    """
    products = tuple(in_order)
    stops = stops_of(route.stops, request, products, rules=rules)
    next_lawns = stops_of(route.next_lawns, request, products, rules=rules)
    return day_over(request, route, products, stops=stops, next_lawns=next_lawns)


def day_over(
    request: PlanRequest,
    route: Route,
    products: tuple[Product, ...],
    *,
    stops: tuple[RouteStop, ...],
    next_lawns: tuple[RouteStop, ...],
) -> Day:
    """Work out a route over lawns that are measured.

    Parameters
    ----------
    request : PlanRequest
        What holds for all of it: the machine, the measures. [-]
    route : Route
        The lawns and the reload points. [-]
    products : tuple[Product, ...]
        The mix in mixing order. [-]
    stops : tuple[RouteStop, ...]
        The lawns of today. [m²]
    next_lawns : tuple[RouteStop, ...]
        Lawns that come after today. [m²]

    Returns
    -------
    Day
        The loads and what follows from them. [L, L or kg, m²]

    Raises
    ------
    Nothing
        What cannot be done is left empty.

    References
    ----------
    See ``fewest_loads``, ``load_onto``, ``done_with`` and ``ending_of``.
    """
    output = output_of(request.machine.calibration, swath_m=request.machine.swath.si)
    limits = limits_of(request.machine, route, products, output_l_per_m2=output.l_per_m2)
    start = _start(request, products)
    needs = needs_of(route, stops, output_l_per_m2=output.l_per_m2, limits=limits)
    loads = loads_in_a_row(
        start, needs, products, stays_l=limits.stays.si, measures=request.measures
    )
    refill = _refill(request, route, loads, stops, limits)
    ending = _ending(loads, refill, stops, next_lawns)
    return Day(
        request,
        route,
        products,
        output,
        limits,
        stops,
        next_lawns,
        start,
        loads,
        refill,
        diagnosis=_diagnosis(stops, loads, refill),
        ending=ending,
        rinse=None
        if ending is None
        else rinse_of(ending.left, route.rinsing, tank_l=limits.tank.si),
    )


def _start(request: PlanRequest, products: Sequence[Product]) -> Leftover:
    tank = request.tank_now
    if tank is None or request.drawing.shapes:
        return Leftover(0.0, tuple(0.0 for _ in products))
    return Leftover(tank.spray.si, tuple(tank.products[each.name].si for each in products))


def _refill(
    request: PlanRequest,
    route: Route,
    loads: Sequence[RouteLoad],
    stops: Sequence[RouteStop],
    limits: TankLimits,
) -> Refill | None:
    reading = route.reading
    if reading is None or reading.after_load > len(loads):
        return None
    done = done_with(loads[reading.after_load - 1], reading)
    output_l_per_m2 = done.output_l_per_m2
    if output_l_per_m2 <= 0:
        return Refill(done, (), None)
    needs = needs_of(
        route,
        stops,
        output_l_per_m2=output_l_per_m2,
        limits=limits,
        after=reading.after_load,
        first=done.load.need.stops[1],
    )
    planned = follows(loads, done)
    return Refill(
        done,
        loads_in_a_row(
            done.left,
            needs,
            [each.product for each in done.load.products],
            stays_l=limits.stays.si,
            measures=request.measures,
        ),
        None if planned is None else naive_refill(done, planned, output_l_per_m2=output_l_per_m2),
    )


def _ending(
    loads: Sequence[RouteLoad],
    refill: Refill | None,
    stops: Sequence[RouteStop],
    next_lawns: Sequence[RouteStop],
) -> Ending | None:
    """What is left at the end, known only where the route can be driven to its end."""
    known = list(loads)
    if refill is not None:
        known = [*loads[: refill.done.load.need.number], *refill.loads]
    if not known or any(stop.area_m2 for stop in stops[known[-1].need.stops[1] :]):
        return None
    done = None if refill is None else refill.done
    had = [_rates(stop, known, done) for stop in stops]
    last = known[-1]
    left = done.left if done is not None and _is_last(done, stops) else last.left
    products = [each.product for each in last.products]
    return ending_of(left, products, had, stops, next_lawns)


def _is_last(done: Done, stops: Sequence[RouteStop]) -> bool:
    """Whether nothing is left to spray after a load."""
    return not any(stop.area_m2 for stop in stops[done.load.need.stops[1] :])


def _rates(stop: RouteStop, loads: Sequence[RouteLoad], done: Done | None) -> tuple[float, ...]:
    """The rates that one lawn gets, as sprayed where the gauge was read."""
    if not stop.area_m2:
        return tuple(0.0 for _ in loads[0].products)
    load = next(each for each in loads if stop.position < each.need.stops[1])
    if done is not None and load.need.number == done.load.need.number:
        return tuple(
            done.delivered(each.product, number) for number, each in enumerate(load.products)
        )
    return tuple(each.rate for each in load.products)


def _diagnosis(
    stops: Sequence[RouteStop], loads: Sequence[RouteLoad], refill: Refill | None
) -> Diagnosis | None:
    """Judge the readings of the load that was read last, or of the first."""
    if not loads:
        return None
    done = None if refill is None else refill.done
    load = loads[0] if done is None else done.load
    before_l: float | None = load.tank_l if done is None else done.start.volume_l
    uses: list[StopUse] = []
    for stop in stops[slice(*load.need.stops)]:
        reading = stop.asked.gauge_after
        now_l = None if reading is None else reading.si
        if before_l is not None and now_l is not None and stop.area_m2:
            planned_l = stop.area_m2 * load.need.output_l_per_m2
            uses.append(StopUse(stop.position, before_l - now_l, planned_l))
        before_l = now_l
    return diagnosed(uses) if uses else None
