"""The one door: a plan from a request. Nothing else works out a plan.

Same request, same rules, same plan: no clock, no disk, no network.
"""

from dataclasses import dataclass

from planner.core.calibration import output_of
from planner.core.calibration_checks import calibration_findings
from planner.core.findings import Finding, Findings
from planner.core.ground import Rules, ground_of
from planner.core.ground_checks import ground_findings
from planner.core.loads import tank_fills
from planner.core.mixing import mixing_order
from planner.core.planned import Planned
from planner.core.portions import load_of, total_of
from planner.core.products import Product, label_findings
from planner.core.rates import finished_spray_l
from planner.core.request import PlanRequest, read_request, read_request_text
from planner.core.tank_checks import measure_findings, mix_findings, too_many_loads
from planner.core.weather import HOLDS, weather_findings
from planner.core.workings import workings_of
from properties.core.working import Figure

NO_RULES = Rules()


@dataclass(frozen=True)
class Plan(Planned):
    """What to spray, with what, how much, and what speaks against it."""

    findings: Findings
    working: tuple[Figure, ...]

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
        return any(refusal.code in HOLDS for refusal in self.refusals)


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
    Nothing
        What speaks against a request that was read is a refusal of its plan.

    References
    ----------
    Each figure names its own in ``working``.
    """
    planned = _planned(request, rules)
    return Plan(
        request,
        planned.ground,
        planned.output,
        planned.carrier_l,
        planned.mixing_order,
        planned.totals,
        planned.loads,
        findings=_findings(planned),
        working=workings_of(planned),
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
    output = output_of(request.machine.calibration, swath_m=request.machine.swath.si)
    area_m2 = ground.treatment.treatable_area_m2
    carrier_l = finished_spray_l(area_m2=area_m2, output_l_per_m2=output.l_per_m2)
    fills = tank_fills(spray_l=carrier_l, tanks_l=[tank.si for tank in request.machine.tanks])
    order = _in_mixing_order(request.products)
    loads = tuple(load_of(fill, order, output=output, measures=request.measures) for fill in fills)
    totals = tuple(
        total_of(product, loads, area_m2=area_m2, spray_l=carrier_l) for product in request.products
    )
    return Planned(request, ground, output, carrier_l, order, totals, loads)


def _in_mixing_order(products: tuple[Product, ...]) -> tuple[Product, ...]:
    positions = mixing_order(
        [product.formulation for product in products],
        late=[product.is_liquid and not product.by_area for product in products],
    )
    return tuple(products[position] for position in positions)


def _findings(planned: Planned) -> Findings:
    request, output, shown = planned.request, planned.output, planned.shown
    found = ground_findings(planned.ground, shown=shown)
    found += calibration_findings(output, shown=shown)
    found += mix_findings(request.products, output_l_per_m2=output.l_per_m2)
    for total in planned.totals:
        found += label_findings(total.product, output_l_per_m2=output.l_per_m2, shown=shown)
        found += measure_findings(
            total,
            planned.loads,
            measures=request.measures,
            output_l_per_m2=output.l_per_m2,
            shown=shown,
        )
    if planned.carrier_l and not planned.loads:
        found += too_many_loads(spray_l=planned.carrier_l, tanks=request.machine.tanks, shown=shown)
    return found + weather_findings(
        request.weather,
        request.products,
        rule=request.wind_rule,
        in_shape=planned.ground.follows_wind,
    )
