"""Where what is left at the end of a route may go: onto an allowed lawn, never over its label.

Volumes in L, amounts in L or kg, areas in m², rates in L or kg per m².
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from planner.core.day.filling import Leftover
from planner.core.day.ground import RouteStop
from planner.core.label.labels import SAME_NUMBER
from planner.core.mix.products import Product


@dataclass(frozen=True)
class Addition:
    """One product of a leftover on one lawn: what that has had, and what comes on top.

    ``position`` is that of the product in the load, ``highest`` the most that the lawn
    may get in all, None where nobody knows.
    """

    product: Product
    position: int
    had: float
    adds: float
    highest: float | None

    @property
    def total(self) -> float:
        """The rate that the lawn would have had in all."""
        return self.had + self.adds

    @property
    def allowed(self) -> bool | None:
        """Whether that is allowed, None where nobody knows."""
        return None if self.highest is None else self.total <= self.highest * (1 + SAME_NUMBER)


@dataclass(frozen=True)
class Candidate:
    """One lawn that might take the leftover."""

    stop: RouteStop
    is_today: bool
    products: tuple[Addition, ...]

    @property
    def allowed(self) -> bool | None:
        """Whether every label allows it, None where nobody knows."""
        verdicts = [each.allowed for each in self.products]
        if not self.stop.asked.takes_leftover or False in verdicts:
            return False
        return None if None in verdicts else True

    @property
    def has_room_for_some(self) -> bool:
        """Whether nothing but the amount speaks against it."""
        return self.stop.asked.takes_leftover and self.room_share > 0

    @property
    def room_share(self) -> float:
        """How much of the leftover it could take."""
        return min((_room_share(each) for each in self.products), default=1.0)


def _room_share(each: Addition) -> float:
    if each.highest is None:
        return 0.0
    room = max(0.0, each.highest - each.had)
    return min(1.0, room / each.adds) if each.adds else 1.0


@dataclass(frozen=True)
class Share:
    """The part of a leftover that one lawn takes, where no lawn may take all of it.

    ``room`` is the part that it could take, ``before`` what lawns before it take.
    """

    lawn: Candidate
    room: float
    before: float

    @property
    def part(self) -> float:
        """Its part of the whole."""
        return min(self.room, 1 - self.before)


@dataclass(frozen=True)
class Ending:
    """What is left at the end of the route, and every lawn that was thought of, in order."""

    left: Leftover
    candidates: tuple[Candidate, ...]

    @property
    def shares(self) -> tuple[Share, ...]:
        """How several lawns may take all of it together; none where one may, or they may not."""
        if self.place is not None or not self.left.volume_l:
            return ()
        found: dict[str, Share] = {}
        before = 0.0
        for each in self.candidates:
            name = each.stop.asked.name
            if before < 1 and each.has_room_for_some and name not in found:
                found[name] = Share(each, each.room_share, before)
                before += found[name].part
        return tuple(found.values()) if before >= 1 - SAME_NUMBER else ()

    @property
    def place(self) -> Candidate | None:
        """The first lawn that may take all of it for certain."""
        return next((each for each in self.candidates if each.allowed), None)


def ending_of(
    left: Leftover,
    products: Sequence[Product],
    had: Sequence[Sequence[float]],
    stops: Sequence[RouteStop],
    next_lawns: Sequence[RouteStop],
) -> Ending:
    """Look for a lawn for what is left: the last of today, the next days', then back.

    Parameters
    ----------
    left : Leftover
        What is left in the tank. [L, L or kg]
    products : Sequence[Product]
        The mix, in mixing order. [-]
    had : Sequence of Sequence[float]
        The rates that each lawn of today gets. [L or kg per m² or L]
    stops : Sequence[RouteStop]
        The lawns of today. [m²]
    next_lawns : Sequence[RouteStop]
        Lawns that come after today. [m²]

    Returns
    -------
    Ending
        Each lawn with what it would come to. [L or kg per m²]

    Raises
    ------
    Nothing
        Where no lawn is allowed, none is named.

    References
    ----------
    Our own rule: never over the label or what is left of the year to be rid of something.
    """
    today = [(stop, True, had[stop.position]) for stop in reversed(stops)]
    nothing = [0.0 for _ in products]
    order = [today[0], *((stop, False, nothing) for stop in next_lawns), *today[1:]]
    return Ending(
        left,
        tuple(
            Candidate(stop, is_today, tuple(_addition(stop, left, products, rates)))
            for stop, is_today, rates in order
            if stop.area_m2
        ),
    )


def _addition(
    stop: RouteStop, left: Leftover, products: Sequence[Product], rates: Sequence[float]
) -> Iterator[Addition]:
    for position, (product, rate) in enumerate(zip(products, rates, strict=True)):
        if product.by_area:
            told = stop.asked.given.get(product.name)
            had = rate + (0.0 if told is None else told.si)
            adds = left.amounts[position] / stop.area_m2
            yield Addition(product, position, had, adds, _highest(product, stop))


def _highest(product: Product, stop: RouteStop) -> float | None:
    """The most a lawn may get: the label's highest rate, or less where it has less room."""
    label = product.label.rate.highest
    return None if label is None else min(label.si, stop.caps.get(product.name, label.si))
