"""Reading the members of a JSON object, with the path of every fault and none hidden."""

import re
from collections.abc import Callable, Collection, Iterator, Mapping
from dataclasses import dataclass, field
from datetime import date
from typing import TypeVar

from planner.core.shown import said
from properties.core.errors import FaultsFound, Refused
from properties.core.units import Dimension, Quantity, parse_quantity

Read = TypeVar("Read")

LONGEST_NAME = 300
DAY = re.compile(r"[0-9]{4}-[0-9]{2}-[0-9]{2}")


@dataclass(frozen=True)
class Believable:
    """The ends between which a measure can be believed, both in one unit."""

    lowest: Quantity
    highest: Quantity

    def check(self, quantity: Quantity, *, field: str) -> Quantity:
        """Refuse a quantity outside, naming the ends in the unit it was typed in."""
        counts_from_nothing = self.lowest.si >= 0
        if counts_from_nothing and (
            quantity.value < 0 or (quantity.value == 0 and self.lowest.value > 0)
        ):
            wrong = "is below zero" if quantity.value < 0 else "is not above zero"
            raise Refused(field, f"{quantity} {wrong}.", "Measure again and write what you read.")
        if not self.lowest.si <= quantity.si <= self.highest.si:
            lowest, highest = (
                said(end.to(quantity.unit)) if end.dimension is quantity.dimension else str(end)
                for end in (self.lowest, self.highest)
            )
            raise Refused(
                field,
                f"{quantity} cannot be right.",
                f"A number between {lowest} and {highest} is expected: check it and its unit.",
            )
        return quantity


@dataclass
class Faults:
    """Every fault found so far."""

    found: list[Refused] = field(default_factory=list)

    def add(self, where: str, problem: str, remedy: str = "") -> None:
        """Note a fault and go on reading."""
        self.found.append(Refused(where, problem, remedy))

    def trying(self, read: Callable[[], Read], *, below: str = "") -> Read | None:
        """Read something; a refusal is noted, under a path if one is given."""
        try:
            return read()
        except Refused as refused:
            self.found.append(_under(below, refused))
        except FaultsFound as several:
            self.found += [_under(below, refused) for refused in several.faults]
        return None


def _under(path: str, refused: Refused) -> Refused:
    if not path:
        return refused
    return refused.at(f"{path}.{refused.field}" if refused.field else path)


@dataclass(frozen=True)
class Members:
    """The members of one JSON object, each read under its own path."""

    faults: Faults
    path: str
    values: Mapping[str, object]

    def path_of(self, name: str) -> str:
        """Spell where a member stands."""
        return f"{self.path}.{name}" if self.path else name

    def has(self, name: str) -> bool:
        """Whether the member is there at all."""
        return name in self.values

    def want(self, name: str, remedy: str) -> bool:
        """Note a fault if a member is missing."""
        if name in self.values:
            return True
        self.faults.add(self.path_of(name), "This is missing.", remedy)
        return False

    def quantity(
        self, name: str, *kinds: Dimension, believable: Believable | None = None
    ) -> Quantity | None:
        """Read a quantity that may be missing."""
        if name not in self.values:
            return None
        return quantity_at(
            self.faults, self.path_of(name), self.values[name], *kinds, believable=believable
        )

    def choice(self, name: str, choices: Collection[str]) -> str | None:
        """Read one of a closed list of words that may be missing."""
        value = self.values.get(name)
        if name not in self.values or (isinstance(value, str) and value in choices):
            return value if isinstance(value, str) else None
        remedy = f"Write one of: {', '.join(choices)}."
        self.faults.add(self.path_of(name), "This is not one of the words known here.", remedy)
        return None

    def name(self, name: str) -> str | None:
        """Read a line of text that may be missing."""
        value = self.values.get(name)
        if name not in self.values:
            return None
        spelled = " ".join(value.split()) if isinstance(value, str) else ""
        if spelled and spelled.isprintable() and len(spelled) <= LONGEST_NAME:
            return spelled
        remedy = f"Write a line of text of 1 to {LONGEST_NAME} characters."
        self.faults.add(self.path_of(name), "This is not a name.", remedy)
        return None

    def flag(self, name: str) -> bool:
        """Read true or false; false where it is missing."""
        value = self.values.get(name, False)
        if not isinstance(value, bool):
            remedy = "Write true or false."
            self.faults.add(self.path_of(name), "This is not a yes or a no.", remedy)
        return value is True

    def whole(self, name: str, *, least: int, most: int) -> int | None:
        """Read a whole number that may be missing."""
        value = self.values.get(name)
        if name not in self.values:
            return None
        if isinstance(value, int) and not isinstance(value, bool) and least <= value <= most:
            return value
        remedy = f"Write a whole number from {least} to {most}."
        self.faults.add(self.path_of(name), "This is not a number that is expected here.", remedy)
        return None

    def day(self, name: str) -> date | None:
        """Read a day that may be missing."""
        value = self.values.get(name)
        if name not in self.values:
            return None
        if isinstance(value, str) and DAY.fullmatch(value):
            try:
                return date.fromisoformat(value)
            except ValueError:
                pass
        remedy = "Write the year, the month and the day, for example 2026-05-20."
        problem = "This is not a day."
        if isinstance(value, str) and DAY.fullmatch(value) and value.endswith("-02-29"):
            problem = f"{value[:4]} has no February 29."
            remedy = "Write February 28 or March 1, whichever is meant."
        self.faults.add(self.path_of(name), problem, remedy)
        return None

    def items(
        self, name: str, *, most: int, least: int = 1, advice: str = ""
    ) -> Iterator[tuple[str, object]]:
        """Read the items of a list that may be missing, each with its path."""
        if name not in self.values:
            return
        value, path = self.values[name], self.path_of(name)
        if not isinstance(value, list):
            self.faults.add(path, "This is not a list.", "Write it in square brackets.")
            return
        if not least <= len(value) <= most:
            count = "1 item" if len(value) == 1 else f"{len(value)} items"
            remedy = advice or f"Give {least} to {most} of them."
            self.faults.add(path, f"This list has {count}.", remedy)
            return
        for position, item in enumerate(value):
            yield f"{path}[{position}]", item

    def within(self, name: str, known: Collection[str] | None) -> "Members | None":
        """Open an object that may be missing."""
        if name not in self.values:
            return None
        return open_object(self.faults, self.path_of(name), self.values[name], known)


def open_object(
    faults: Faults, path: str, value: object, known: Collection[str] | None
) -> Members | None:
    """Open a JSON object, and note every member that is not part of it.

    Parameters
    ----------
    faults : Faults
        Where faults are noted. [-]
    path : str
        Where the object stands, empty for the whole request. [-]
    value : object
        What stands there. [-]
    known : Collection[str] or None
        The members it may have, or None where any may be. [-]

    Returns
    -------
    Members or None
        Its members, or None where it is no object. [-]

    Raises
    ------
    Nothing
        Faults are noted.

    References
    ----------
    Our own format, docs/plan-request.md.
    """
    if not isinstance(value, dict):
        faults.add(path or "request", "This is not an object.", "Write it in curly brackets.")
        return None
    members = Members(faults, path, value)
    for name in value:
        if known is not None and name not in known:
            remedy = f"Known here: {', '.join(known)}."
            faults.add(members.path_of(name), "This is not part of a plan request.", remedy)
    return members


def quantity_at(
    faults: Faults,
    path: str,
    value: object,
    *kinds: Dimension,
    believable: Believable | None = None,
) -> Quantity | None:
    """Read a quantity, and note a fault if it is none or cannot be believed.

    Parameters
    ----------
    faults : Faults
        Where faults are noted. [-]
    path : str
        Where the quantity stands. [-]
    value : object
        What stands there. [-]
    kinds : Dimension
        The kinds of quantity that would do. [-]
    believable : Believable or None
        The ends it must lie between. [unit of its kind]

    Returns
    -------
    Quantity or None
        The quantity as it was written, or None where there is a fault. [unit as written]

    Raises
    ------
    Nothing
        Faults are noted.

    References
    ----------
    Our own format, docs/plan-request.md.
    """
    quantity = faults.trying(lambda: parse_quantity(value, *kinds, field=path))
    if quantity is None or believable is None:
        return quantity
    return faults.trying(lambda: believable.check(quantity, field=path))
