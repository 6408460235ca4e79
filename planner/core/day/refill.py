"""What the gauge says at a reload point: how much really went out, and what to add now.

Volumes in L, amounts in L or kg, areas in m², outputs in L/m².
"""

from collections.abc import Sequence
from dataclasses import dataclass

from planner.core.day.filling import Leftover, RouteLoad
from planner.core.mix.products import Product
from planner.core.route import Reading

#: An output this far from the planned one, as a share of it, is looked into before going on.
DRIFT_TOLD = 0.05
_SAME_SHARE = 1e-9  # a drift of exactly 5 % is not more than 5 %


@dataclass(frozen=True)
class Done:
    """A load that was sprayed: what the tank held, what is in it now, on how much ground."""

    load: RouteLoad
    reading: Reading
    start: Leftover
    in_tank_l: float

    @property
    def used_l(self) -> float:
        """What went out."""
        return self.start.volume_l - self.in_tank_l

    @property
    def area_m2(self) -> float:
        """The ground it went out on."""
        return self.load.need.area_m2

    @property
    def output_l_per_m2(self) -> float:
        """What was really put down."""
        return self.used_l / self.area_m2

    @property
    def drift(self) -> float:
        """How far that is from the planned output, as a share of it."""
        return self.output_l_per_m2 / self.load.need.output_l_per_m2 - 1

    @property
    def has_drifted(self) -> bool:
        """Whether it is so far off that somebody must look into it."""
        return abs(self.drift) > DRIFT_TOLD + _SAME_SHARE

    @property
    def left(self) -> Leftover:
        """What is in the tank now, as strong as it was."""
        share = self.in_tank_l / self.start.volume_l
        return Leftover(self.in_tank_l, tuple(amount * share for amount in self.start.amounts))

    def delivered(self, product: Product, position: int) -> float:
        """The rate that the ground has had of a product."""
        per_l = self.start.per_l(position)
        return per_l * self.output_l_per_m2 if product.by_area else per_l


@dataclass(frozen=True)
class Naive:
    """The next load filled by its old recipe, whatever is in the tank: what not to do."""

    tank_l: float
    left_l: float
    rates: tuple[float, ...]


@dataclass(frozen=True)
class Refill:
    """What was done, the loads that follow from it, and what the old recipe would do.

    There are no ``loads`` where what is left of the route does not fit any more.
    """

    done: Done
    loads: tuple[RouteLoad, ...]
    naive: Naive | None


def done_with(load: RouteLoad, reading: Reading) -> Done:
    """Compare what the gauge shows with what the tank held when the load began.

    Parameters
    ----------
    load : RouteLoad
        The load as it was planned. [L, L or kg]
    reading : Reading
        What was read. [L, L or kg]

    Returns
    -------
    Done
        What was really put down. [L, L or kg]

    Raises
    ------
    Nothing
        The reading was checked against the load.

    References
    ----------
    Our own derivation: output = (in the tank at the start − in the tank now) / ground.
    """
    started_l = load.tank_l if reading.started_with is None else reading.started_with.si
    amounts = tuple(
        each.in_tank if (told := reading.put_in.get(each.product.name)) is None else told.si
        for each in load.products
    )
    return Done(load, reading, Leftover(started_l, amounts), reading.in_tank.si)


def naive_refill(done: Done, planned: RouteLoad, *, output_l_per_m2: float) -> Naive:
    """Fill the next load by its old recipe on top of what is really in the tank.

    Parameters
    ----------
    done : Done
        What is in the tank. [L, L or kg]
    planned : RouteLoad
        The next load as it was planned. [L, L or kg]
    output_l_per_m2 : float
        What is really put down, > 0. [L/m²]

    Returns
    -------
    Naive
        The rate it would give, and what would be left at the end. [L, L or kg]

    Raises
    ------
    Nothing
        Any load can be filled wrongly.

    References
    ----------
    Our own derivation.
    """
    left = done.left
    tank_l = left.volume_l + planned.fill_l
    rates: list[float] = []
    for position, each in enumerate(planned.products):
        added = each.in_tank - each.carried
        per_l = (left.amounts[position] + added) / tank_l
        rates.append(per_l * output_l_per_m2 if each.product.by_area else per_l)
    return Naive(tank_l, tank_l - planned.need.area_m2 * output_l_per_m2, tuple(rates))


def dilute_to_l(in_tank: float, *, per_l: float) -> float:
    """How much spray a leftover must be made up to, before it is no stronger than wanted.

    Holds in any consistent units.

    Parameters
    ----------
    in_tank : float
        The product that the leftover holds. [L or kg]
    per_l : float
        The concentration that is wanted, > 0. [L/L or kg/L]

    Returns
    -------
    float
        The least volume. [L]

    Raises
    ------
    Nothing
        The arguments were checked at the door.

    References
    ----------
    Our own derivation: nothing can be taken out, so volume = product / concentration.
    """
    return in_tank / per_l


def follows(loads: Sequence[RouteLoad], done: Done) -> RouteLoad | None:
    """Find the load that was planned to come next.

    Parameters
    ----------
    loads : Sequence[RouteLoad]
        The loads as planned. [-]
    done : Done
        The one that was sprayed. [-]

    Returns
    -------
    RouteLoad or None
        The next, None after the last. [-]

    Raises
    ------
    Nothing
        The last has no next.

    References
    ----------
    Our own derivation.
    """
    after = done.load.need.number
    return loads[after] if after < len(loads) else None
