"""The one door: a plan from a request. Nothing else works out a plan.

Same request, same rules, same plan: no clock, no disk, no network.
"""

from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace
from functools import partial

from planner.core.amounts.feeding import feeding_findings, feeding_of
from planner.core.amounts.nutrients_had import with_history
from planner.core.amounts.parts import Part, parts_of, totals_of
from planner.core.amounts.passes import pass_findings
from planner.core.amounts.planned import Planned
from planner.core.amounts.surplus import Surplus, surplus_findings, surplus_of
from planner.core.amounts.uncertainty import ErrorBar, error_bar
from planner.core.checks.calibration import calibration_findings, target_findings
from planner.core.checks.conditions import condition_findings
from planner.core.checks.cross_use import cross_findings, cross_uses
from planner.core.checks.ground import ground_findings
from planner.core.checks.limits import limit_findings
from planner.core.checks.slips import slip_findings
from planner.core.checks.slopes import slope_findings
from planner.core.checks.spread import spread_findings
from planner.core.checks.strength import strength_findings
from planner.core.checks.tanks import measure_findings, mix_findings, too_many_loads
from planner.core.day_plan import DayPlan, day_plan
from planner.core.findings import Finding, Findings, told_by_tool
from planner.core.ground.ground import Rules, ground_of
from planner.core.machine.fittings import fitting_findings
from planner.core.machine.set_up import validity_findings
from planner.core.machine.tips import droplet_findings
from planner.core.mix.compatibility import compatibility_findings
from planner.core.mix.conditioning import conditioning_findings
from planner.core.mix.products import label_findings
from planner.core.mix_order import in_mixing_order
from planner.core.request import PlanRequest, read_request, read_request_text
from planner.core.shown import Shown
from planner.core.spots import spot_findings
from planner.core.spread.first_pass import first_pass_findings
from planner.core.spread.spreading import Spread
from planner.core.tank_history import history_findings
from planner.core.tolerance import stands_in
from planner.core.weather import HOLDS, weather_findings
from planner.core.workings import surplus_figures, uncertainty_figures, workings_of
from properties.core.working import Figure

NO_RULES = Rules()


@dataclass(frozen=True)
class Plan(Planned):
    """What to spray, with what, how much, and what speaks against it."""

    findings: Findings
    surplus: Surplus | None
    error_bar: ErrorBar
    working: tuple[Figure, ...]
    day: DayPlan | None = None

    @property
    def warnings(self) -> tuple[Finding, ...]:
        """What to take care of."""
        return self.findings.warnings

    @property
    def refusals(self) -> tuple[Finding, ...]:
        """What stops the job; nothing may be sprayed while there is one."""
        return self.findings.refusals

    @property
    def is_on_hold(self) -> bool:
        """Whether the wind stops all spraying; the figures stand for when it has dropped."""
        return _is_hold(self.findings)


def plan(request: PlanRequest, *, rules: Rules = NO_RULES) -> Plan:
    """Work out a plan.

    Parameters
    ----------
    request : PlanRequest
        What is asked for. [-]
    rules : Rules
        What the firm goes by where the request is silent. [-]

    Returns
    -------
    Plan
        The plan; where it must not be sprayed it says so in ``refusals``. [-]

    Raises
    ------
    FaultsFound
        If outlines of the past cannot be told apart; all else that speaks against a
        request that was read is a refusal of its plan.

    References
    ----------
    Each figure names its own in ``working``.
    """
    planned = _planned(request, rules)
    findings = _findings(planned)
    surplus = _surplus(planned, findings)
    if surplus is not None:
        findings += surplus_findings(surplus, shown=planned.shown)
    bar = error_bar(planned.ground, planned.parts, request.placing)
    day = _day(planned, rules)
    if day is not None:
        findings = findings.with_new(day.findings)
    return Plan(
        planned.request,
        planned.ground,
        planned.mixing_order,
        planned.parts,
        planned.totals,
        findings=findings,
        surplus=surplus,
        error_bar=bar,
        working=(
            *workings_of(planned),
            *surplus_figures(surplus, shown=planned.shown),
            *uncertainty_figures(bar.uncertainty, planned, shown=planned.shown),
            *(() if day is None else day.working),
        ),
        day=day,
    )


def plan_from_json(value: object, *, rules: Rules = NO_RULES) -> Plan:
    """Read a plan request from a JSON value, and work out its plan.

    Parameters
    ----------
    value : object
        What the JSON text held. [-]
    rules : Rules
        What the firm goes by where the request is silent. [-]

    Returns
    -------
    Plan
        The plan. [-]

    Raises
    ------
    FaultsFound
        If the request cannot be read.

    References
    ----------
    See ``read_request`` and ``plan``.
    """
    return plan(read_request(value), rules=rules)


def plan_from_text(text: str, *, rules: Rules = NO_RULES) -> Plan:
    """Read a plan request from JSON text, and work out its plan.

    Parameters
    ----------
    text : str
        One JSON object. [-]
    rules : Rules
        What the firm goes by where the request is silent. [-]

    Returns
    -------
    Plan
        The plan. [-]

    Raises
    ------
    FaultsFound
        If the text is not strict JSON or the request cannot be read.

    References
    ----------
    See ``read_request_text`` and ``plan``.
    """
    return plan(read_request_text(text), rules=rules)


def _planned(request: PlanRequest, rules: Rules) -> Planned:
    ground = ground_of(request, rules=rules)
    request = replace(
        request, nutrient_rules=with_history(request.nutrient_rules, request.past, ground)
    )
    order = in_mixing_order(request)
    parts = parts_of(request, ground, order)
    own = {product.name: product for product in parts[0].products}
    in_order = tuple(own[product.name] for product in order)
    return Planned(request, ground, in_order, parts, totals_of(parts))


def _is_hold(findings: Findings) -> bool:
    return any(refusal.code in HOLDS for refusal in findings.refusals)


def _surplus(planned: Planned, findings: Findings) -> Surplus | None:
    tank = planned.request.tank_now
    if tank is None:
        return None
    return surplus_of(tank, planned.parts, on_hold=_is_hold(findings))


def _day(planned: Planned, rules: Rules) -> DayPlan | None:
    request = planned.request
    if request.route is None:
        return None
    return day_plan(request, request.route, in_mixing_order(request), rules=rules)


def _findings(planned: Planned) -> Findings:
    request, parts, shown = planned.request, planned.parts, planned.shown
    found = ground_findings(planned.ground, shown=shown) + limit_findings(planned)
    if planned.spread is None:
        found += _findings_of_spray(planned)
    else:
        found += _findings_of_spreader(planned, planned.spread)
    found += _of_each(parts, partial(_validity_findings, request))
    used = {(part.tool, load.fill.tank) for part in parts for load in part.loads}
    found += history_findings(request.tanks_before, used, request.products)
    found += _of_each(
        parts,
        lambda part: feeding_findings(feeding_of(part, request.nutrient_rules), shown=shown),
    )
    found += weather_findings(
        request.weather,
        request.products,
        rule=request.wind_rule,
        in_shape=planned.ground.follows_wind,
    )
    stands = stands_in(request.drawing, told=request.turfgrasses, spared=planned.ground.spared)
    found += condition_findings(request.weather, request.products, stands=stands, shown=shown)
    found += _of_each(
        parts, lambda part: droplet_findings(part.sprayer.fittings.tip, request.products)
    )
    found += spot_findings(
        request.products,
        request.spots,
        ground_m2=planned.ground.treatment.treatable_area_m2,
        shown=shown,
    )
    return found + cross_findings(cross_uses(parts), shown=shown)


def _findings_of_spray(planned: Planned) -> Findings:
    request, parts, shown = planned.request, planned.parts, planned.shown
    found = _of_each(parts, lambda part: calibration_findings(part.output, shown=shown))
    found += _of_each(
        parts,
        lambda part: mix_findings(
            part.products,
            output_l_per_m2=part.l_per_rated_m2,
            order_is_told=request.mixing.order is not None,
        ),
    )
    found += _of_each(
        parts,
        lambda part: strength_findings(
            part.products, output_l_per_m2=part.l_per_rated_m2, shown=shown
        ),
    )
    for position, product in enumerate(request.products):
        found += _of_each(parts, partial(_label_findings, position, shown))
        found += slip_findings(product)
        found += _of_each(parts, partial(_measure_findings, request, position))
    found += compatibility_findings(request.products, request.mixing)
    found += conditioning_findings(request.mixing.water_test, request.products)
    found += _of_each(parts, partial(_slope_findings, request))
    found += _of_each(parts, partial(_load_findings, shown))
    return found + _of_each(parts, partial(_pass_findings, shown))


def _findings_of_spreader(planned: Planned, spread: Spread) -> Findings:
    shown = planned.shown
    found = spread_findings(spread, measures=planned.request.measures, shown=shown)
    found += slip_findings(spread.target)
    first = planned.first_pass
    return found if first is None else found + first_pass_findings(first, shown=shown)


def _of_each(parts: Iterable[Part], find: Callable[[Part], Findings]) -> Findings:
    return told_by_tool([(part.tool, find(part)) for part in parts])


def _validity_findings(request: PlanRequest, part: Part) -> Findings:
    sprayer = part.sprayer
    held = validity_findings(sprayer.made, sprayer.set_up, on=request.on)
    held += target_findings(part.output, sprayer.made.target, shown=request.shown)
    return held + fitting_findings(
        sprayer.fittings,
        sprayer.calibration,
        swath=sprayer.swath,
        speed=sprayer.driving.speed,
        shown=request.shown,
        pressure=sprayer.set_up.pressure,
    )


def _slope_findings(request: PlanRequest, part: Part) -> Findings:
    return slope_findings(part, part.products, request.nutrient_rules, shown=request.shown)


def _pass_findings(shown: Shown, part: Part) -> Findings:
    return pass_findings(part.drive, shown=shown, sides=part.sprayer.fittings.sides)


def _label_findings(position: int, shown: Shown, part: Part) -> Findings:
    product = part.products[position]
    return label_findings(product, output_l_per_m2=part.l_per_rated_m2, shown=shown)


def _measure_findings(request: PlanRequest, position: int, part: Part) -> Findings:
    return measure_findings(
        part.totals[position],
        part.loads,
        measures=request.measures,
        output_l_per_m2=part.l_per_rated_m2,
        shown=request.shown,
    )


def _load_findings(shown: Shown, part: Part) -> Findings:
    if part.loads or not part.carrier_l:
        return Findings()
    return too_many_loads(spray_l=part.carrier_l, tanks=part.sprayer.tanks, shown=shown)
