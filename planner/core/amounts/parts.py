"""The part of a job that one tool does: its ground, its spray, its loads.

Areas in m², volumes in L, outputs in L/m².
"""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from planner.core.amounts.passes import Drive, drive_of
from planner.core.amounts.slope_output import (
    SlopeGround,
    caps_of,
    level_area_m2,
    slopes_under,
    tightest_on,
    times_on,
)
from planner.core.calibration import Output, output_of
from planner.core.ground.ground import Ground, ToolGround
from planner.core.label.rates import finished_spray_l
from planner.core.limits.rooms import Tightest, shares_left
from planner.core.machine.machines import Machine
from planner.core.machine.spreaders import spread_output_of
from planner.core.mix.greater_rate import at_greater_rates
from planner.core.mix.loads import poured_share, tank_fills
from planner.core.mix.portions import Load, Total, load_of, total_of
from planner.core.mix.products import Product
from planner.core.nutrient.limits import checked_limits, most_product
from planner.core.nutrient.nutrients import added_nutrients
from planner.core.request import PlanRequest, RateMeets
from planner.core.spread.spreading import Spread, Weighing, given_by, spread_of
from planner.core.tools import Tool
from properties.core.units import quantity_of_si


@dataclass(frozen=True)
class Part:
    """What one tool sprays. Its loads are numbered on from those of the tool before.

    ``slope_factor`` is ground per area that a label's rate meets: 1 unless rates meet
    the map. ``drive`` is None for a tool that is not driven in passes, ``spread`` for one
    that sprays: a spreader has it instead of spray and loads. ``tightest`` has the ground
    with the least room left against each limit, ``slopes`` what comes down on each slope.
    ``spot_share`` is how much of the ground is sprayed, where only spots of it are.
    """

    tool: Tool
    sprayer: Machine
    ground: ToolGround
    output: Output
    slope_factor: float
    carrier_l: float
    totals: tuple[Total, ...]
    loads: tuple[Load, ...]
    drive: Drive | None
    spread: Spread | None = None
    tightest: tuple[Tightest, ...] = ()
    slopes: tuple[SlopeGround, ...] = ()
    spot_share: float = 1.0

    @property
    def stays_l(self) -> float:
        """What stays in the tanks and cannot be sprayed."""
        return math.fsum(load.fill.stays_l for load in self.loads)

    @property
    def mixed_l(self) -> float:
        """All that is mixed: the finished spray, and what stays in the tanks."""
        return self.carrier_l + self.stays_l

    @property
    def area_m2(self) -> float:
        """The ground, slope applied."""
        return self.ground.area_m2

    @property
    def level_m2(self) -> float:
        """The level ground that takes as much spray: the ground, but for slopes and spots."""
        return self.spot_share * level_area_m2(self.area_m2, self.slopes)

    @property
    def is_other_area(self) -> bool:
        """Whether amounts follow another area than all of the ground."""
        return self.slopes_differ or self.spot_share != 1

    @property
    def rated_m2(self) -> float:
        """The area that a label's rate meets, as level ground."""
        return self.level_m2 / self.slope_factor

    @property
    def slopes_differ(self) -> bool:
        """Whether something else than the calibrated output comes down on a slope."""
        return any(slope.is_other for slope in self.slopes)

    @property
    def most_times(self) -> float:
        """How many times the calibrated output comes down somewhere at most; 1 or more."""
        return max(1.0, *times_on(self.area_m2, self.slopes))

    @property
    def products(self) -> tuple[Product, ...]:
        """The mix as it goes down with this tool, in the order of the request."""
        return tuple(total.product for total in self.totals)

    def cap_of(self, product: Product) -> float:
        """The highest rate of a product that all the ground may get; without end if any may."""
        return _caps(self.tightest, [product], self.most_times).get(product.name, math.inf)

    @property
    def l_per_rated_m2(self) -> float:
        """Finished spray on the area that a label's figures meet."""
        return self.output.l_per_m2 * self.slope_factor


def parts_of(request: PlanRequest, ground: Ground, in_order: Sequence[Product]) -> tuple[Part, ...]:
    """Work out what each tool sprays, with what.

    Parameters
    ----------
    request : PlanRequest
        What is asked for. [-]
    ground : Ground
        The ground of each tool. [m²]
    in_order : Sequence[Product]
        The mix in mixing order. [-]

    Returns
    -------
    tuple[Part, ...]
        A part for the machine, and one for the hand tool if there is one. [L, m²]

    Raises
    ------
    Nothing
        A request that was read can be planned.

    References
    ----------
    Each part has its own output, so its own mix: concentration = rate / output.
    """
    parts: list[Part] = []
    for (tool, sprayer), own in zip(request.tools, ground.tools, strict=True):
        before = sum(len(part.loads) for part in parts)
        parts.append(_part(tool, sprayer, own, _Job(request, ground, in_order, before)))
    return tuple(parts)


@dataclass(frozen=True)
class _Job:
    """What the parts of a job share, and how many loads come before a part."""

    request: PlanRequest
    ground: Ground
    in_order: Sequence[Product]
    loads_before: int


def _part(tool: Tool, sprayer: Machine, own: ToolGround, job: _Job) -> Part:
    request, ground = job.request, job.ground
    factor = own.slope_factor if request.rate_meets is RateMeets.PLAN else 1.0
    output = output_of(sprayer.calibration, swath_m=sprayer.swath.si)
    slopes = slopes_under(sprayer, own, ground.treatment.site)
    spots = request.spots
    spot_share = 1.0 if spots is None else spots.share_of(own.area_m2)
    level_m2 = spot_share * level_area_m2(own.area_m2, slopes)
    carrier_l = finished_spray_l(area_m2=level_m2, output_l_per_m2=output.l_per_m2)
    in_order = at_greater_rates(job.in_order, output_l_per_m2=output.l_per_m2 * factor)
    put_down = _put_down(sprayer, in_order, factor)
    rates = rates_per_area(put_down, l_per_rated_m2=output.l_per_m2 * factor)
    tightest = tightest_on(own, slopes, ground.faces, rates)
    caps = _caps(tightest, put_down, max(1.0, *times_on(own.area_m2, slopes)))
    fills = tank_fills(spray_l=carrier_l, tanks_l=sprayer.fills_l, stays_l=sprayer.unsprayable_l)
    loads = tuple(
        load_of(
            replace(fill, number=job.loads_before + fill.number),
            in_order,
            output=output,
            measures=request.measures,
            slope_factor=factor,
            caps=caps,
        )
        for fill in fills
    )
    by_name = {product.name: product for product in in_order}
    totals = tuple(
        total_of(
            by_name[product.name],
            loads,
            area_m2=level_m2 / factor,
            spray_l=carrier_l,
            poured=poured_share(fills, spray_l=carrier_l),
        )
        for product in request.products
    )
    wanted = request.passes if spot_share == 1 else False
    drive = drive_of(sprayer, ground.fits, slopes, wanted=wanted)
    spread = _spread(request, sprayer, own, factor, caps)
    if spread is not None:
        totals = (spread.total,)
    return Part(
        *(tool, sprayer, own, output, factor, carrier_l, totals, loads, drive, spread),
        tightest=tightest,
        slopes=slopes,
        spot_share=spot_share,
    )


def _caps(
    tightest: Sequence[Tightest], products: Sequence[Product], times: float
) -> dict[str, float]:
    """The highest rate that the ground may still get of each product that anything limits."""
    left, caps = shares_left(tightest), caps_of(products, times)
    for each in products:
        if each.name in left:
            cap = left[each.name] * each.rate.si
            caps[each.name] = min(cap, caps.get(each.name, math.inf))
    return caps


def _put_down(sprayer: Machine, products: Sequence[Product], factor: float) -> Sequence[Product]:
    """The mix at the rates that go down: what is asked for, or what a spreader really gives."""
    spreading = sprayer.spreading
    if spreading is None:
        return products
    output = spread_output_of(spreading.calibration, swath_m=sprayer.swath.si)
    return [given_by(spreading, output, each, slope_factor=factor) for each in products]


def _spread(
    request: PlanRequest,
    sprayer: Machine,
    own: ToolGround,
    factor: float,
    caps: Mapping[str, float],
) -> Spread | None:
    if sprayer.spreading is None:
        return None
    (product,) = request.products
    fertilizers = [product.fertilizer] if product.fertilizer else []
    added = added_nutrients([(product.rate.si, each) for each in fertilizers])
    most = most_product(checked_limits(request.nutrient_rules, added), fertilizers)
    allowed = [rate for rate in (most, caps.get(product.name)) if rate is not None]
    return spread_of(
        sprayer.spreading,
        spread_output_of(sprayer.spreading.calibration, swath_m=sprayer.swath.si),
        product,
        rated_m2=own.area_m2 / factor,
        slope_factor=factor,
        weighing=Weighing(request.measures, min(allowed, default=None)),
    )


def rates_per_area(products: Sequence[Product], *, l_per_rated_m2: float) -> dict[str, float]:
    """Find how much of each product one area of ground gets.

    Parameters
    ----------
    products : Sequence[Product]
        The mix. [-]
    l_per_rated_m2 : float
        Finished spray on the area that a label's figures meet, > 0. [L/m²]

    Returns
    -------
    dict of str to float
        The rates by name. [L or kg/m²]

    Raises
    ------
    Nothing
        Every rate meets some ground.

    References
    ----------
    By definition: rate per area = rate per spray × output.
    """
    return {
        product.name: product.rate.si * (1.0 if product.by_area else l_per_rated_m2)
        for product in products
    }


def totals_of(parts: Sequence[Part]) -> tuple[Total, ...]:
    """Add up each product over the parts.

    Parameters
    ----------
    parts : Sequence[Part]
        The parts. [-]

    Returns
    -------
    tuple[Total, ...]
        Each product for the whole job, in the order asked for. [L or kg]

    Raises
    ------
    Nothing
        Every part has every product.

    References
    ----------
    Our own derivation.
    """
    return tuple(map(_added, zip(*(part.totals for part in parts), strict=True)))


def _added(totals: Sequence[Total]) -> Total:
    extent = math.fsum(total.extent for total in totals)
    poured = math.fsum(total.extent * total.poured for total in totals)
    amount = math.fsum(total.amount for total in totals)
    return Total(
        _mean_of(totals, amount=amount, extent=extent),
        extent=extent,
        amount=amount,
        portions=tuple(portion for total in totals for portion in total.portions),
        poured=poured / extent if extent else 1.0,
    )


def _mean_of(totals: Sequence[Total], *, amount: float, extent: float) -> Product:
    """The product at its mean rate over the ground of all tools, where theirs differ."""
    product = totals[0].product
    if not extent or all(total.product.rate == product.rate for total in totals):
        return product
    rate = quantity_of_si(amount / extent, product.rate.unit)
    shares = tuple((total.extent, total.product.rate) for total in totals)
    return replace(product, rate=rate, least=None, shares=shares)
