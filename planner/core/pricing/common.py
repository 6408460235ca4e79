"""Common areas of several properties, and who pays how much of them, to the cent."""

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum

from planner.core.money import decimal_of, shared_out
from planner.core.pricing.figures import Derived, Line, Told, line, summed
from properties.core.errors import FaultsFound, Refused

SHARED_SOURCE = (
    "Every share is cut down to the cent, and the cents that are left go one by one to those that "
    "lost most (the method of the largest remainder), of two that lost the same to the first. So "
    "the shares are all of it."
)
#: So many parts are written out one by one in a working; of more, the sum.
MOST_TERMS = 6


class SharedBy(StrEnum):
    """By what common ground is shared out."""

    EQUAL = "equal"
    AREA = "area"
    SHARES = "shares"


@dataclass(frozen=True)
class Lot:
    """One of the properties that bear common ground: its own area, or its share as agreed."""

    name: str
    area_m2: float | None = None
    share: Decimal | None = None


def common_shares(
    total: Decimal, lots: Sequence[Lot], *, by: SharedBy, currency: str
) -> tuple[Line, ...]:
    """Share the price of common ground out among lots.

    Parameters
    ----------
    total : Decimal
        The price of the common ground, whole cents. [currency]
    lots : Sequence of Lot
        Who bears it, at least one. [-]
    by : SharedBy
        In equal parts, by the area of each lot, or by the shares agreed. [-]
    currency : str
        The three letters of the currency. [-]

    Returns
    -------
    tuple of Line
        What each lot bears, in the order of the lots; they add up to the total. [currency]

    Raises
    ------
    FaultsFound
        If a lot lacks the area or the share that it is to bear by.
    Refused
        If nobody bears anything, or the total is not whole cents.

    References
    ----------
    See ``shared_out``. Areas count to a hundredth of a m².
    """
    weights = _weights(lots, by)
    shares = shared_out(total, weights)
    whole = sum(weights, Decimal(0))
    unit = "m2" if by is SharedBy.AREA else ""
    parts = [Told(f"part {n}", weight, unit) for n, weight in enumerate(weights, start=1)]
    lines = []
    for place, (lot, share) in enumerate(zip(lots, shares, strict=True)):
        own = parts[place]
        many = len(parts) > MOST_TERMS
        all_parts = [Told("all parts", whole, unit)] if many else parts
        inputs = dict.fromkeys([Told("common", total, currency), own, *all_parts])
        derived = Derived(
            f"common × {own.name} / ({summed(all_parts)})", tuple(inputs), SHARED_SOURCE
        )
        lines.append(line(f"common[{place}]", lot.name, share, currency, derived))
    return tuple(lines)


def _weights(lots: Sequence[Lot], by: SharedBy) -> list[Decimal]:
    if by is SharedBy.EQUAL:
        return [Decimal(1)] * len(lots)
    weights = [_weight(lot, by) for lot in lots]
    faults = [
        Refused(
            f"lots[{place}].{'area' if by is SharedBy.AREA else 'share'}",
            f"Nobody says what {lot.name} has of it, and unknown is not zero.",
            "Draw its turf." if by is SharedBy.AREA else "Enter its share; 0 if it bears nothing.",
        )
        for place, (lot, weight) in enumerate(zip(lots, weights, strict=True))
        if weight is None
    ]
    if faults:
        raise FaultsFound(faults)
    return [weight for weight in weights if weight is not None]


def _weight(lot: Lot, by: SharedBy) -> Decimal | None:
    if by is SharedBy.SHARES:
        return lot.share
    return None if lot.area_m2 is None else decimal_of(lot.area_m2, places=2)
