"""Each product's share of each load, and what to measure out for it.

Amounts in L or kg, volumes in L, areas in m².
"""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal

from planner.core.calibration import Output
from planner.core.label.labels import SAME_NUMBER, Form
from planner.core.label.rates import area_sprayed_m2, product_amount, water_to_add_l
from planner.core.mix.loads import TankFill
from planner.core.mix.measures import Measured, Measures, Span, to_measure
from planner.core.mix.products import Product
from properties.core.units import Quantity


@dataclass(frozen=True)
class Portion:
    """One product of one load. ``extent`` is the area or the volume its rate is given for.

    ``cap`` is the highest rate that the ground may still get.
    """

    product: Product
    extent: float
    amount: float
    measured: Measured | None
    cap: float = math.inf

    @property
    def may_be_mixed(self) -> bool:
        """Whether the label and the ground allow the rate asked for."""
        return self.product.may_be_mixed(self.cap)

    @property
    def span(self) -> Span:
        """The rates that rounding may lead to."""
        return self.product.span(self.cap)

    @property
    def rate_after_rounding(self) -> float | None:
        """The rate that what is measured out really gives."""
        return None if self.measured is None else self.measured.si / self.extent


@dataclass(frozen=True)
class Load:
    """One tank, filled: its products stand in mixing order.

    ``slope_factor`` is ground per area that a label's rate meets.
    """

    fill: TankFill
    area_m2: float
    portions: tuple[Portion, ...]
    slope_factor: float = 1.0

    @property
    def rated_m2(self) -> float:
        """The area that a label's rate meets."""
        return self.area_m2 / self.slope_factor

    @property
    def water_l(self) -> float | None:
        """Water to add; None where the products alone are more than the load."""
        liquids_l = [portion.amount for portion in self.portions if portion.product.is_liquid]
        water_l = water_to_add_l(spray_l=self.fill.volume_l, liquids_l=liquids_l)
        return water_l if water_l >= -SAME_NUMBER * self.fill.volume_l else None


@dataclass(frozen=True)
class Total:
    """One product for the whole job; ``portions`` are its shares, load by load.

    ``poured`` is how much more is mixed than is sprayed, for what stays in the tanks.
    """

    product: Product
    extent: float
    amount: float
    portions: tuple[Portion, ...]
    poured: float = 1.0

    def measured_in(self, unit: str) -> Quantity | None:
        """Add up what is measured out; None where something cannot be measured."""
        measured = [portion.measured for portion in self.portions]
        known = [each for each in measured if each is not None]
        if not known or len(known) < len(measured):
            return None
        return sum_in(unit, known)

    @property
    def mixed(self) -> float:
        """What is measured out, or the exact amount where it cannot be measured."""
        measured = self.measured_in("L" if self.product.is_liquid else "kg")
        return self.amount * self.poured if measured is None else measured.value

    def rate_after_rounding(self) -> float | None:
        """The mean rate that what is measured out really gives."""
        measured = self.measured_in("L" if self.product.is_liquid else "kg")
        return None if measured is None else measured.value / (self.extent * self.poured)


def sum_in(unit: str, measured: Sequence[Measured]) -> Quantity:
    """Add up measured amounts and show them in a unit, without a float's last digits.

    Parameters
    ----------
    unit : str
        The unit to show the sum in. [-]
    measured : Sequence[Measured]
        What is measured out, load by load. [L or kg]

    Returns
    -------
    Quantity
        The sum. [unit]

    Raises
    ------
    Refused
        If the unit is of another kind.

    References
    ----------
    Our own derivation.
    """
    shown = [each.shown_in(unit) for each in measured]
    return Quantity(float(sum(Decimal(repr(each.value)) for each in shown)), unit)


def load_of(
    fill: TankFill,
    products: Sequence[Product],
    *,
    output: Output,
    measures: Measures,
    slope_factor: float = 1.0,
    caps: Mapping[str, float] | None = None,
) -> Load:
    """Work out one load: its area, and each product's portion.

    Parameters
    ----------
    fill : TankFill
        The tank and its volume. [L]
    products : Sequence[Product]
        The mix, in mixing order. [-]
    output : Output
        The machine's output. [L/m²]
    measures : Measures
        The marks of what is on the truck. [-]
    slope_factor : float
        Ground per area that a label's rate meets, ≥ 1. [m²/m²]
    caps : Mapping of str to float, optional
        The highest rate that the ground may still get, by the product's name. [L or kg/m² or L]

    Returns
    -------
    Load
        The load. [L, m²]

    Raises
    ------
    Nothing
        What cannot be measured out is None.

    References
    ----------
    See ``area_sprayed_m2``, ``product_amount`` and ``to_measure``.
    """
    area_m2 = area_sprayed_m2(spray_l=fill.volume_l, output_l_per_m2=output.l_per_m2)
    portions = tuple(
        portion_of(
            product,
            area_m2=area_m2 / slope_factor,
            spray_l=fill.volume_l,
            measures=measures,
            cap=(caps or {}).get(product.name, math.inf),
        )
        for product in products
    )
    return Load(fill, area_m2, portions, slope_factor)


def portion_of(
    product: Product,
    *,
    area_m2: float,
    spray_l: float,
    measures: Measures,
    cap: float = math.inf,
) -> Portion:
    """Work out one product's portion of a load. A rate that is not allowed is not rounded.

    Parameters
    ----------
    product : Product
        The product. [-]
    area_m2 : float
        Area that the rate meets, > 0. [m²]
    spray_l : float
        Finished spray of the load, > 0. [L]
    measures : Measures
        The marks of what is on the truck. [-]
    cap : float
        The highest rate that the ground may still get. [L or kg per m² or L]

    Returns
    -------
    Portion
        The amount, and what to measure out where a measure allows it. [L or kg]

    Raises
    ------
    Nothing
        What cannot be measured out is None.

    References
    ----------
    See ``product_amount`` and ``to_measure``.
    """
    extent = area_m2 if product.by_area else spray_l
    rate = product.rate.si
    portion = Portion(product, extent, product_amount(rate=rate, extent=extent), None, cap)
    if not portion.may_be_mixed:
        return portion
    marks = measures.for_form(product.kind.form)
    measured = to_measure(rate=rate, extent=extent, span=portion.span, marks=marks)
    return replace(portion, measured=measured)


def total_of(
    product: Product,
    loads: Sequence[Load],
    *,
    area_m2: float,
    spray_l: float,
    poured: float = 1.0,
) -> Total:
    """Work out one product for the whole job, with its portions of the loads.

    Parameters
    ----------
    product : Product
        The product. [-]
    loads : Sequence[Load]
        Every load of the job. [-]
    area_m2 : float
        All the area that the rate meets, ≥ 0. [m²]
    spray_l : float
        All the finished spray, ≥ 0. [L]
    poured : float
        What is mixed as a share of that, with what stays in the tanks, ≥ 1. [L/L]

    Returns
    -------
    Total
        The amount for the job. [L or kg]

    Raises
    ------
    Nothing
        The arguments were checked at the door.

    References
    ----------
    See ``product_amount``.
    """
    extent = area_m2 if product.by_area else spray_l
    portions = tuple(
        portion for load in loads for portion in load.portions if portion.product is product
    )
    amount = product_amount(rate=product.rate.si, extent=extent)
    return Total(product, extent, amount, portions, poured)


def liquid_share(products: Sequence[Product], *, output_l_per_m2: float) -> float:
    """Find how much of the finished spray is product, by volume.

    Parameters
    ----------
    products : Sequence[Product]
        The mix. [-]
    output_l_per_m2 : float
        The machine's output, > 0. [L/m²]

    Returns
    -------
    float
        The share of all liquid products; above one they do not fit. [L/L]

    Raises
    ------
    Nothing
        The arguments were checked at the door.

    References
    ----------
    University of Georgia, Waltz and Murphy, Calibrate sprayer: share = rate per
    area / output.
    """
    return sum(
        product.rate.si / output_l_per_m2 if product.by_area else product.rate.si
        for product in products
        if product.kind.form is Form.LIQUID
    )
