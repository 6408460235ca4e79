"""What is found about each lawn of a route, told with its name."""

from collections.abc import Iterator, Sequence
from dataclasses import replace

from planner.core.amounts.feeding import feeding_findings, feeding_on
from planner.core.amounts.nutrients_had import with_history
from planner.core.amounts.planned import Planned
from planner.core.checks.conditions import turf_findings
from planner.core.checks.ground import ground_findings
from planner.core.checks.limits import limit_findings
from planner.core.checks.slopes import slope_findings
from planner.core.day.ground import RouteStop, told_caps
from planner.core.findings import Finding, Findings
from planner.core.label.labels import SAME_NUMBER
from planner.core.limits.ceilings import ceilings_of
from planner.core.mix.products import Product
from planner.core.request import PlanRequest
from planner.core.shown import Shown, said_at_most


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
        cap = told_caps(stop.asked, [product]).get(product.name)
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
