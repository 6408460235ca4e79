"""The ground of a route, lawn by lawn: told, or measured like that of any plan.

Areas in m², rates in L or kg per m².
"""

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace

from planner.core.condition_checks import turf_findings
from planner.core.feeding import feeding_findings, feeding_on
from planner.core.findings import Finding, Findings
from planner.core.ground import Ground, Rules, ground_of
from planner.core.ground_checks import ground_findings
from planner.core.labels import RATE_KINDS, SAME_NUMBER
from planner.core.limit_checks import limit_findings
from planner.core.limits.ceilings import ceilings_of
from planner.core.nutrients_had import with_history
from planner.core.parts import parts_of, totals_of
from planner.core.planned import Planned
from planner.core.products import Product
from planner.core.request import PlanRequest
from planner.core.route import Stop
from planner.core.shown import Shown, said_at_most
from planner.core.slope_checks import slope_findings
from planner.core.tolerance import Stand, stands_in


@dataclass(frozen=True)
class RouteStop:
    """One lawn: its position on the route, and what is planned for it alone if it was drawn.

    ``area_m2`` is the level ground that takes as much spray, ``caps`` the highest rate of
    each product that it may still get, by name.
    """

    position: int
    asked: Stop
    area_m2: float
    planned: Planned | None = None
    caps: Mapping[str, float] = field(default_factory=dict)

    @property
    def number(self) -> int:
        """The position as a person counts."""
        return self.position + 1

    @property
    def stands(self) -> tuple[Stand, ...]:
        """What grows in the turf that is to get the mix."""
        if self.planned is None:
            return (Stand(self.asked.turfgrasses),)
        told, ground = self.planned.request.turfgrasses, self.planned.ground
        return stands_in(ground.drawing, told=told, spared=ground.spared)

    @property
    def ground(self) -> Ground | None:
        """The ground, None where its area was told."""
        return None if self.planned is None else self.planned.ground


def stops_of(
    stops: Sequence[Stop], request: PlanRequest, in_order: Sequence[Product], *, rules: Rules
) -> tuple[RouteStop, ...]:
    """Measure every lawn that is drawn, and take the area of the others as told.

    Parameters
    ----------
    stops : Sequence[Stop]
        The lawns. [-]
    request : PlanRequest
        What holds for all of them: the machine, the rules, the wind. [-]
    in_order : Sequence[Product]
        The mix in mixing order. [-]
    rules : Rules
        What the firm goes by where the request is silent. [-]

    Returns
    -------
    tuple[RouteStop, ...]
        The lawns with their ground. [m²]

    Raises
    ------
    FaultsFound
        If outlines of what a lawn has had cannot be told apart.

    References
    ----------
    See ``ground_of``.
    """
    return tuple(
        _measured(position, stop, request, tuple(in_order), rules)
        for position, stop in enumerate(stops)
    )


def _measured(
    position: int, stop: Stop, request: PlanRequest, in_order: tuple[Product, ...], rules: Rules
) -> RouteStop:
    told = _told_caps(stop, request.products)
    if stop.drawing is None:
        area_m2 = 0.0 if stop.area is None else stop.area.si
        return RouteStop(position, stop, area_m2 / stop.parts, caps=told)
    alone = replace(
        request,
        drawing=stop.drawing,
        setback_rules=(*request.setback_rules, *stop.setback_rules),
        past=stop.past,
        turfgrasses=stop.turfgrasses or request.turfgrasses,
        hand_tool=None,
        passes=False,
    )
    ground = ground_of(alone, rules=rules)
    parts = parts_of(alone, ground, in_order)
    planned = Planned(alone, ground, in_order, parts, totals_of(parts))
    found = {product.name: parts[0].cap_of(product) for product in request.products}
    caps = {name: min(cap, told.get(name, math.inf)) for name, cap in found.items()}
    finite = {name: cap for name, cap in caps.items() if cap < math.inf}
    return RouteStop(position, stop, parts[0].level_m2 / stop.parts, planned, finite)


def _told_caps(stop: Stop, products: Sequence[Product]) -> dict[str, float]:
    """The highest rate that a lawn's own room and the label's limit each time allow."""
    caps = {}
    for product in products:
        each = product.label.limits.per_application
        told = [room.si for room in [stop.room.get(product.name)] if room is not None]
        if each is not None and RATE_KINDS[each.dimension] == product.kind:
            told.append(each.si)
        if told:
            caps[product.name] = min(told)
    return caps


def stop_findings(stop: RouteStop, products: Sequence[Product], *, shown: Shown) -> Findings:
    """Say what is found about a lawn, each with its name.

    Parameters
    ----------
    stop : RouteStop
        The lawn. [m²]
    products : Sequence[Product]
        The mix. [-]
    shown : Shown
        The units to say numbers in. [-]

    Returns
    -------
    Findings
        As for a plan of the lawn alone where it is drawn; else what its room says. [-]

    Raises
    ------
    Nothing
        What is found is returned.

    References
    ----------
    See ``ground_findings`` and ``limit_findings``.
    """
    found = Findings(tuple(_unknown(stop, products)), tuple(_over(stop, products, shown)))
    if stop.asked.tells_its_turf:
        found += turf_findings(products, stop.stands)
    if stop.planned is not None:
        found += ground_findings(stop.planned.ground, shown=shown)
        found += limit_findings(stop.planned)
        found += _of_slopes(stop, stop.planned, shown)
    return Findings(
        tuple(_named(finding, stop) for finding in found.warnings),
        tuple(_named(finding, stop) for finding in found.refusals),
    )


def _of_slopes(stop: RouteStop, planned: Planned, shown: Shown) -> Findings:
    rules = with_history(planned.request.nutrient_rules, stop.asked.past, planned.ground)
    return slope_findings(planned.parts[0], planned.parts[0].products, rules, shown=shown)


def feed_findings(stop: RouteStop, request: PlanRequest, *, l_per_m2: float) -> Findings:
    """Hold what the mix feeds a lawn against the limits on nutrients, with the lawn's name.

    Parameters
    ----------
    stop : RouteStop
        The lawn. [m²]
    request : PlanRequest
        What is asked for, with the limits. [-]
    l_per_m2 : float
        The output. [L/m²]

    Returns
    -------
    Findings
        As for a plan of the lawn alone. [-]

    Raises
    ------
    Nothing
        What is found is returned.

    References
    ----------
    See ``feeding_findings``.
    """
    rules = request.nutrient_rules
    if stop.ground is not None:
        rules = with_history(rules, stop.asked.past, stop.ground)
    feeding = feeding_on(stop.area_m2, request.products, rules, l_per_rated_m2=l_per_m2)
    found = feeding_findings(feeding, shown=request.shown)
    return Findings(
        tuple(_named(finding, stop) for finding in found.warnings),
        tuple(_named(finding, stop) for finding in found.refusals),
    )


def _over(stop: RouteStop, products: Sequence[Product], shown: Shown) -> Iterator[Finding]:
    for product in products:
        cap = _told_caps(stop.asked, [product]).get(product.name)
        if cap is not None and product.rate.si > cap * (1 + SAME_NUMBER):
            most = said_at_most(shown.rate_of(product.rate, cap))
            message = (
                f"{product.name}: {product.rate} is more than this lawn may still get ({most}). "
                "Choose a lower rate for the whole load, or leave this lawn out."
            )
            yield Finding("lawn_room_too_small", message, product=product.name)


def _unknown(stop: RouteStop, products: Sequence[Product]) -> Iterator[Finding]:
    """A lawn that is only told by its area has no past to look at."""
    for product in products if stop.planned is None else ():
        limited = any(each.limits.needs_history for each in ceilings_of([product]))
        if limited and product.name not in stop.asked.room:
            message = (
                f"{product.name}: what this lawn has had is not known here, and the label limits "
                "how much or how often the same ground may get it. Tell the room that is left."
            )
            yield Finding("history_unknown", message, product=product.name)


def _named(finding: Finding, stop: RouteStop) -> Finding:
    return replace(finding, message=f"{stop.asked.name}: {finding.message}")
