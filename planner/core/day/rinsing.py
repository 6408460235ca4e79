"""Rinsing a tank: how much product stays in it after some rinses. Volumes in L."""

from dataclasses import dataclass

from planner.core.day.filling import Leftover
from planner.core.route import Rinsing

#: Of the tank, for each rinse, where nobody tells how much.
USUAL_SHARE = 0.1


@dataclass(frozen=True)
class Rinse:
    """So many rinses of what is left in a tank, against the same water all at once."""

    left: Leftover
    count: int
    volume_l: float

    @property
    def water_l(self) -> float:
        """All the clean water."""
        return self.count * self.volume_l

    @property
    def stays(self) -> float:
        """The share of the product that is still in the tank at the end."""
        return share_left(stays_l=self.left.volume_l, rinse_l=self.volume_l, count=self.count)

    @property
    def stays_if_at_once(self) -> float:
        """The same if all the water were used in one rinse."""
        return share_left(stays_l=self.left.volume_l, rinse_l=self.water_l, count=1)

    @property
    def rinsed_out(self) -> tuple[float, ...]:
        """How much of each product goes out with the rinse water."""
        return tuple(amount * (1 - self.stays) for amount in self.left.amounts)


def rinse_of(left: Leftover, asked: Rinsing, *, tank_l: float) -> Rinse:
    """Plan the rinses of what cannot be sprayed.

    Parameters
    ----------
    left : Leftover
        What is left in the tank. [L, L or kg]
    asked : Rinsing
        How often, and with how much. [L]
    tank_l : float
        What the tank holds, > 0. [L]

    Returns
    -------
    Rinse
        The rinses. [L]

    Raises
    ------
    Nothing
        Any tank can be rinsed.

    References
    ----------
    A tenth of the tank for each of three rinses is a rule of thumb of Purdue University
    Extension, as told in the farm press.
    """
    volume_l = USUAL_SHARE * tank_l if asked.volume is None else asked.volume.si
    return Rinse(left, asked.count, volume_l)


def share_left(*, stays_l: float, rinse_l: float, count: int) -> float:
    """Find how much of the product is left after some rinses, each drained to the same rest.

    Parameters
    ----------
    stays_l : float
        What cannot be drained, ≥ 0. [L]
    rinse_l : float
        Clean water of one rinse, > 0. [L]
    count : int
        How many rinses. [-]

    Returns
    -------
    float
        The share of the product that stays. [L/L]

    Raises
    ------
    Nothing
        The arguments were checked at the door.

    References
    ----------
    Our own derivation: each rinse thins what stays by stays / (stays + water), so after n
    rinses (stays / (stays + water))^n is left.
    """
    return float((stays_l / (stays_l + rinse_l)) ** count)
