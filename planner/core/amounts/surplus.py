"""A tank that is mixed already against what is needed now: left over, missing, its rate.

Volumes in L, amounts in L or kg, rates in L or kg per m² or L.
"""

from collections.abc import Sequence
from dataclasses import dataclass

from planner.core.amounts.parts import Part
from planner.core.findings import Finding, Findings
from planner.core.label.labels import SAME_NUMBER, Limits
from planner.core.mix.portions import Total
from planner.core.mix.products import Product
from planner.core.shown import Shown, said, said_at_most
from planner.core.tank_now import TankNow


@dataclass(frozen=True)
class InTank:
    """One product of a mixed tank: what is in it, what is needed, what is over or missing.

    ``rate`` is what the ground gets, once what is missing has been added, and ``cap`` the
    most that it may still get.
    """

    product: Product
    in_tank: float
    needed: float
    left_over: float
    missing: float
    rate: float
    cap: float

    @property
    def passes_room(self) -> bool:
        """Whether the ground would get more than it may."""
        return self.rate > self.cap * (1 + SAME_NUMBER)

    @property
    def allowed(self) -> bool | None:
        """Whether the label and the ground allow the rate, None where nobody knows."""
        return False if self.passes_room else self.product.allows(self.rate)


@dataclass(frozen=True)
class Surplus:
    """A mixed tank against what is needed now; on hold nothing is needed."""

    part: Part
    in_tank_l: float
    needed_l: float
    on_hold: bool
    products: tuple[InTank, ...]

    @property
    def is_enough(self) -> bool:
        """Whether the tank holds at least what is needed."""
        return self.in_tank_l >= self.needed_l

    @property
    def left_over_l(self) -> float:
        """What is left when the work is done."""
        return max(0.0, self.in_tank_l - self.needed_l)

    @property
    def missing_l(self) -> float:
        """What must be mixed besides."""
        return max(0.0, self.needed_l - self.in_tank_l)


def surplus_of(tank: TankNow, parts: Sequence[Part], *, on_hold: bool) -> Surplus:
    """Compare a mixed tank with what its tool needs now.

    With enough in the tank, it is sprayed as it is. With too little, each product is
    made up to its rate for all the spray, and never taken out.

    Parameters
    ----------
    tank : TankNow
        What is mixed. [L, L or kg]
    parts : Sequence[Part]
        The parts of the plan, with one for the tank's tool. [-]
    on_hold : bool
        Whether the wind stops all spraying. [-]

    Returns
    -------
    Surplus
        What is needed, left over or missing, and the rate it comes to. [L, L or kg]

    Raises
    ------
    Nothing
        The tank was checked at the door.

    References
    ----------
    Our own derivation: added product = all the spray × new concentration − what is there.
    """
    (part,) = (each for each in parts if each.tool is tank.tool)
    needed_l = 0.0 if on_hold else part.carrier_l
    amounts = [tank.products[total.product.name].si for total in part.totals]
    make = _as_it_is if tank.spray.si >= needed_l else _made_up
    products = tuple(
        make(total, amount, part=part, in_tank_l=tank.spray.si, needed_l=needed_l)
        for total, amount in zip(part.totals, amounts, strict=True)
    )
    return Surplus(part, tank.spray.si, needed_l, on_hold, products)


def _as_it_is(
    total: Total, in_tank: float, *, part: Part, in_tank_l: float, needed_l: float
) -> InTank:
    per_l = in_tank / in_tank_l
    needed = per_l * needed_l
    rate = _rate(total.product, per_l, part)
    cap = part.cap_of(total.product)
    return InTank(total.product, in_tank, needed, in_tank - needed, 0.0, rate, cap)


def _made_up(
    total: Total, in_tank: float, *, part: Part, in_tank_l: float, needed_l: float
) -> InTank:
    missing = max(0.0, total.amount - in_tank)
    rate = _rate(total.product, (in_tank + missing) / needed_l, part)
    cap = part.cap_of(total.product)
    return InTank(total.product, in_tank, total.amount, 0.0, missing, rate, cap)


def _rate(product: Product, per_l: float, part: Part) -> float:
    return per_l * part.l_per_rated_m2 if product.by_area else per_l


def surplus_findings(surplus: Surplus, *, shown: Shown) -> Findings:
    """Refuse a tank whose rate the label does not allow.

    Parameters
    ----------
    surplus : Surplus
        The tank against what is needed. [L, L or kg]
    shown : Shown
        The units to say numbers in. [-]

    Returns
    -------
    Findings
        A refusal for each product outside its label. [-]

    Raises
    ------
    Nothing
        What is found is returned.

    References
    ----------
    The labels.
    """
    above = [each for each in surplus.products if _limits(each).exceeded_by(each.rate)]
    below = [each for each in surplus.products if _limits(each).undercut_by(each.rate)]
    too_much = [each for each in surplus.products if each.passes_room and each not in above]
    return Findings(
        refusals=(
            *(_above(each, surplus, shown) for each in above),
            *(_below(each, surplus, shown) for each in below),
            *(_above_room(each, surplus, shown) for each in too_much),
        )
    )


def _limits(each: InTank) -> Limits:
    return each.product.label.rate


def _above(each: InTank, surplus: Surplus, shown: Shown) -> Finding:
    message = (
        f"{_gives(each, surplus, shown)}, more than the label allows ({_limits(each).highest} at "
        "most). Do not spray it as it is: thin it for more ground, or use it in a tool or a place "
        "that its label allows."
    )
    return Finding("tank_above_label", message, product=each.product.name)


def _below(each: InTank, surplus: Surplus, shown: Shown) -> Finding:
    message = (
        f"{_gives(each, surplus, shown)}, less than the label’s lowest rate "
        f"({_limits(each).lowest}). Control may fail: add product, or use it elsewhere."
    )
    return Finding("tank_below_label", message, product=each.product.name)


def _above_room(each: InTank, surplus: Surplus, shown: Shown) -> Finding:
    cap = said_at_most(shown.rate_of(each.product.rate, each.cap))
    message = (
        f"{_gives(each, surplus, shown)}, and some of this ground may get {cap} at most, after "
        f"what it has had{_on_slopes(surplus)}. Thin it, or use it on ground with more room."
    )
    return Finding("tank_above_room", message, product=each.product.name)


def _on_slopes(surplus: Surplus) -> str:
    return " and as more comes down on its slopes" if surplus.part.most_times > 1 else ""


def _gives(each: InTank, surplus: Surplus, shown: Shown) -> str:
    rate = said(shown.rate_of(each.product.rate, each.rate))
    made_up = "" if surplus.is_enough else ", made up to what is needed,"
    return (
        f"{each.product.name}: the tank{made_up} would give {rate} with the "
        f"{surplus.part.tool.words}"
    )
