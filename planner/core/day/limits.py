"""How much a tank may hold on the road: its fill limit, or less where the weight says so.

Volumes in L, weights in kg.
"""

from dataclasses import dataclass

from planner.core.machines import Machine
from planner.core.route import Route
from properties.core.units import Quantity

#: What a volume of water weighs. Spray is heavier where its products are.
WATER = Quantity(8.34, "lb/gal")


@dataclass(frozen=True)
class TankLimits:
    """One tank: how far it may be filled, and what of that cannot be sprayed.

    ``weight_limit_l`` is what the weight allows, None where nobody limits it.
    """

    tank: Quantity
    fill_limit: Quantity | None
    weight_limit: Quantity | None
    stays: Quantity

    @property
    def weight_limit_l(self) -> float | None:
        """So much water weighs as much as the limit."""
        return None if self.weight_limit is None else self.weight_limit.si / WATER.si

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


def limits_of(machine: Machine, route: Route) -> TankLimits:
    """Take together what limits the tank that a route is driven with.

    Parameters
    ----------
    machine : Machine
        The machine, which tells what stays in the tank. [-]
    route : Route
        The route, with its tank and perhaps a limit of weight. [-]

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
    fills = machine.fill_limits
    return TankLimits(
        machine.tanks[position],
        fills[position] if fills else None,
        route.weight_limit,
        machine.unsprayable[position],
    )
