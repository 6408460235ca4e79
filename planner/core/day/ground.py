"""The ground of a route, lawn by lawn: told, or measured like that of any plan.

Areas in m², rates in L or kg per m².
"""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace

from planner.core.amounts.parts import Part, parts_of, totals_of
from planner.core.amounts.planned import Planned
from planner.core.ground.ground import Ground, Rules, ground_of
from planner.core.label.labels import RATE_KINDS
from planner.core.mix.products import Product
from planner.core.request import PlanRequest
from planner.core.route import Stop
from planner.core.tolerance import Stand, stands_in
from planner.core.tools import Tool


@dataclass(frozen=True)
class RouteStop:
    """One lawn: its position on the route, and what is planned for it alone if it was drawn.

    ``area_m2`` is the level ground that takes as much spray, ``caps`` the highest rate of
    each product that it may still get, by name. All this is about the ground of one tool,
    whose part of the plan is ``part``; ``by_other_m2`` is that of the other.
    """

    position: int
    asked: Stop
    area_m2: float
    planned: Planned | None = None
    caps: Mapping[str, float] = field(default_factory=dict)
    part: Part | None = None
    by_other_m2: float = 0.0
    tool: Tool = Tool.MACHINE

    @property
    def is_by_hand(self) -> bool:
        """Whether this is what the hand tool does of the lawn."""
        return self.tool is Tool.HAND_TOOL

    @property
    def has_ground(self) -> bool:
        """Whether one of the tools has something to spray here."""
        return self.area_m2 + self.by_other_m2 > 0

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
    if stop.drawing is None:
        area_m2 = 0.0 if stop.area is None else stop.area.si
        by_hand_m2 = 0.0 if stop.hand_area is None else stop.hand_area.si
        return RouteStop(
            position,
            stop,
            max(0.0, area_m2 - by_hand_m2) / stop.parts,
            caps=told_caps(stop, request.products),
            by_other_m2=by_hand_m2 / stop.parts,
        )
    alone = replace(
        request,
        drawing=stop.drawing,
        setback_rules=(*request.setback_rules, *stop.setback_rules),
        past=stop.past,
        turfgrasses=stop.turfgrasses or request.turfgrasses,
        hand_tool=None if request.route is None else request.route.hand_tool,
        passes=False,
    )
    ground = ground_of(alone, rules=rules)
    parts = parts_of(alone, ground, in_order)
    planned = Planned(alone, ground, in_order, parts, totals_of(parts))
    return _of_part(position, stop, planned, 0)


def _of_part(position: int, stop: Stop, planned: Planned, which: int) -> RouteStop:
    part, told = planned.parts[which], told_caps(stop, planned.request.products)
    others_m2 = [each.level_m2 for each in planned.parts if each is not part]
    found = {product.name: part.cap_of(product) for product in part.products}
    caps = {name: min(cap, told.get(name, math.inf)) for name, cap in found.items()}
    return RouteStop(
        position,
        stop,
        part.level_m2 / stop.parts,
        planned,
        {name: cap for name, cap in caps.items() if cap < math.inf},
        part,
        math.fsum(others_m2) / stop.parts,
        part.tool,
    )


def stop_by_hand(stop: RouteStop) -> RouteStop:
    """Find what the hand tool does of a lawn that is shared with the machine.

    Parameters
    ----------
    stop : RouteStop
        The lawn as the machine sprays it. [m²]

    Returns
    -------
    RouteStop
        The same lawn as the hand tool does; it may have no ground there. [m²]

    Raises
    ------
    Nothing
        Any lawn can be shared.

    References
    ----------
    See ``shared_by_two``; of a lawn whose area was told, what was told with it.
    """
    # The gauge is that of the machine.
    asked = replace(stop.asked, gauge_after=None)
    if stop.planned is not None:
        return _of_part(stop.position, asked, stop.planned, 1)
    return replace(
        stop,
        asked=asked,
        area_m2=stop.by_other_m2,
        by_other_m2=stop.area_m2,
        tool=Tool.HAND_TOOL,
    )


def told_caps(stop: Stop, products: Sequence[Product]) -> dict[str, float]:
    """Find the highest rates that a lawn's own room and the label's limit each time allow.

    Parameters
    ----------
    stop : Stop
        The lawn. [-]
    products : Sequence[Product]
        The mix. [-]

    Returns
    -------
    dict of str to float
        The rates by the name of the product; none where nothing is told. [L or kg/m²]

    Raises
    ------
    Nothing
        What nobody told caps nothing.

    References
    ----------
    The label; the year's limits as told with the lawn.
    """
    caps = {}
    for product in products:
        each = product.label.limits.per_application
        told = [room.si for room in [stop.room.get(product.name)] if room is not None]
        if each is not None and RATE_KINDS[each.dimension] == product.kind:
            told.append(each.si)
        if told:
            caps[product.name] = min(told)
    return caps
