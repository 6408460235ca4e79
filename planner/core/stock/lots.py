"""Which lot to take: the first to expire first, and none that has.

Amounts in L or kg.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from planner.core.stock.ledger import Shelf


@dataclass(frozen=True)
class LotInStock:
    """What is left of a lot at a place. A lot whose expiry nobody copied has none."""

    shelf: Shelf
    amount: float
    expires_on: date | None
    bought_on: date

    def is_expired(self, on: date) -> bool:
        """Whether its last day is over."""
        return self.expires_on is not None and self.expires_on < on


@dataclass(frozen=True)
class Take:
    """So much from one shelf."""

    shelf: Shelf
    amount: float


@dataclass(frozen=True)
class Taken:
    """What is taken from which shelf, and what no shelf that may be used has."""

    takes: tuple[Take, ...]
    beyond: float


def to_load(lots: Sequence[LotInStock], *, on: date) -> tuple[LotInStock, ...]:
    """List the lots that may be loaded, in the order in which they should be.

    Parameters
    ----------
    lots : Sequence of LotInStock
        What is there of one product. [L or kg]
    on : date
        The day of the load. [-]

    Returns
    -------
    tuple of LotInStock
        Those with something left that have not expired: the first to expire first, those
        whose expiry nobody knows last, and of the same expiry the first bought. [L or kg]

    Raises
    ------
    Nothing
        There may be none.

    References
    ----------
    Common practice: first expired, first out.
    """
    usable = [lot for lot in lots if lot.amount > 0 and not lot.is_expired(on)]
    return tuple(
        sorted(
            usable,
            key=lambda lot: (
                lot.expires_on or date.max,
                lot.bought_on,
                lot.shelf.store,
                -1 if lot.shelf.lot is None else lot.shelf.lot,
            ),
        )
    )


def taken_from(lots: Sequence[LotInStock], amount: float, *, on: date) -> Taken:
    """Take an amount from the lots that may be loaded.

    Parameters
    ----------
    lots : Sequence of LotInStock
        What is there of one product. [L or kg]
    amount : float
        What is loaded, not below zero. [L or kg]
    on : date
        The day of the load. [-]

    Returns
    -------
    Taken
        The parts, which with what is beyond the stock are the amount. [L or kg]

    Raises
    ------
    Nothing
        What the shelves do not have is told.

    References
    ----------
    See ``to_load``.
    """
    takes, left = [], amount
    for lot in to_load(lots, on=on):
        part = min(lot.amount, left)
        if part > 0:
            takes.append(Take(lot.shelf, part))
            left -= part
    return Taken(tuple(takes), left)
