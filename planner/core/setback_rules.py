"""No-spray rules: a distance by kind of feature, method and day, and where it comes from.

Distances in m.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import date

from planner.core.label.methods import Method
from properties.core.features import Kind
from properties.core.setbacks import Claim
from properties.core.units import Quantity

_WITHOUT_ARTICLE = ("beehives", "neighbours_land")


@dataclass(frozen=True)
class SetbackRule:
    """One rule. No method means any, no day means always; an example is nobody's rule yet."""

    kind: str
    distance: Quantity
    source: str
    method: Method | None = None
    downwind: Quantity | None = None
    first_day: date | None = None
    last_day: date | None = None
    example: bool = False
    place: str | None = None

    @property
    def is_dated(self) -> bool:
        """Whether it holds on some days only."""
        return self.first_day is not None or self.last_day is not None

    def holds_on(self, day: date | None) -> bool:
        """Whether it holds on a day; where the day is not known, only if it always does."""
        if day is None:
            return not self.is_dated
        return (self.first_day is None or self.first_day <= day) and (
            self.last_day is None or day <= self.last_day
        )

    def holds_for(self, kind: Kind, method: Method) -> bool:
        """Whether it is about this kind of feature and this method."""
        return self.kind == kind.token and self.method in (None, method)

    @property
    def origin(self) -> str:
        """Where it comes from, in a sentence."""
        place = f" ({self.place})" if self.place else ""
        return f"{self.source}{place}"


@dataclass(frozen=True)
class Asked:
    """What somebody asks for from one kind of feature: all round, and downwind of it."""

    plain: tuple[Claim, ...] = ()
    downwind: tuple[Claim, ...] = ()

    def __add__(self, other: "Asked") -> "Asked":
        return Asked(self.plain + other.plain, self.downwind + other.downwind)


def rules_asking(
    rules: Iterable[SetbackRule], kind: Kind, *, method: Method, day: date | None
) -> Asked:
    """Gather what the rules ask for from a kind of feature, with a method on a day.

    Parameters
    ----------
    rules : Iterable[SetbackRule]
        The rules. [m]
    kind : Kind
        The kind of feature. [-]
    method : Method
        How the tool puts the product down. [-]
    day : date or None
        The day of the work, None where it is not known. [-]

    Returns
    -------
    Asked
        A claim for each rule that holds. [m]

    Raises
    ------
    Nothing
        A rule that does not hold makes no claim.

    References
    ----------
    Each rule names its own.
    """
    holding = [rule for rule in rules if rule.holds_for(kind, method) and rule.holds_on(day)]
    return Asked(
        tuple(_claim(rule, rule.distance, kind) for rule in holding),
        tuple(_downwind_claims(holding, kind)),
    )


def _downwind_claims(rules: Iterable[SetbackRule], kind: Kind) -> Iterator[Claim]:
    for rule in rules:
        if rule.downwind is not None:
            yield _claim(rule, rule.downwind, kind, " downwind")


def _claim(rule: SetbackRule, distance: Quantity, kind: Kind, side: str = "") -> Claim:
    method = "" if rule.method is None else f" {rule.method.words}"
    reason = f"{rule.origin}: {distance} from {a_kind(kind)}{side}{method}"
    return Claim(distance, reason, example=rule.example)


def a_kind(kind: Kind) -> str:
    """Name a kind of feature inside a sentence.

    Parameters
    ----------
    kind : Kind
        The kind. [-]

    Returns
    -------
    str
        Its name with an article where it needs one. [-]

    Raises
    ------
    Nothing
        Every kind has a name.

    References
    ----------
    Common practice.
    """
    name = kind.name.lower()
    if kind.token in _WITHOUT_ARTICLE:
        return name
    return f"an {name}" if name[0] in "aeiou" else f"a {name}"
