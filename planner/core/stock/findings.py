"""What to say of a stock before somebody trusts it: below zero, expired, counted too early."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from planner.core.findings import Finding, Findings
from planner.core.label.labels import Form
from planner.core.shown import Units, day_said, said
from planner.core.stock.containers import amount_in
from planner.core.stock.ledger import Balance
from planner.core.stock.lots import LotInStock

#: A lot that expires within so many days is told beforehand.
SOON = timedelta(days=60)


@dataclass(frozen=True)
class NamedShelf:
    """One lot at one place with its balance, and what both are called."""

    store: str
    lot: str
    state: LotInStock
    balance: Balance

    @property
    def name(self) -> str:
        """Where it stands and what it is."""
        return f"{self.store}, {self.lot}"


@dataclass(frozen=True)
class Reader:
    """How amounts are said to whoever is reading."""

    form: Form
    units: Units

    def said(self, amount: float) -> str:
        """Write an amount for a sentence."""
        return said(amount_in(amount, form=self.form, units=self.units))


def stock_findings(shelves: Sequence[NamedShelf], *, on: date, reader: Reader) -> Findings:
    """Find what speaks against the books of one product.

    Parameters
    ----------
    shelves : Sequence of NamedShelf
        Every shelf that was ever touched. [L or kg]
    on : date
        The day on which somebody looks. [-]
    reader : Reader
        The units to say amounts in. [-]

    Returns
    -------
    Findings
        A warning for each thing to do. [-]

    Raises
    ------
    Nothing
        Every stock can be judged.

    References
    ----------
    Our own rule: the books are not mended behind anybody’s back; they ask for a count.
    """
    found = [finding for shelf in shelves for finding in _of_shelf(shelf, on, reader)]
    return Findings(warnings=tuple(found))


def _of_shelf(shelf: NamedShelf, on: date, reader: Reader) -> Iterator[Finding]:
    balance, state = shelf.balance, shelf.state
    if balance.is_below_zero:
        yield Finding(
            "stock_below_zero",
            f"{shelf.name}: {reader.said(-balance.amount)} more went out than ever came in. "
            "Count what stands there, or enter what was bought.",
        )
    if balance.late:
        yield Finding(
            "stock_told_after_count",
            f"{shelf.name}: {balance.late} thing{'s' * (balance.late != 1)} of earlier days "
            "came to the books after the last count, and may have been counted already. "
            "Count again.",
        )
    if balance.amount > 0:
        yield from _of_expiry(shelf, state, on, reader)


def _of_expiry(shelf: NamedShelf, state: LotInStock, on: date, reader: Reader) -> Iterator[Finding]:
    left = reader.said(state.amount)
    if state.expires_on is None:
        if state.shelf.lot is not None:
            yield Finding(
                "stock_expiry_unknown",
                f"{shelf.name}: nobody copied when it expires. Copy it from the container.",
            )
    elif state.is_expired(on):
        yield Finding(
            "stock_expired",
            f"{shelf.name}: expired on {day_said(state.expires_on)}, and {left} is left. It is "
            "not offered for loading. Dispose of it as its label and your state say.",
        )
    elif state.expires_on - on <= SOON:
        yield Finding(
            "stock_expires_soon",
            f"{shelf.name}: expires on {day_said(state.expires_on)}, and {left} is left. "
            "Use it first.",
        )
