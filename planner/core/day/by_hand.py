"""What a hand tool does on a route, beside the machine: its own tank, output and loads.

Areas in m², volumes in L.
"""

from collections.abc import Iterator, Sequence
from dataclasses import replace
from functools import partial

from planner.core.calibration import output_of
from planner.core.day.ground import RouteStop, stop_by_hand
from planner.core.day.whole import Day, day_over
from planner.core.findings import Finding, Findings
from planner.core.label.labels import SAME_NUMBER
from planner.core.mix.greater_rate import at_greater_rates
from planner.core.mix.products import Product
from planner.core.request import PlanRequest
from planner.core.route import Rinsing
from planner.core.shown import Shown, listed, said
from planner.core.tools import Tool

_DIGITS = 3


def by_hand_of(day: Day, request: PlanRequest, in_order: Sequence[Product]) -> Day | None:
    """Work out what the hand tool of a route does.

    Parameters
    ----------
    day : Day
        The route as the machine drives it. [m²]
    request : PlanRequest
        What is asked for, with the rates as they were asked. [-]
    in_order : Sequence[Product]
        The mix in mixing order. [-]

    Returns
    -------
    Day or None
        The same lawns with the ground, the output and the loads of the hand tool; None
        where the route has no hand tool. [L, L or kg, m²]

    Raises
    ------
    Nothing
        What cannot be done is left empty.

    References
    ----------
    See ``stop_by_hand`` and ``day_over``: its mix is one by its own output, and it is filled
    where the tank of the machine may be.
    """
    tool = day.route.hand_tool
    if tool is None:
        return None
    # A limit of weight, a reading and what the tank holds are those of the machine.
    route = replace(
        day.route,
        tank=1,
        weight_limit=None,
        reading=None,
        rinsing=Rinsing(day.route.rinsing.count),
    )
    output = output_of(tool.calibration, swath_m=tool.swath.si)
    greater = partial(at_greater_rates, output_l_per_m2=output.l_per_m2)
    products = greater(request.products)
    return day_over(
        replace(request, machine=tool, tank_now=None, products=products),
        route,
        greater(in_order),
        stops=tuple(map(stop_by_hand, day.stops)),
        next_lawns=tuple(map(stop_by_hand, day.next_lawns)),
    )


def left_for_hand(stop: RouteStop, *, shown: Shown) -> Iterator[Finding]:
    """Tell the ground of a lawn that was told to be done by hand, where nothing does it.

    Parameters
    ----------
    stop : RouteStop
        A lawn of a route without a hand tool. [m²]
    shown : Shown
        The units to say numbers in. [-]

    Returns
    -------
    Iterator[Finding]
        A warning, or nothing. [-]

    Raises
    ------
    Nothing
        What is found is returned.

    References
    ----------
    Our own rule: what nobody sprays is told.
    """
    if stop.asked.hand_area is not None:
        area = said(shown.area_of(stop.by_other_m2))
        message = (
            f"{stop.asked.name}: {area} are to be done by hand, and this route has no hand tool. "
            "They are left: choose a hand tool for the route, or plan them by themselves."
        )
        yield Finding("hand_area_left", message)


def crossed_findings(day: Day, by_hand: Day) -> Findings:
    """Warn of a mix that the other tool of a route must not spray.

    Parameters
    ----------
    day : Day
        The route of the machine. [-]
    by_hand : Day
        The same of the hand tool. [-]

    Returns
    -------
    Findings
        A warning for each tool with whose output the other's mix is not allowed for certain. [-]

    Raises
    ------
    Nothing
        What is found is returned.

    References
    ----------
    University of Georgia, Waltz and Murphy, Calibrate sprayer: rate = share × output.
    """
    tools = ((Tool.MACHINE, day), (Tool.HAND_TOOL, by_hand))
    return Findings(
        tuple(
            finding
            for (own, mixed), (other, sprayed) in (tools, tools[::-1])
            if mixed.loads
            for finding in _never(own, other, mixed, sprayed)
        )
    )


def _never(own: Tool, other: Tool, mixed: Day, sprayed: Day) -> Iterator[Finding]:
    times = sprayed.output.l_per_m2 / mixed.output.l_per_m2
    if abs(times - 1) <= SAME_NUMBER:
        return
    rates = [
        (product, product.rate.si * times)
        for product in mixed.products
        if product.by_area and product.allows(product.rate.si * times) is not True
    ]
    gives = [
        f"{said(day_rate, digits=_DIGITS)} of {product.name}"
        for product, rate in rates
        for day_rate in [mixed.shown.rate_of(product.rate, rate)]
    ]
    if gives:
        message = (
            f"Never put the {own.words}’s mix into the {other.words}: it would give "
            f"{listed(gives)}, and no label that is known here allows it. Mix for each tool by "
            "its own loads."
        )
        yield Finding("mix_not_for_other_tool", message, tool=other)
