"""The plan of a route: its loads, what speaks against them, and how every figure came about."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from functools import partial

from planner.core.calibration import output_of
from planner.core.checks.calibration import calibration_findings, target_findings
from planner.core.checks.conditions import condition_findings, turf_findings
from planner.core.checks.slips import slip_findings
from planner.core.checks.strength import strength_findings
from planner.core.checks.tanks import mix_findings
from planner.core.day.by_hand import by_hand_of, crossed_findings, left_for_hand
from planner.core.day.findings import day_findings
from planner.core.day.lawn_findings import feed_findings, stop_findings
from planner.core.day.measuring import coarse_findings
from planner.core.day.whole import Day, day_of
from planner.core.findings import Finding, Findings
from planner.core.ground.ground import Rules
from planner.core.machine.fittings import fitting_findings
from planner.core.machine.set_up import validity_findings
from planner.core.machine.tips import droplet_findings
from planner.core.mix.compatibility import compatibility_findings
from planner.core.mix.conditioning import conditioning_findings
from planner.core.mix.greater_rate import at_greater_rates
from planner.core.mix.products import Product, label_findings
from planner.core.request import PlanRequest
from planner.core.route import Route
from planner.core.shown import Shown
from planner.core.tank_history import history_findings
from planner.core.tolerance import Stand, has_own_turf
from planner.core.tools import Tool
from planner.core.weather import HOLDS, weather_findings
from planner.core.workings.day import by_hand_figures, day_figures
from properties.core.working import Figure


@dataclass(frozen=True)
class DayPlan:
    """A route, what is found about it, its working, and what its hand tool does if it has one."""

    day: Day
    findings: Findings
    working: tuple[Figure, ...]
    by_hand: Day | None = None

    @property
    def is_on_hold(self) -> bool:
        """Whether the wind stops all spraying."""
        return any(refusal.code in HOLDS for refusal in self.findings.refusals)


def day_plan(
    request: PlanRequest, route: Route, in_order: Sequence[Product], *, rules: Rules
) -> DayPlan:
    """Work out the route of a request.

    Parameters
    ----------
    request : PlanRequest
        What is asked for. [-]
    route : Route
        The lawns and the reload points. [-]
    in_order : Sequence[Product]
        The mix in mixing order. [-]
    rules : Rules
        What the firm goes by where the request is silent. [-]

    Returns
    -------
    DayPlan
        The route with its findings and its working. [-]

    Raises
    ------
    FaultsFound
        If outlines of what a lawn has had cannot be told apart. What speaks against a
        request that was read is a refusal.

    References
    ----------
    See ``day_of``.
    """
    output = output_of(request.machine.calibration, swath_m=request.machine.swath.si)
    greater = partial(at_greater_rates, output_l_per_m2=output.l_per_m2)
    day = day_of(
        replace(request, products=greater(request.products)), route, greater(in_order), rules
    )
    by_hand = by_hand_of(day, request, in_order)
    request = day.request
    # The plan of a place beside it tells what holds for both.
    found = Findings() if request.has_place else _of_the_whole(day)
    for stop in (*day.stops, *day.next_lawns):
        found += stop_findings(stop, request.products, shown=day.shown)
    for stop in day.stops:
        found += feed_findings(stop, request, l_per_m2=day.output.l_per_m2)
    if request.has_place and has_own_turf(request.drawing):
        found += turf_findings(request.products, _untold_stands(day))
    found += day_findings(day) + coarse_findings(day)
    tanks, working = [(Tool.MACHINE, route.tank)], list(day_figures(day))
    if by_hand is None:
        left = (each for stop in day.stops for each in left_for_hand(stop, shown=day.shown))
        found += Findings(tuple(left))
    else:
        tanks.append((Tool.HAND_TOOL, by_hand.route.tank))
        found += _of_the_hand_tool(by_hand, found) + crossed_findings(day, by_hand)
        working += by_hand_figures(by_hand)
    found += history_findings(request.tanks_before, tanks, request.products)
    return DayPlan(day, Findings().with_new(found), tuple(working), by_hand)


def _of_the_hand_tool(by_hand: Day, told: Findings) -> Findings:
    """What is found about the hand tool, and not told of the machine already."""
    found = _of_the_whole(by_hand) + day_findings(by_hand) + coarse_findings(by_hand)
    for stop in by_hand.stops:
        found += feed_findings(stop, by_hand.request, l_per_m2=by_hand.output.l_per_m2)
    return Findings(
        _by_hand(found.warnings, told.warnings), _by_hand(found.refusals, told.refusals)
    )


def _by_hand(found: Iterable[Finding], told: Sequence[Finding]) -> tuple[Finding, ...]:
    return tuple(
        replace(each, message=f"Hand tool: {each.message}", tool=Tool.HAND_TOOL)
        for each in found
        if each not in told
    )


def _of_the_whole(day: Day) -> Findings:
    """What any plan tells of its machine, its mix and its weather."""
    request, output, shown = day.request, day.output, day.shown
    found = calibration_findings(output, shown=shown) + _of_the_machine(request, shown)
    found += target_findings(output, request.machine.made.target, shown=shown)
    found += mix_findings(
        request.products,
        output_l_per_m2=output.l_per_m2,
        order_is_told=request.mixing.order is not None,
    )
    found += strength_findings(request.products, output_l_per_m2=output.l_per_m2, shown=shown)
    for product in request.products:
        found += label_findings(product, output_l_per_m2=output.l_per_m2, shown=shown)
        found += slip_findings(product)
    found += compatibility_findings(request.products, request.mixing)
    found += conditioning_findings(request.mixing.water_test, request.products)
    grounds = (stop.ground for stop in day.stops)
    found += weather_findings(
        request.weather,
        request.products,
        rule=request.wind_rule,
        in_shape=any(ground is not None and ground.follows_wind for ground in grounds),
    )
    stands = _untold_stands(day)
    found += droplet_findings(request.machine.fittings.tip, request.products)
    return found + condition_findings(request.weather, request.products, stands=stands, shown=shown)


def _untold_stands(day: Day) -> list[Stand]:
    """What grows on the lawns that do not tell it themselves."""
    is_asked = any(not stop.asked.tells_its_turf for stop in day.stops)
    return [Stand(day.request.turfgrasses)] if is_asked else []


def _of_the_machine(request: PlanRequest, shown: Shown) -> Findings:
    machine = request.machine
    return validity_findings(machine.made, machine.set_up, on=request.on) + fitting_findings(
        machine.fittings,
        machine.calibration,
        swath=machine.swath,
        speed=machine.driving.speed,
        shown=shown,
        pressure=machine.set_up.pressure,
    )
