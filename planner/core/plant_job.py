"""The job of treating plants one by one: its spray, its loads, and what speaks against it.

Volumes in L, amounts in L or kg.
"""

import math
from collections.abc import Iterator
from dataclasses import dataclass
from functools import partial

from planner.core.checks.conditions import condition_findings
from planner.core.checks.strength import strength_findings
from planner.core.checks.tanks import measure_findings, mix_findings, too_many_loads
from planner.core.findings import Finding, Findings
from planner.core.label.labels import Basis
from planner.core.machine.machines import Machine
from planner.core.mix.compatibility import compatibility_findings
from planner.core.mix.conditioning import conditioning_findings
from planner.core.mix.loads import poured_share, tank_fills
from planner.core.mix.plants import Plants, in_spray, whole_plants_l
from planner.core.mix.portions import Load, Total, portion_of, total_of
from planner.core.mix.products import Product, rate_findings
from planner.core.mix_order import in_mixing_order
from planner.core.request import PlanRequest
from planner.core.shown import Shown, listed, said
from planner.core.tank_history import history_findings
from planner.core.tools import Tool
from planner.core.weather import HOLDS, weather_findings

#: No rate of a plant follows the ground, so any output does.
_ANY_OUTPUT = 1.0


@dataclass(frozen=True)
class PlantJob:
    """Plants, what is mixed for them, and what is found about it.

    ``told`` are the products at what each plant gets, in mixing order; those of the loads
    and the ``totals`` hold the same per volume of spray.
    """

    request: PlanRequest
    plants: Plants
    told: tuple[Product, ...]
    loads: tuple[Load, ...]
    totals: tuple[Total, ...]
    findings: Findings

    @property
    def shown(self) -> Shown:
        """The units that the job is shown in."""
        return self.request.shown

    @property
    def is_on_hold(self) -> bool:
        """Whether the wind stops all spraying."""
        return any(refusal.code in HOLDS for refusal in self.findings.refusals)

    @property
    def mixed_l(self) -> float:
        """All that is mixed: what the plants get, and what stays in the tanks."""
        return math.fsum(load.fill.volume_l for load in self.loads)

    def plants_in(self, load: Load) -> float:
        """How many plants a load is enough for."""
        return (load.fill.volume_l - load.fill.stays_l) / self.plants.spray_each.si

    def plants_before(self, load: Load) -> float:
        """How many plants the loads before it were enough for."""
        return load.fill.before_l / self.plants.spray_each.si

    def plants_that_fit(self, tank: int) -> float:
        """How many plants a tank, counted from 1, can be filled for."""
        machine = self.request.machine
        sprayed_l = plant_fills_l(machine, self.plants)[tank - 1] - machine.unsprayable_l[tank - 1]
        return sprayed_l / self.plants.spray_each.si

    def each(self, product: Product, per_l: float | None) -> float | None:
        """What one plant gets of a product that is in the spray so strongly."""
        if per_l is None or product.kind.basis is not Basis.PLANT:
            return per_l
        return per_l * self.plants.spray_each.si


def plant_job(request: PlanRequest, plants: Plants) -> PlantJob:
    """Work out what plants get, and what is mixed for them.

    Parameters
    ----------
    request : PlanRequest
        What is asked for. [-]
    plants : Plants
        How many there are, and the spray that each gets. [L]

    Returns
    -------
    PlantJob
        The job with its findings. [L, L or kg]

    Raises
    ------
    Nothing
        A request that was read can be planned; what speaks against it is a refusal.

    References
    ----------
    By definition: all = number × each; concentration = product for each / spray for each.
    """
    told = in_mixing_order(request)
    products = {each.name: in_spray(each, plants.spray_each) for each in told}
    machine = request.machine
    fills = tank_fills(
        spray_l=plants.spray_l,
        tanks_l=plant_fills_l(machine, plants),
        stays_l=machine.unsprayable_l,
    )
    mixed = partial(portion_of, area_m2=0.0, measures=request.measures)
    loads = tuple(
        Load(fill, 0.0, tuple(mixed(each, spray_l=fill.volume_l) for each in products.values()))
        for fill in fills
    )
    poured = poured_share(fills, spray_l=plants.spray_l)
    totals = tuple(
        total_of(products[each.name], loads, area_m2=0.0, spray_l=plants.spray_l, poured=poured)
        for each in request.products
    )
    found = _findings(request, plants, told, loads, totals)
    return PlantJob(request, plants, told, loads, totals, found)


def plant_fills_l(machine: Machine, plants: Plants) -> tuple[float, ...]:
    """Find how far each tank is filled, for whole plants where one fits.

    Parameters
    ----------
    machine : Machine
        The machine. [L]
    plants : Plants
        The plants. [L]

    Returns
    -------
    tuple[float, ...]
        The fills, in the order of the tanks. [L]

    Raises
    ------
    Nothing
        Any machine with tanks will do.

    References
    ----------
    See ``whole_plants_l``.
    """
    return tuple(
        whole_plants_l(plants, fill_l=fill_l, stays_l=never_l)
        for fill_l, never_l in zip(machine.fills_l, machine.unsprayable_l, strict=True)
    )


def _findings(
    request: PlanRequest,
    plants: Plants,
    told: tuple[Product, ...],
    loads: tuple[Load, ...],
    totals: tuple[Total, ...],
) -> Findings:
    shown, machine = request.shown, request.machine
    mixed = tuple(total.product for total in totals)
    found = Findings(tuple(_warnings(plants, told)))
    found += mix_findings(
        mixed,
        output_l_per_m2=_ANY_OUTPUT,
        order_is_told=request.mixing.order is not None,
    )
    found += strength_findings(mixed, output_l_per_m2=_ANY_OUTPUT, shown=shown)
    for product, total in zip(request.products, totals, strict=True):
        found += rate_findings(product)
        found += measure_findings(
            total,
            loads,
            measures=request.measures,
            output_l_per_m2=_ANY_OUTPUT,
            shown=shown,
        )
    if not loads:
        found += too_many_loads(spray_l=plants.spray_l, tanks=machine.tanks, shown=shown)
    found += compatibility_findings(mixed, request.mixing)
    found += conditioning_findings(request.mixing.water_test, mixed)
    used = {(Tool.MACHINE, load.fill.tank) for load in loads}
    found += history_findings(request.tanks_before, used, request.products)
    found += weather_findings(
        request.weather, request.products, rule=request.wind_rule, in_shape=False
    )
    return found + condition_findings(request.weather, request.products, shown=shown)


def _warnings(plants: Plants, products: tuple[Product, ...]) -> Iterator[Finding]:
    if plants.uncounted:
        message = (
            f"{listed(list(plants.uncounted))}: drawn as a line or an area, so nobody knows how "
            "many plants that is. It is not counted: count it on the site, and write the number."
        )
        yield Finding("plants_uncounted", message)
    for product in products:
        limits = (product.label.limits, *(i.limits for i in product.label.active_ingredients or ()))
        if any(each.is_set for each in limits):
            message = (
                f"{product.name}: the label limits what ground may get, and nobody says how much "
                f"ground these plants stand on. Each gets {said(plants.spray_each)} of spray: "
                "measure the ground it wets, and compare it with the label."
            )
            yield Finding("plant_ground_unknown", message, product=product.name)
    no_carrier = [p for p in products if p.label.setbacks or p.label.carrier.lowest is not None]
    for product in no_carrier:
        message = (
            f"{product.name}: its label asks for distances or for so much spray on an area. No "
            "drawing is measured here: look at each plant, and leave out those that are too near."
        )
        yield Finding("plant_distances_unchecked", message, product=product.name)
