"""How finished spray is shared among fillings of the tanks. Volumes in L."""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import islice

MOST_LOADS = 500
_NOTHING_LEFT = 1e-9  # of a tank: what remains is the rounding of the machine, not spray


@dataclass(frozen=True)
class TankFill:
    """One tank filled once. ``filling`` counts the rounds through the tanks."""

    number: int
    filling: int
    tank: int
    volume_l: float
    before_l: float

    @property
    def tank_name(self) -> str:
        """What the tank is called, counted as a person counts."""
        return f"tank {self.tank}"


def tank_fills(*, spray_l: float, tanks_l: Sequence[float]) -> tuple[TankFill, ...]:
    """Fill the tanks in their order, each to the full, until the rest goes into the last.

    Parameters
    ----------
    spray_l : float
        All the finished spray, ≥ 0. [L]
    tanks_l : Sequence[float]
        What each tank holds, > 0, at least one. [L]

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
    Our own derivation: the volumes add up to all the spray, and only the last
    may be less than its tank.
    """
    fills = tuple(islice(_fills(spray_l, tanks_l), MOST_LOADS + 1)) if spray_l else ()
    return fills if len(fills) <= MOST_LOADS else ()


def _fills(spray_l: float, tanks_l: Sequence[float]) -> Iterator[TankFill]:
    poured_l: list[float] = []
    is_last = False
    while not is_last:
        before_l = math.fsum(poured_l)
        rounds, position = divmod(len(poured_l), len(tanks_l))
        left_l, tank_l = spray_l - before_l, tanks_l[position]
        is_last = left_l <= tank_l * (1 + _NOTHING_LEFT)
        poured_l.append(left_l if is_last else tank_l)
        yield TankFill(len(poured_l), rounds + 1, position + 1, poured_l[-1], before_l)
