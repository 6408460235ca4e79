"""How much a tank may hold on the road: its fill limit, or less where the weight says so.

Volumes in L, weights in kg.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass

from planner.core.day.filling import concentration
from planner.core.machine.machines import Machine
from planner.core.mix.products import Product
from planner.core.route import Route
from planner.core.shown import Shown
from properties.core.units import Quantity

#: What a volume of water weighs. Spray is heavier where its products are.
WATER = Quantity(8.34, "lb/gal")

#: By the unit of the spray.
WEIGHT_UNITS = {"gal": "lb/gal", "L": "kg/L"}


@dataclass(frozen=True)
class TankLimits:
    """One tank: how far it may be filled, and what of that cannot be sprayed.

    ``stays`` is all that cannot be sprayed; ``in_hose`` is the part of it in a hose whose
    length was told, which comes on top of the sump.
    ``spray_kg_per_l`` is what the spray weighs, None where a liquid’s density is not known
    and it is taken for water. ``weight_limit_l`` is what the weight allows, None where
    nobody limits it.
    """

    tank: Quantity
    fill_limit: Quantity | None
    weight_limit: Quantity | None
    stays: Quantity
    spray_kg_per_l: float | None = None
    in_hose: Quantity | None = None

    @property
    def taken_kg_per_l(self) -> float:
        """The weight that is reckoned with."""
        return WATER.si if self.spray_kg_per_l is None else self.spray_kg_per_l

    @property
    def weight_limit_l(self) -> float | None:
        """So much spray weighs as much as the limit."""
        return None if self.weight_limit is None else self.weight_limit.si / self.taken_kg_per_l

    @property
    def holds_l(self) -> float:
        """How much may be in it at the start of a load."""
        fill = self.tank if self.fill_limit is None else self.fill_limit
        weight_l = self.weight_limit_l
        most_l = min(self.tank.si, fill.si)
        return most_l if weight_l is None else min(most_l, weight_l)

    @property
    def most_l(self) -> float:
        """How much of that can be sprayed."""
        return max(0.0, self.holds_l - self.stays.si)


def limits_of(
    machine: Machine, route: Route, products: Sequence[Product], *, output_l_per_m2: float
) -> TankLimits:
    """Take together what limits the tank that a route is driven with.

    Parameters
    ----------
    machine : Machine
        The machine, which tells what stays in the tank. [-]
    route : Route
        The route, with its tank and perhaps a limit of weight. [-]
    products : Sequence[Product]
        The mix. [-]
    output_l_per_m2 : float
        The machine's output, > 0. [L/m²]

    Returns
    -------
    TankLimits
        The limits. [L]

    Raises
    ------
    Nothing
        The route was checked against the machine.

    References
    ----------
    A US gallon of water weighs 8.34 lb: common practice.
    """
    position = route.tank - 1
    fills, stays, hose = machine.fill_limits, machine.unsprayable[position], machine.fittings.hose
    in_hose = None if hose is None else Quantity(hose.volume_l, "L")
    if in_hose is not None:
        stays = Quantity(machine.unsprayable_l[position], "L")
    return TankLimits(
        machine.tanks[position],
        fills[position] if fills else None,
        route.weight_limit,
        stays,
        spray_kg_per_l(products, output_l_per_m2=output_l_per_m2),
        in_hose,
    )


def spray_kg_per_l(products: Sequence[Product], *, output_l_per_m2: float) -> float | None:
    """Find what a litre of finished spray weighs.

    Parameters
    ----------
    products : Sequence[Product]
        The mix. [-]
    output_l_per_m2 : float
        The machine's output, > 0. [L/m²]

    Returns
    -------
    float or None
        The weight; None where the density of a liquid is not known. [kg/L]

    Raises
    ------
    Nothing
        Any mix weighs something.

    References
    ----------
    Our own derivation: each liquid takes the room of as much water; what is dry comes on top.
    """
    weights = [WATER.si]
    for product in products:
        per_l, density = (
            concentration(product, output_l_per_m2=output_l_per_m2),
            product.label.density,
        )
        if not product.is_liquid:
            weights.append(per_l)
        elif density is None:
            return None
        else:
            weights.append(per_l * (density.si - WATER.si))
    return math.fsum(weights)


def weight_unit(shown: Shown) -> str:
    """Name the unit that a weight of spray is shown in.

    Parameters
    ----------
    shown : Shown
        The units to show. [-]

    Returns
    -------
    str
        The unit. [-]

    Raises
    ------
    Nothing
        Both families have one.

    References
    ----------
    Our own list of units.
    """
    return WEIGHT_UNITS[shown.spray]
