"""How finished spray is shared among fillings of the tanks. Volumes in L."""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import islice

MOST_LOADS = 500
_NOTHING_LEFT = 1e-9  # of a tank: what remains is the rounding of the machine, not spray


@dataclass(frozen=True)
class TankFill:
    """One tank filled once. ``filling`` counts the rounds through the tanks.

    ``stays_l`` of its volume cannot be sprayed; it is filled in once, when the tank is
    filled first.
    """

    number: int
    filling: int
    tank: int
    volume_l: float
    before_l: float
    stays_l: float = 0.0

    @property
    def tank_name(self) -> str:
        """What the tank is called, counted as a person counts."""
        return f"tank {self.tank}"


def tank_fills(
    *, spray_l: float, tanks_l: Sequence[float], stays_l: Sequence[float] | None = None
) -> tuple[TankFill, ...]:
    """Fill the tanks in their order, each to the full, until the rest goes into the last.

    Parameters
    ----------
    spray_l : float
        All the finished spray, ≥ 0. [L]
    tanks_l : Sequence[float]
        How far each tank is filled, > 0, at least one. [L]
    stays_l : Sequence[float], optional
        What cannot be sprayed from each tank, less than it holds; nothing unless told. [L]

    Returns
    -------
    tuple[TankFill, ...]
        The fills in order; none where there is no spray, or too much for 500. [L]

    Raises
    ------
    Nothing
        The arguments were checked at the door.

    References
    ----------
    Our own derivation: the volumes add up to all the spray and what stays in the tanks,
    and only the last may be less than its tank.
    """
    stays = (0.0,) * len(tanks_l) if stays_l is None else stays_l
    fills = tuple(islice(_fills(spray_l, tanks_l, stays), MOST_LOADS + 1)) if spray_l else ()
    return fills if len(fills) <= MOST_LOADS else ()


def _fills(
    spray_l: float, tanks_l: Sequence[float], stays_l: Sequence[float]
) -> Iterator[TankFill]:
    sprayed_l: list[float] = []
    is_last = False
    while not is_last:
        before_l = math.fsum(sprayed_l)
        rounds, position = divmod(len(sprayed_l), len(tanks_l))
        left_l, most_l = spray_l - before_l, tanks_l[position] - stays_l[position]
        is_last = left_l <= most_l * (1 + _NOTHING_LEFT)
        sprayed_l.append(left_l if is_last else most_l)
        stays = 0.0 if rounds else stays_l[position]
        volume_l = sprayed_l[-1] + stays
        yield TankFill(len(sprayed_l), rounds + 1, position + 1, volume_l, before_l, stays)


def poured_share(fills: Sequence[TankFill], *, spray_l: float) -> float:
    """Find how much is mixed for each part that is sprayed.

    Parameters
    ----------
    fills : Sequence[TankFill]
        The fillings. [L]
    spray_l : float
        All the finished spray, ≥ 0. [L]

    Returns
    -------
    float
        Mixed over sprayed; 1 where nothing stays in the tanks. [L/L]

    Raises
    ------
    Nothing
        Without spray nothing is mixed.

    References
    ----------
    Our own derivation.
    """
    stays_l = math.fsum(fill.stays_l for fill in fills)
    return (spray_l + stays_l) / spray_l if spray_l else 1.0
