"""A figure in money that can show its working: exact decimals, never a float."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal

from properties.core.working import COMMON_PRACTICE


@dataclass(frozen=True)
class Told:
    """One number that went into a figure, under the name the formula uses.

    ``unit`` is a currency, a unit of the closed list, one over another, or empty.
    """

    name: str
    value: Decimal
    unit: str = ""


@dataclass(frozen=True)
class MoneyFigure:
    """A result in money, or about money, and how to reconstruct it by hand.

    ``formula`` is written in the names of the inputs; ``source`` says how it is rounded.
    """

    key: str
    name: str
    formula: str
    inputs: tuple[Told, ...]
    result: Told
    source: str = COMMON_PRACTICE


@dataclass(frozen=True)
class Line:
    """One line of a price: what it is for, how much, and how that came about."""

    key: str
    name: str
    amount: Decimal
    figure: MoneyFigure

    def below(self, place: str) -> "Line":
        """The same line at a place further down in the price."""
        key = f"{place}.{self.key}"
        return replace(self, key=key, figure=replace(self.figure, key=key))

    def explained(self, name: str) -> "Line":
        """The same line, its working under a name that explains the formula."""
        return replace(self, figure=replace(self.figure, name=name))


@dataclass(frozen=True)
class Derived:
    """What a line follows from: a formula in the names of its inputs, and its source."""

    formula: str
    inputs: tuple[Told, ...]
    source: str = COMMON_PRACTICE


def line(key: str, name: str, amount: Decimal, currency: str, derived: Derived) -> Line:
    """Write a line of a price with its working.

    Parameters
    ----------
    key : str
        Where it stands in the price. [-]
    name : str
        What it is for. [-]
    amount : Decimal
        How much. [currency]
    currency : str
        The three letters of the currency. [-]
    derived : Derived
        What it follows from. [-]

    Returns
    -------
    Line
        The line. [currency]

    Raises
    ------
    Nothing
        Any line can be written.

    References
    ----------
    Our own notation.
    """
    result = Told(name, amount, currency)
    figure = MoneyFigure(key, name, derived.formula, derived.inputs, result, derived.source)
    return Line(key, name, amount, figure)


def total_of(lines: Iterable[Line]) -> Decimal:
    """Add lines up.

    Parameters
    ----------
    lines : Iterable of Line
        The lines. [currency]

    Returns
    -------
    Decimal
        Their sum, exact. [currency]

    Raises
    ------
    Nothing
        No lines come to nothing.

    References
    ----------
    Common practice.
    """
    return sum((each.amount for each in lines), Decimal("0.00"))


def summed(terms: Sequence[Told]) -> str:
    """Write the sum of inputs; of none, 0.

    Parameters
    ----------
    terms : Sequence of Told
        The inputs. [-]

    Returns
    -------
    str
        Their names with plus signs. [-]

    Raises
    ------
    Nothing
        Any names can be joined.

    References
    ----------
    Our own notation.
    """
    return " + ".join(term.name for term in terms) or "0"
