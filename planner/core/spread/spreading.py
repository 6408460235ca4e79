"""What a spreader puts down: its passes, its bags, the fillings of its hopper.

Weights in kg, areas in m², rates in kg/m² of the ground that a label's rate meets.
"""

import math
from dataclasses import dataclass, replace

from planner.core.label.labels import SAME_NUMBER, Limits
from planner.core.machine.spreaders import Spreading, SpreadOutput
from planner.core.mix.measures import Measures, Span, span_of, to_measure
from planner.core.mix.portions import Portion, Total
from planner.core.mix.products import Product
from planner.core.spread.bags import Bags, Fillings, bags_for, fillings_for
from properties.core.units import quantity_of_si

#: A catch test, and what a pass used, may be so far from what was wanted.
TOLERANCE_SHARE = 0.05


@dataclass(frozen=True)
class Pass:
    """One time over the ground: what it takes, and how it is filled into the hopper."""

    number: int
    portion: Portion
    fillings: Fillings | None


@dataclass(frozen=True)
class Weighing:
    """The marks of the scales, and the highest rate that limits on nutrients allow, if any."""

    measures: Measures
    most: float | None = None


@dataclass(frozen=True)
class Spread:
    """A spreader's part of a job.

    ``target`` is the product as asked for, ``product`` the same at the rate that the
    spreader really puts down; ``allowed`` tells whether label and limits allow that.
    ``slope_factor`` is ground per area that a rate meets. ``most`` is the highest rate that
    limits allow, None where none binds.
    """

    spreading: Spreading
    output: SpreadOutput
    target: Product
    product: Product
    passes: tuple[Pass, ...]
    bags: Bags | None
    rated_m2: float
    slope_factor: float
    allowed: bool
    most: float | None = None

    @property
    def times_over(self) -> int:
        """How often it goes over the ground."""
        return self.spreading.times_over

    def rate_of_pass(self, kg_per_m2: float) -> float:
        """The rate of all passes together, for what one pass puts down."""
        return kg_per_m2 * self.times_over * self.slope_factor

    @property
    def wanted_kg_per_m2(self) -> float:
        """What one pass should put down."""
        return self.target.rate.si / self.times_over / self.slope_factor

    @property
    def aimed_kg_per_m2(self) -> float:
        """What the next catch test should aim at: what is wanted, or what a limit allows."""
        if self.most is None:
            return self.wanted_kg_per_m2
        return min(self.wanted_kg_per_m2, self.most / self.times_over / self.slope_factor)

    def deviation_of(self, kg_per_m2: float) -> float:
        """How far one pass is from what it should put down, as a share of it."""
        return kg_per_m2 / self.wanted_kg_per_m2 - 1

    @property
    def deviation(self) -> float:
        """How far the output that stands is from what was wanted."""
        return self.deviation_of(self.output.kg_per_m2)

    @property
    def kg(self) -> float:
        """All the product."""
        return math.fsum(each.portion.amount for each in self.passes)

    @property
    def total(self) -> Total:
        """The product for the whole job, with a portion for each pass."""
        portions = tuple(each.portion for each in self.passes)
        return Total(self.product, self.rated_m2, self.kg, portions)


def is_off(deviation: float) -> bool:
    """Tell whether a catch test or a pass is too far from what was wanted.

    Parameters
    ----------
    deviation : float
        What was used over what was wanted, less one. [1]

    Returns
    -------
    bool
        Whether it is more than 5 % off. [-]

    Raises
    ------
    Nothing
        Any number is off or not.

    References
    ----------
    UMass Extension Turf Program, Rotary Spreader Calibration Procedures: within 5 %.
    """
    return abs(deviation) > TOLERANCE_SHARE + SAME_NUMBER


def given_by(
    spreading: Spreading, output: SpreadOutput, target: Product, *, slope_factor: float
) -> Product:
    """Put a product at the rate that a spreader really gives.

    Parameters
    ----------
    spreading : Spreading
        How it puts granules down. [-]
    output : SpreadOutput
        What one pass puts down. [kg/m²]
    target : Product
        The product at the rate that is asked for. [-]
    slope_factor : float
        Ground per area that a label's rate meets, ≥ 1. [m²/m²]

    Returns
    -------
    Product
        The product at the rate of all passes. [kg/m²]

    Raises
    ------
    Nothing
        The arguments were checked at the door.

    References
    ----------
    Our own derivation: rate = output of a pass × passes.
    """
    rate = output.kg_per_m2 * spreading.times_over * slope_factor
    return replace(target, rate=quantity_of_si(rate, target.rate.unit))


def spread_of(
    spreading: Spreading,
    output: SpreadOutput,
    target: Product,
    *,
    rated_m2: float,
    slope_factor: float,
    weighing: Weighing,
) -> Spread:
    """Work out what a spreader puts down on its ground.

    Parameters
    ----------
    spreading : Spreading
        How it puts granules down. [-]
    output : SpreadOutput
        What one pass puts down. [kg/m²]
    target : Product
        The product at the rate that is asked for. [-]
    rated_m2 : float
        The ground that a label's rate meets, ≥ 0. [m²]
    slope_factor : float
        Ground per area that a label's rate meets, ≥ 1. [m²/m²]
    weighing : Weighing
        What it is weighed on, and the highest rate that limits allow. [kg, kg/m²]

    Returns
    -------
    Spread
        The passes, the bags, the fillings. [kg]

    Raises
    ------
    Nothing
        The arguments were checked at the door.

    References
    ----------
    Our own derivation: used = output of a pass × passes × ground.
    """
    times = spreading.times_over
    product = given_by(spreading, output, target, slope_factor=slope_factor)
    of_a_pass = quantity_of_si(product.rate.si / times, target.rate.unit)
    measured_for = replace(product, rate=of_a_pass)
    span = _span(product, weighing.most)
    per_pass = None if span is None else Span(span.lowest / times, span.highest / times)
    portion = _portion(measured_for, rated_m2, per_pass, weighing.measures)
    hopper = spreading.hopper
    set_out_kg = portion.amount if portion.measured is None else portion.measured.si
    fillings = None if hopper is None else fillings_for(kg=set_out_kg, hopper=hopper)
    bag = None if target.fertilizer is None else target.fertilizer.bag
    needed_kg = times * max(portion.amount, set_out_kg)
    return Spread(
        spreading,
        output,
        target,
        product,
        tuple(Pass(number, portion, fillings) for number in range(1, times + 1)),
        None if bag is None else bags_for(kg=needed_kg, bag=bag),
        rated_m2,
        slope_factor,
        allowed=span is not None,
        most=weighing.most,
    )


def _span(product: Product, most: float | None) -> Span | None:
    """The rates that weighing out may lead to; None where the rate itself is not allowed."""
    rate, label = product.rate.si, product.label.rate
    highest = None if label.highest is None else label.highest.si
    known = [each for each in (highest, most) if each is not None]
    limits = Limits(label.lowest, quantity_of_si(min(known), product.rate.unit) if known else None)
    if limits.exceeded_by(rate) or limits.undercut_by(rate):
        return None
    span = span_of(rate, limits)
    return span if label.highest is not None else Span(span.lowest, rate)


def _portion(product: Product, rated_m2: float, span: Span | None, measures: Measures) -> Portion:
    rate = product.rate.si
    measured = None
    if span is not None and rated_m2:
        measured = to_measure(rate=rate, extent=rated_m2, span=span, marks=measures.dry)
    return Portion(product, rated_m2, rate * rated_m2, measured)
