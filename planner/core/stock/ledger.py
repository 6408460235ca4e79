"""The ledger of a stock: movements that are only ever added to, and what they sum up to.

Amounts in L or kg, with a sign: plus for what comes in, minus for what goes out.
"""

import math
from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date, datetime
from enum import StrEnum

from planner.core.stock.containers import SAME_AMOUNT
from properties.core.errors import Refused


class Kind(StrEnum):
    """Why something came in or went out."""

    BOUGHT = "bought"
    MOVED = "moved"
    LOADED = "loaded"
    RETURNED = "returned"
    COUNTED = "counted"
    DISPOSED = "disposed"
    CORRECTED = "corrected"


#: Which way each kind moves the balance; what is not named may go both ways.
COMES_IN = frozenset({Kind.BOUGHT, Kind.RETURNED})
GOES_OUT = frozenset({Kind.LOADED, Kind.DISPOSED})


@dataclass(frozen=True)
class Shelf:
    """One lot at one place. ``lot`` is None for what is of no known lot."""

    lot: int | None
    store: int


@dataclass(frozen=True)
class Movement:
    """One line of the ledger. ``on`` is the day it happened, ``entered_at`` when it was told.

    ``found`` is what a count found; the amount of a count is the difference it made.
    """

    shelf: Shelf
    kind: Kind
    amount: float
    on: date
    entered_at: datetime
    found: float | None = None


@dataclass(frozen=True)
class Balance:
    """What the movements of one shelf sum up to, and how it came about.

    ``late`` is how many movements were told after a count of a later day: they may have
    been counted already.
    """

    amount: float
    by_kind: Mapping[Kind, float]
    late: int = 0

    @property
    def is_below_zero(self) -> bool:
        """Whether more went out than ever came in."""
        return self.amount < 0

    @property
    def asks_for_count(self) -> bool:
        """Whether nobody can know what is there before somebody counts it."""
        return self.is_below_zero or self.late > 0


def signed(kind: Kind, amount: float, *, field: str = "amount") -> float:
    """Give an amount the sign of its kind.

    Parameters
    ----------
    kind : Kind
        Why it moves. [-]
    amount : float
        How much, > 0 where the kind says which way. [L or kg]
    field : str
        What to call the input in a refusal. [-]

    Returns
    -------
    float
        The same amount, below zero where it goes out. [L or kg]

    Raises
    ------
    Refused
        If it is not finite, is nothing, or is below zero where the kind says which way.

    References
    ----------
    Our own rule.
    """
    one_way = kind in COMES_IN | GOES_OUT
    if not math.isfinite(amount) or amount == 0 or (one_way and amount < 0):
        raise Refused(field, f"{amount:g} is not an amount above zero.", "Enter how much it was.")
    return -amount if kind in GOES_OUT else amount


def balance_of(movements: Iterable[Movement]) -> Balance:
    """Sum up the movements of one shelf.

    The sum is exact before it is rounded once, so that it does not depend on the order.
    What is left of a float where nothing should be is nothing.

    Parameters
    ----------
    movements : Iterable of Movement
        All that is known of one shelf, in any order. [L or kg]

    Returns
    -------
    Balance
        The sum, and the sum of each kind. [L or kg]

    Raises
    ------
    Nothing
        Every ledger can be summed up.

    References
    ----------
    J. R. Shewchuk, Adaptive Precision Floating-Point Arithmetic, Discrete & Computational
    Geometry 18 (1997), 305–363: a sum of floats that is rounded once.
    """
    rows = list(movements)
    by_kind: dict[Kind, list[float]] = defaultdict(list)
    for row in rows:
        by_kind[row.kind].append(row.amount)
    amount = math.fsum(row.amount for row in rows)
    turned_over = math.fsum(abs(row.amount) for row in rows)
    return Balance(
        0.0 if abs(amount) <= turned_over * SAME_AMOUNT else amount,
        {kind: math.fsum(by_kind[kind]) for kind in Kind if kind in by_kind},
        _late(rows),
    )


def balances_of(movements: Iterable[Movement]) -> dict[Shelf, Balance]:
    """Sum up a ledger shelf by shelf.

    Parameters
    ----------
    movements : Iterable of Movement
        A ledger of one product, in any order. [L or kg]

    Returns
    -------
    dict
        The balance of each shelf that was ever touched. [L or kg]

    Raises
    ------
    Nothing
        Every ledger can be summed up.

    References
    ----------
    See ``balance_of``.
    """
    by_shelf: dict[Shelf, list[Movement]] = defaultdict(list)
    for row in movements:
        by_shelf[row.shelf].append(row)
    return {shelf: balance_of(rows) for shelf, rows in by_shelf.items()}


def counted_difference(found: float, *, book: float, field: str = "found") -> float:
    """Work out what a count adds to the ledger: it never overwrites what was told before.

    Parameters
    ----------
    found : float
        What was found on the shelf, not below zero. [L or kg]
    book : float
        What the ledger said at that moment, also below zero. [L or kg]
    field : str
        What to call the input in a refusal. [-]

    Returns
    -------
    float
        Found less the book; zero where they agree. [L or kg]

    Raises
    ------
    Refused
        If less than nothing was found.

    References
    ----------
    Common practice of a stock count: the difference is booked, with who counted and when.
    """
    if not math.isfinite(found) or found < 0:
        raise Refused(field, "Nobody can find less than nothing.", "Enter what stands there.")
    return found - book


def _late(rows: list[Movement]) -> int:
    """How many movements of an earlier day were told after the last count."""
    counts = [row for row in rows if row.kind is Kind.COUNTED]
    if not counts:
        return 0
    last = max(counts, key=lambda row: (row.entered_at, row.on))
    return sum(row.entered_at > last.entered_at and row.on < last.on for row in rows)
