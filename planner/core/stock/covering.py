"""Which containers to buy so that they hold enough.

Amounts in L or kg, money in the firm's currency.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from heapq import heappop, heappush

from planner.core.money import ZERO
from planner.core.stock.containers import SAME_AMOUNT
from properties.core.errors import Refused

#: More containers than this nobody orders at a time: a size was mistyped.
MOST_CONTAINERS = 1_000


@dataclass(frozen=True)
class Offer:
    """A size of container that can be bought: what it holds, and what it costs if known."""

    key: int
    size: float
    price: Decimal | None = None
    lead_days: int | None = None


@dataclass(frozen=True)
class Bought:
    """So many containers of one size."""

    offer: Offer
    count: int


def size_of(bought: Sequence[Bought]) -> float:
    """Add up what containers hold.

    Parameters
    ----------
    bought : Sequence of Bought
        Containers of one product. [L or kg]

    Returns
    -------
    float
        All of it. [L or kg]

    Raises
    ------
    Nothing
        Every set of containers holds something.

    References
    ----------
    Common practice.
    """
    return math.fsum(each.count * each.offer.size for each in bought)


def cost_of(bought: Sequence[Bought]) -> Decimal | None:
    """Add up what containers cost.

    Parameters
    ----------
    bought : Sequence of Bought
        Containers of one product. [-]

    Returns
    -------
    Decimal or None
        All of it; None where the price of one is not known. [currency]

    Raises
    ------
    Nothing
        A price that nobody told makes the sum unknown.

    References
    ----------
    Common practice.
    """
    total = ZERO
    for each in bought:
        if each.offer.price is None:
            return None
        total += each.count * each.offer.price
    return total


def containers_for(need: float, offers: Sequence[Offer]) -> tuple[Bought, ...]:
    """Choose whole containers that hold a need.

    Where every size has a price, the cheapest set is taken; of equally cheap ones, the one
    that holds most, then the one of fewest containers. Where a price is not known, the fewest
    containers are taken, the last as small as will do.

    Parameters
    ----------
    need : float
        What has to be there, not below zero. [L or kg]
    offers : Sequence of Offer
        The sizes that can be bought, at least one, prices above zero. [L or kg]

    Returns
    -------
    tuple of Bought
        How many of each, the largest first; none for no need. [L or kg]

    Raises
    ------
    Refused
        If there is no size, or it would take more containers than anybody orders.

    References
    ----------
    Our own rule. The cheapest set is found as a shortest way (E. W. Dijkstra,
    Numerische Mathematik 1 (1959), 269–271, problem 2): from nothing, each container leads on
    at its price, and a set that holds no more than a set already reached for no more money is
    left out.
    """
    if need <= 0:
        return ()
    if not offers:
        raise Refused("offers", "No container of it is known.", "Enter a container of it.")
    if need / max(offer.size for offer in offers) > MOST_CONTAINERS:
        raise Refused(
            "offers",
            f"More than {MOST_CONTAINERS:,} containers would be needed.",
            "Check what a container holds, or enter a larger one.",
        )
    enough = need * (1 - SAME_AMOUNT)
    known = all(offer.price is not None for offer in offers)
    counts = _cheapest(enough, offers) if known else _fewest(enough, offers)
    bought = (Bought(offer, counts.get(offer.key, 0)) for offer in offers)
    return tuple(sorted((each for each in bought if each.count), key=lambda each: -each.offer.size))


def _fewest(enough: float, offers: Sequence[Offer]) -> dict[int, int]:
    by_size = sorted(offers, key=lambda offer: offer.size)
    largest = by_size[-1]
    before_last = math.ceil(enough / largest.size) - 1
    rest = enough - before_last * largest.size
    last = next(offer for offer in by_size if offer.size >= rest or offer is largest)
    counts = {largest.key: before_last}
    counts[last.key] = counts.get(last.key, 0) + 1
    return counts


def _cheapest(enough: float, offers: Sequence[Offer]) -> dict[int, int]:
    """Reach sets in the order of their cost; the first that holds enough is the cheapest."""
    none = tuple(0 for _ in offers)
    # Cost, what it holds with the most first, how many, which.
    waiting = [(ZERO, 0.0, 0, none)]
    most_held = -1.0
    while True:
        cost, minus_held, number, counts = heappop(waiting)
        if -minus_held >= enough:
            return {offer.key: count for offer, count in zip(offers, counts, strict=True)}
        if -minus_held <= most_held:
            continue
        most_held = -minus_held
        for place, offer in enumerate(offers):
            more = (*counts[:place], counts[place] + 1, *counts[place + 1 :])
            held = math.fsum(count * each.size for count, each in zip(more, offers, strict=True))
            heappush(waiting, (cost + (offer.price or ZERO), -held, number + 1, more))
