"""What a year leaves of every limit, place by place, with a season of rounds in it.

Amounts in L or kg per m², areas in m².
"""

import math
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date

from planner.core.limits import Ceiling, ceilings_of
from planner.core.limits.faces import Piece
from planner.core.nutrient.limits import NutrientLimit, NutrientRules, Per
from planner.core.past import PastApplication
from planner.core.place import Place, place_of
from planner.core.report.quantities import Json
from planner.core.request.nutrient_limits import read_nutrient_rules
from planner.core.request.place import read_place_question
from planner.core.request.reader import Faults, Members
from planner.core.shown import Shown
from properties.core.errors import FaultsFound

_DIGITS = 12


@dataclass(frozen=True)
class RoomLeft:
    """Ground that has had the same: what the year has used, what is planned, what is left.

    What nobody knows is None.
    """

    lawns: tuple[str, ...]
    area_m2: float
    used: float | None
    planned: float | None
    limit: float

    @property
    def left(self) -> float | None:
        """What may still go down, never below 0."""
        if self.used is None or self.planned is None:
            return None
        return max(0.0, self.limit - self.used - self.planned)


@dataclass(frozen=True)
class YearlyRoom:
    """One yearly limit: of a product, of what is in several, or of a nutrient.

    ``unit`` is what its amounts are shown in, ``rule`` the limit in words.
    """

    what: str
    kind: str
    rule: str
    unit: str
    places: tuple[RoomLeft, ...]


def rooms_left(
    question: Json, nutrients: Json, *, planned: int, shown: Shown
) -> tuple[YearlyRoom, ...]:
    """Work out what a year leaves of every yearly limit.

    Parameters
    ----------
    question : dict
        A question about a place on the last day of the year, the rounds of the season
        last in its history. [-]
    nutrients : dict
        The limits on nutrients, as a plan request has them. [-]
    planned : int
        How many entries at the end of the history are rounds of the season. [-]
    shown : Shown
        The units to show. [-]

    Returns
    -------
    tuple[YearlyRoom, ...]
        Each limit with every part of the ground, the least room first. [L or kg/m²]

    Raises
    ------
    FaultsFound
        If the question cannot be read.

    References
    ----------
    The labels and the rules name the limits. Our own rule: an average over a property
    would hide a full corner.
    """
    asked = read_place_question(question)
    rules = _rules(nutrients, asked.on)
    place = place_of(asked.drawing, asked.past, on=asked.on)
    history = asked.past.history
    refs = [] if history is None else [each.ref for each in history[len(history) - planned :]]
    since = asked.past.since
    is_known = history is not None and (since is None or since <= date(asked.on.year, 1, 1))
    year = _Year(place, frozenset(refs), is_known=is_known)
    found = [*_of_labels(ceilings_of(asked.products), year, shown)]
    found += _of_nutrients(rules, year, shown)
    return tuple(found)


def _rules(nutrients: Json, on: date) -> NutrientRules:
    faults = Faults()
    rules = read_nutrient_rules(Members(faults, "", nutrients), on=on)
    if faults.found:
        raise FaultsFound(faults.found)
    return rules


Amount = Callable[[PastApplication], float | None]


@dataclass(frozen=True)
class _Year:
    """The ground of a place at the end of a year, and which entries are of the season."""

    place: Place
    planned: frozenset[str]
    is_known: bool

    def places(
        self, limit: float, counted: Callable[[Piece], Iterable[PastApplication]], amount: Amount
    ) -> tuple[RoomLeft, ...]:
        """Every part of the ground against a limit; parts that stand alike are one."""
        alike: dict[tuple[float | None, float | None], list[Piece]] = {}
        for piece in self.place.pieces:
            key = self._stands(tuple(counted(piece)), amount)
            alike.setdefault(key, []).append(piece)
        if len(alike) > 1:
            # Strips that never get anything say nothing of the season.
            alike.pop((0.0, 0.0), None)
        rooms = [self._room(limit, key, pieces) for key, pieces in alike.items()]
        return tuple(sorted(rooms, key=lambda each: -1.0 if each.left is None else each.left))

    def _stands(
        self, counted: Sequence[PastApplication], amount: Amount
    ) -> tuple[float | None, float | None]:
        own = [each for each in counted if each.ref not in self.planned]
        season = [each for each in counted if each.ref in self.planned]
        used = _sum(own, amount) if self.is_known else None
        return used, _sum(season, amount)

    def _room(
        self, limit: float, key: tuple[float | None, float | None], pieces: Sequence[Piece]
    ) -> RoomLeft:
        names = [name for piece in pieces for name in self.place.names_of(piece)]
        area_m2 = math.fsum(self.place.area_m2(piece) for piece in pieces)
        return RoomLeft(tuple(dict.fromkeys(names)), area_m2, *key, limit)


def _sum(applications: Iterable[PastApplication], amount: Amount) -> float | None:
    amounts = [amount(each) for each in applications]
    known = [each for each in amounts if each is not None]
    return round(math.fsum(known), _DIGITS) if len(known) == len(amounts) else None


def _of_labels(ceilings: Iterable[Ceiling], year: _Year, shown: Shown) -> Iterator[YearlyRoom]:
    seen: Mapping[tuple[str, float], Ceiling] = {
        (each.what.casefold(), each.limits.per_year.si): each
        for each in ceilings
        if each.limits.per_year is not None
    }
    for (_, per_year), ceiling in seen.items():
        counts = _counted_by(ceiling, year.place.on)
        yield YearlyRoom(
            ceiling.what,
            "product" if ceiling.substance is None else "ingredient",
            f"{ceiling.limits.per_year} {ceiling.limits.year.words}",
            ceiling.unit(shown),
            year.places(per_year, counts, ceiling.amount_in),
        )


def _counted_by(ceiling: Ceiling, on: date) -> Callable[[Piece], Iterable[PastApplication]]:
    def counted(piece: Piece) -> Iterable[PastApplication]:
        return (
            each
            for each in piece.applications
            if ceiling.counts(each) and ceiling.limits.year.counts(each.applied_on, on=on)
        )

    return counted


def _of_nutrients(rules: NutrientRules, year: _Year, shown: Shown) -> Iterator[YearlyRoom]:
    for limit in rules.holding:
        if limit.per is Per.YEAR and not rules.is_lifted(limit):
            yield YearlyRoom(
                limit.nutrient.value,
                "nutrient",
                f"{limit.at_most} in a calendar year ({limit.origin})",
                shown.weight_rate,
                year.places(limit.at_most.si, _in_year(year.place.on.year), _of(limit)),
            )


def _in_year(year: int) -> Callable[[Piece], Iterable[PastApplication]]:
    return lambda piece: (each for each in piece.applications if each.applied_on.year == year)


def _of(limit: NutrientLimit) -> Amount:
    return lambda each: each.nutrient(limit.nutrient)
