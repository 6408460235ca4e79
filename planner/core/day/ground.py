"""The ground of a route, lawn by lawn: told, or measured like that of any plan. Areas in m²."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from planner.core.findings import Finding, Findings
from planner.core.ground import Ground, Rules, ground_of
from planner.core.ground_checks import ground_findings
from planner.core.request import PlanRequest
from planner.core.route import Stop
from planner.core.shown import Shown


@dataclass(frozen=True)
class RouteStop:
    """One lawn: its position on the route, and the ground if it was drawn."""

    position: int
    asked: Stop
    area_m2: float
    ground: Ground | None = None

    @property
    def number(self) -> int:
        """The position as a person counts."""
        return self.position + 1


def stops_of(stops: Sequence[Stop], request: PlanRequest, *, rules: Rules) -> tuple[RouteStop, ...]:
    """Measure every lawn that is drawn, and take the area of the others as told.

    Parameters
    ----------
    stops : Sequence[Stop]
        The lawns. [-]
    request : PlanRequest
        What holds for all of them: the machine, the rules, the wind. [-]
    rules : Rules
        What the firm goes by where the request is silent. [-]

    Returns
    -------
    tuple[RouteStop, ...]
        The lawns with their ground. [m²]

    Raises
    ------
    Nothing
        A request that was read can be measured.

    References
    ----------
    See ``ground_of``.
    """
    return tuple(
        _measured(position, stop, request, rules=rules) for position, stop in enumerate(stops)
    )


def _measured(position: int, stop: Stop, request: PlanRequest, *, rules: Rules) -> RouteStop:
    if stop.drawing is None:
        told = 0.0 if stop.area is None else stop.area.si
        return RouteStop(position, stop, told)
    alone = replace(
        request,
        drawing=stop.drawing,
        setback_rules=(*request.setback_rules, *stop.setback_rules),
        hand_tool=None,
    )
    ground = ground_of(alone, rules=rules)
    return RouteStop(position, stop, ground.tools[0].area_m2, ground)


def stop_findings(stop: RouteStop, *, shown: Shown) -> Findings:
    """Say what is found about the ground of a drawn lawn, each with the name of the lawn.

    Parameters
    ----------
    stop : RouteStop
        The lawn. [m²]
    shown : Shown
        The units to say numbers in. [-]

    Returns
    -------
    Findings
        As for a plan of the lawn alone; none where its area is told. [-]

    Raises
    ------
    Nothing
        What is found is returned.

    References
    ----------
    See ``ground_findings``.
    """
    if stop.ground is None:
        return Findings()
    found = ground_findings(stop.ground, shown=shown)
    return Findings(
        tuple(_named(finding, stop) for finding in found.warnings),
        tuple(_named(finding, stop) for finding in found.refusals),
    )


def _named(finding: Finding, stop: RouteStop) -> Finding:
    return replace(finding, message=f"{stop.asked.name}: {finding.message}")
